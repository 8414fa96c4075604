"""The bay: its frame, depth surface, shore, points to make fast, zones, wind sectors."""

from shorefast.bay.age import grown_old
from shorefast.bay.between_nodes import between_nodes, roughness_m
from shorefast.bay.frame import Frame
from shorefast.bay.fresh import add_soundings
from shorefast.bay.highest import highest_under
from shorefast.bay.kinds import (
    BOTTOMS,
    DANGERS,
    NO_ANCHOR,
    NO_LINES,
    ZONE_KINDS,
    bottom_at,
    in_force,
    zones_at,
)
from shorefast.bay.land import shore_and_land
from shorefast.bay.place import (
    Bay,
    Landmark,
    ShorePoint,
    Soundings,
    WindSector,
    Zone,
    joined,
    legs_of,
)
from shorefast.bay.profile import BedProfile, along_line, bed_profile, distances_m
from shorefast.bay.reduced import (
    Doubts,
    at_moments,
    carried,
    frozen,
    reachable,
    reduced,
    rising,
    slope_along,
    steady,
)
from shorefast.bay.round_about import Coast, FarShore, HighGround
from shorefast.bay.sounded import REACH_M, bed_at, understand
from shorefast.bay.sounded_bed import SoundedBed
from shorefast.bay.surface import (
    Bounds,
    DepthSurface,
    SurfaceGrid,
    coarse_finding,
    fit_surface,
    level_here,
)

__all__ = [
    "BOTTOMS",
    "DANGERS",
    "NO_ANCHOR",
    "NO_LINES",
    "REACH_M",
    "ZONE_KINDS",
    "Bay",
    "BedProfile",
    "Bounds",
    "Coast",
    "DepthSurface",
    "Doubts",
    "FarShore",
    "Frame",
    "HighGround",
    "Landmark",
    "ShorePoint",
    "SoundedBed",
    "Soundings",
    "SurfaceGrid",
    "WindSector",
    "Zone",
    "add_soundings",
    "along_line",
    "at_moments",
    "bed_at",
    "bed_profile",
    "between_nodes",
    "bottom_at",
    "carried",
    "coarse_finding",
    "distances_m",
    "fit_surface",
    "frozen",
    "grown_old",
    "highest_under",
    "in_force",
    "joined",
    "legs_of",
    "level_here",
    "reachable",
    "reduced",
    "rising",
    "roughness_m",
    "shore_and_land",
    "slope_along",
    "steady",
    "understand",
    "zones_at",
]
