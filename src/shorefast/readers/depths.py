"""What a depth file gave, and what a person said of it that it does not say itself."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame, Soundings, legs_of
from shorefast.errors import BadInput
from shorefast.readers.node_grid import NodeGrid

Floats = NDArray[np.float64]

DEEPEST_M = 11_500.0


@dataclass(frozen=True)
class Told:
    """What the person said of a file; None where nothing was said.

    Attributes
    ----------
    depth : "down", "up" or None
        Which way the file's numbers count.
    crs : str or None
        Its coordinates ("EPSG:32629").
    datum : str or None
        The level its depths count from.
    no_data : float or None
        The number that stands for no depth.
    datum_offset_m : float
        How far the file's datum lies above the bay's chart datum. [m]
    deviation_m : float or None
        Standard deviation of one depth. [m]
    """

    depth: str | None = None
    crs: str | None = None
    datum: str | None = None
    no_data: float | None = None
    datum_offset_m: float = 0.0
    deviation_m: float | None = None

    def __post_init__(self) -> None:
        if self.depth not in (None, "down", "up"):
            raise BadInput(
                "Depth", f"'{self.depth}'", "down or up wanted", "Say which way depths count."
            )


@dataclass(frozen=True)
class Tally:
    """What was left out and why, with the first place of each kind."""

    counts: Counter[str] = field(default_factory=Counter)
    first: dict[str, str] = field(default_factory=dict)

    def add(self, why: str, where: str, count: int = 1) -> None:
        """Count some more of one kind."""
        if count:
            self.counts[why] += count
            self.first.setdefault(why, where)

    def rows(self) -> tuple[tuple[str, int], ...]:
        """Each reason with its count, in the order they were met."""
        return tuple(self.counts.items())


@dataclass(frozen=True)
class DepthsRead:
    """The depths of one file, as levels up from chart datum on WGS 84. [deg, m]

    Attributes
    ----------
    kind : str
        What the file is, in words.
    lat_deg, lon_deg, level_m, deviation_m : arrays, shape (sounding,)
        Deviation NaN where nobody told.
    left_out : tuple of (why, count)
    crs, datum : str or None
    grid : NodeGrid or None
        The nodes as a grid, where the file is one.
    notes : tuple of str
        What was noticed.
    sailed : bool
        Whether they are in the order a boat sounded them.
    """

    name: str
    kind: str
    lat_deg: Floats
    lon_deg: Floats
    level_m: Floats
    deviation_m: Floats
    left_out: tuple[tuple[str, int], ...]
    crs: str | None
    datum: str | None
    grid: NodeGrid | None = None
    notes: tuple[str, ...] = ()
    sailed: bool = False

    @cached_property
    def spacing_m(self) -> float:
        """From one depth to the next: between a grid's nodes, else the middle one. [m]"""
        if self.grid is not None:
            return self.grid.spacing_m
        return typical_spacing_m(self.lat_deg, self.lon_deg)

    def in_frame(self, frame: Frame) -> Soundings:
        """The same in a bay's plane. [m]"""
        east, north = frame.to_plane(self.lat_deg, self.lon_deg)
        if not self.sailed:
            return Soundings(east, north, self.level_m, self.deviation_m)
        legs = legs_of(east, north)
        return Soundings(east, north, self.level_m, self.deviation_m, legs)


def east_of_greenwich(lon_deg: Floats) -> Floats:
    """Longitudes between -180 and 180, whatever way round they were counted. [deg]"""
    return np.asarray((lon_deg + 180.0) % 360.0 - 180.0)


def ask_which_way(name: str, why: str) -> BadInput:
    """The question to the person where a file does not say which way depths count."""
    return BadInput(
        name,
        f"{why} do not say whether depths count down or up",
        "",
        "Say depth down if 5 means five metres of water, or up if -5 does "
        '(--depth down, or depth = "down" in bay.toml).',
    )


def levels_from(name: str, number_m: Floats, way: str, offset_m: float) -> Floats:
    """Levels up from chart datum, from numbers that count down or up. [m]

    Raises
    ------
    BadInput
        If every one of them would stand dry: then the way is surely wrong.
    """
    level = -number_m if way == "down" else number_m
    if level.size >= 10 and bool(np.all(level > 0.0)):
        other = "up" if way == "down" else "down"
        raise BadInput(
            name,
            f"all {level.size} depths stand above chart datum when counted {way}",
            "so there would be no water at all",
            f"Say depth {other}, if that is how the file counts.",
        )
    return np.asarray(level + offset_m)


def check_places(name: str, lat_deg: Floats, lon_deg: Floats) -> None:
    """Raise BadInput where latitudes are none, with a hint if they changed places."""
    wrong = np.abs(lat_deg) > 90.0
    if not wrong.any():
        return
    first = float(lat_deg[wrong][0])
    swapped = bool(np.all(np.abs(lon_deg) <= 90.0) and np.all(np.abs(lat_deg) <= 360.0))
    out = "Swap latitude and longitude: they have changed places." if swapped else ""
    raise BadInput(
        name,
        f"latitude {first:g}",
        "a latitude lies between -90 and 90",
        out or "Say which coordinates these are (--crs, or crs in bay.toml).",
    )


def typical_spacing_m(lat_deg: Floats, lon_deg: Floats) -> float:
    """Middle distance from one sounding to the next nearest, NaN for fewer than two. [m]"""
    from scipy.spatial import cKDTree

    if lat_deg.size < 2:
        return math.nan
    frame = Frame(float(np.median(lat_deg)), float(np.median(lon_deg)))
    east, north = frame.to_plane(lat_deg, lon_deg)
    places = np.unique(np.column_stack((east, north)), axis=0)
    if len(places) < 2:
        return math.nan
    some = places[np.unique(np.linspace(0, len(places) - 1, 2000).astype(int))]
    apart = cKDTree(places).query(some, k=2)[0][:, 1]
    return float(np.median(apart))
