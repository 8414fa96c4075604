"""Depths at places: from a bay's surface, or from bare files by the same sums."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Finding
from shorefast.bay import (
    REACH_M,
    Bay,
    Frame,
    SoundedBed,
    Soundings,
    bed_at,
    coarse_finding,
    understand,
)
from shorefast.readers import DepthsRead
from shorefast.wording import position

Floats = NDArray[np.float64]

OF_ITS_OWN_SPACING = 3.0
SEVERAL = 3


class Depths(Protocol):
    """Whatever can be asked for the bed at places on earth."""

    def at(self, lat_deg: Floats, lon_deg: Floats) -> tuple[Floats, Floats]:
        """Level up from chart datum and its standard deviation [m]; NaN unknown."""
        ...

    def nearest_m(self, lat_deg: Floats, lon_deg: Floats) -> Floats:
        """How far each place is from the nearest depth. [m]"""
        ...


@dataclass(frozen=True)
class BareFile:
    """The depths of one file, asked without a bay."""

    read: DepthsRead

    @cached_property
    def frame(self) -> Frame:
        """A plane touching the middle of the file."""
        return Frame(float(np.median(self.read.lat_deg)), float(np.median(self.read.lon_deg)))

    @cached_property
    def soundings(self) -> Soundings:
        """The file's depths in that plane."""
        return self.read.in_frame(self.frame)

    @cached_property
    def bed(self) -> SoundedBed:
        """What the soundings tell of the bed between them."""
        return understand(self.soundings)

    @cached_property
    def reach_m(self) -> float:
        """How far from a sounding the file still says something. [m]"""
        spacing = self.read.spacing_m
        return max(REACH_M, OF_ITS_OWN_SPACING * spacing) if spacing == spacing else REACH_M

    def at(self, lat_deg: Floats, lon_deg: Floats) -> tuple[Floats, Floats]:
        """As ``Depths.at``: a grid between its own nodes, soundings by the surface's sums."""
        if self.read.grid is not None:
            return self.read.grid.at(lat_deg, lon_deg)
        if self.read.level_m.size < 3:
            return np.full(lat_deg.shape, np.nan), np.full(lat_deg.shape, np.nan)
        east, north = self.frame.to_plane(lat_deg, lon_deg)
        return bed_at(self.bed, east, north, reach_m=self.reach_m)

    def nearest_m(self, lat_deg: Floats, lon_deg: Floats) -> Floats:
        """As ``Depths.nearest_m``."""
        return _nearest_m(self.soundings, *self.frame.to_plane(lat_deg, lon_deg))


@dataclass(frozen=True)
class WholeBay:
    """A bay, asked for what a judgement of it would use."""

    bay: Bay

    def at(self, lat_deg: Floats, lon_deg: Floats) -> tuple[Floats, Floats]:
        """As ``Depths.at``: the depth surface, and beyond its box the same sums."""
        east, north = self.bay.frame.to_plane(lat_deg, lon_deg)
        surface = self.bay.surface
        level, deviation = surface.level_at(east, north), surface.deviation_at(east, north)
        grid = surface.grid
        rows, columns = grid.level_m.shape
        outside = (east < grid.west_m) | (east > grid.west_m + grid.step_m * (columns - 1))
        outside |= (north < grid.south_m) | (north > grid.south_m + grid.step_m * (rows - 1))
        if outside.any():
            bed = understand(self.bay.soundings)
            level[outside], deviation[outside] = bed_at(
                bed, east[outside], north[outside], land=self.bay.land
            )
        return level, deviation

    def nearest_m(self, lat_deg: Floats, lon_deg: Floats) -> Floats:
        """As ``Depths.nearest_m``."""
        return _nearest_m(self.bay.soundings, *self.bay.frame.to_plane(lat_deg, lon_deg))


def _nearest_m(soundings: Soundings, east_m: Floats, north_m: Floats) -> Floats:
    from scipy.spatial import cKDTree

    tree = cKDTree(np.column_stack((soundings.east_m, soundings.north_m)))
    return np.asarray(tree.query(np.column_stack((east_m, north_m)))[0])


def depths_at(sources: Sequence[Depths], lat_deg: Floats, lon_deg: Floats) -> tuple[Floats, Floats]:
    """Level and deviation at places, each from the source that doubts least there. [m]"""
    level, deviation = np.full(lat_deg.shape, np.nan), np.full(lat_deg.shape, np.nan)
    for source in sources:
        its_level, its_deviation = source.at(lat_deg, lon_deg)
        better = np.isfinite(its_level)
        better &= ~np.isfinite(level) | (its_deviation < deviation)
        level[better], deviation[better] = its_level[better], its_deviation[better]
    return level, deviation


def too_far(
    sources: Sequence[Depths], lat_deg: Floats, lon_deg: Floats, level_m: Floats
) -> tuple[Finding, ...]:
    """Says where the nearest depth is too far off for a berth, or why it is unknown."""
    if not sources or not lat_deg.size:
        return ()
    apart = np.min([source.nearest_m(lat_deg, lon_deg) for source in sources], axis=0)
    far = np.flatnonzero(apart > REACH_M)
    near_unknown = np.flatnonzero((apart <= REACH_M) & ~np.isfinite(level_m))
    if far.size > SEVERAL:
        where = f"{far.size} of {lat_deg.size} places"
        nearest, farthest = math.floor(apart[far].min()), math.ceil(apart[far].max())
        said = f"the nearest depth is {nearest} to {farthest} m away; "
        findings = [Finding(where, f"{said}a berth needs soundings closer than {REACH_M:.0f} m")]
    else:
        findings = [
            coarse_finding(position(float(lat_deg[k]), float(lon_deg[k])), float(apart[k]))
            for k in far
        ]
    if near_unknown.size:
        k = int(near_unknown[0])
        where = position(float(lat_deg[k]), float(lon_deg[k]))
        if near_unknown.size > 1:
            where = f"{near_unknown.size} of {lat_deg.size} places"
        findings.append(Finding(where, "unknown: on land, outside the sounded area or in a hole"))
    return tuple(findings)
