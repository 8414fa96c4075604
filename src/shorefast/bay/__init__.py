"""The bay: its frame, depth surface, shore, points to make fast, zones, wind sectors."""

from shorefast.bay.between_nodes import between_nodes, roughness_m
from shorefast.bay.frame import Frame
from shorefast.bay.kinds import (
    BOTTOMS,
    NO_ANCHOR,
    NO_LINES,
    ZONE_KINDS,
    bottom_at,
    in_force,
    zones_at,
)
from shorefast.bay.land import shore_and_land
from shorefast.bay.place import Bay, ShorePoint, Soundings, WindSector, Zone
from shorefast.bay.profile import BedProfile, bed_profile
from shorefast.bay.surface import Bounds, DepthSurface, SurfaceGrid, fit_surface, level_here

__all__ = [
    "BOTTOMS",
    "NO_ANCHOR",
    "NO_LINES",
    "ZONE_KINDS",
    "Bay",
    "BedProfile",
    "Bounds",
    "DepthSurface",
    "Frame",
    "ShorePoint",
    "Soundings",
    "SurfaceGrid",
    "WindSector",
    "Zone",
    "bed_profile",
    "between_nodes",
    "bottom_at",
    "fit_surface",
    "in_force",
    "level_here",
    "roughness_m",
    "shore_and_land",
    "zones_at",
]
