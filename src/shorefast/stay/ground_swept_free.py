"""Swinging free to the same anchor: how much chain that asks for, and where it would lie."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.bay import bed_profile
from shorefast.mooring import AIR_KGPM3, BedLine, RodeLine, rode_at_pull, wind_force
from shorefast.stay.lines_out import Ropes, rode_segments, tail_set
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged, lie_of

Floats = NDArray[np.float64]
SCOPE = 4.0
"""Chain over depth from the roller where she swings to it: common practice, no source."""
_BEARINGS, _PULLS, _RAYS = 36, 13, 720
_LEAST_N = 10.0
_UNDER_M = 0.3


@dataclass(frozen=True)
class Swinging:
    """Her chain if she swung free, arrays (entry, time).

    Attributes
    ----------
    chain_m : float
        What the scope asks for at the highest water. [m]
    bearing_rad, lies_m, bow_m : arrays
        Which way the chain leads from the anchor, how far it lies on the bed, and how far
        off her bow is, level. NaN where wind or water is unknown. [rad, m]
    """

    chain_m: float
    bearing_rad: Floats
    lies_m: Floats
    bow_m: Floats


@dataclass(frozen=True)
class _Rode:
    """How the chain lies, arrays (level, bearing, pull): on the bed to, her bow at. [m]"""

    level_m: Floats
    log_pull: Floats
    lies_m: Floats
    bow_m: Floats


def scope_chain_m(stay: Stay, rigged: Rigged, highest_m: float) -> float:
    """Chain that swinging asks for at the anchor's depth, at the highest water. [m]"""
    lie = lie_of(stay)
    bed_m = float(stay.bay.surface.level_at(lie.let_go_east_m, lie.let_go_north_m))
    return SCOPE * (highest_m - bed_m + rigged.rode.z_m)


def _swung_to(stay: Stay, rigged: Rigged, chain_m: float) -> RodeLine:
    """The rode with so much out, piece by piece as it is aboard; more than that of its inmost."""
    boat = stay.boat
    out_m = min(chain_m, boat.rode_aboard_m)
    tail = tail_set(boat, out_m, Ropes())
    rode = replace(
        rigged.rode,
        segments=rode_segments(boat, out_m),
        tail_m=tail.length_m if tail is not None else 0.0,
    )
    return rode.veered(chain_m - out_m) if chain_m > out_m else rode


def bed_toward(stay: Stay, bearing_rad: float, length_m: float, dry_m: float) -> BedLine | None:
    """The bed from the anchor, never above the lowest water: ashore she would not be.

    None where the bed at the anchor is unknown; ``dry_m`` is infinite to keep it as it is.
    """
    lie = lie_of(stay)
    cut = bed_profile(
        stay.bay.surface, lie.let_go_east_m, lie.let_go_north_m, bearing_rad, length_m, 2.0
    )
    level = np.minimum(cut.level_m, dry_m - _UNDER_M)
    if not np.isfinite(level[0]):
        return None
    at = np.maximum.accumulate(np.where(np.isfinite(level), np.arange(level.size), 0))
    # where nobody has sounded, and past the end, it goes on level
    along_m = np.append(cut.distance_m, cut.distance_m[-1] + 1.0)
    return BedLine(along_m, np.append(level[at], level[at][-1]))


def _laid(stay: Stay, rode: RodeLine, ends_m: tuple[float, float], most_n: float) -> _Rode:
    """The rode by water level, bearing and pull."""
    length_m = float(np.sum(rode.segments.length_m))
    pulls = np.geomspace(_LEAST_N, max(2.0 * _LEAST_N, most_n), _PULLS)
    found = np.full((2, len(ends_m), _BEARINGS, _PULLS), math.nan)
    for b, bearing in enumerate(np.arange(_BEARINGS) * (2.0 * math.pi / _BEARINGS)):
        bed = bed_toward(stay, float(bearing), length_m, ends_m[0])
        if bed is None:
            continue
        for k, level_m in enumerate(ends_m):
            for p, pull in enumerate(pulls.tolist()):
                form = rode_at_pull(rode.segments, bed, rode.friction, level_m + rode.z_m, pull)
                # a chain that cannot lie still on a steep bed leads straight to the bow
                lies_m = form.touchdown_m if form.on_bottom_m > 0.0 else 0.0
                found[:, k, b, p] = lies_m, form.distance_m
    return _Rode(np.array(ends_m), np.log(pulls), found[0], found[1])


State = tuple[Floats, Floats, Floats]


def _read(rode: _Rode, table: Floats, state: State) -> Floats:
    """A table read straight between its rows, round the compass; arrays of the states.

    state : water level [m], bearing from the anchor [rad], pull [N]
    """
    level_m, bearing_rad, pull_n = state
    share = bearing_rad / (2.0 * math.pi / _BEARINGS)
    b0 = np.floor(share).astype(np.int64) % _BEARINGS
    tb = share - np.floor(share)
    log = np.log(np.maximum(pull_n, math.exp(rode.log_pull[0])))
    at = (log - rode.log_pull[0]) / (rode.log_pull[1] - rode.log_pull[0])
    p0 = np.clip(np.floor(at).astype(np.int64), 0, _PULLS - 2)
    tp = np.clip(at - p0, 0.0, 1.0)
    rise_m = max(float(rode.level_m[1] - rode.level_m[0]), 1e-9)
    tl = np.clip((level_m - rode.level_m[0]) / rise_m, 0.0, 1.0)
    total = np.zeros(level_m.shape)
    for k, wk in ((0, 1.0 - tl), (1, tl)):
        for b, wb in ((b0, 1.0 - tb), ((b0 + 1) % _BEARINGS, tb)):
            for p, wp in ((p0, 1.0 - tp), (p0 + 1, tp)):
                total += wk * wb * wp * table[k, b, p]
    return total


def swinging(
    stay: Stay, rigged: Rigged, level_m: Floats, winds_mps: tuple[Floats, ...], from_rad: Floats
) -> tuple[Swinging, ...]:
    """Where her chain would lie if she swung free, for each wind; none where nobody knows.

    She lies down wind of her anchor, head to it, with the pull of the wind on her from
    ahead; the chain as the real bed along that bearing lets it lie. Sheering about, the
    current and waves are left out.

    Parameters
    ----------
    level_m, from_rad : arrays (entry, time)
        Water; where the wind blows from.
    winds_mps : arrays (entry, time)
        Winds at the height of her windage.
    """
    known, most_mps = level_m[np.isfinite(level_m)], max(map(_most, winds_mps))
    if not known.size or not math.isfinite(most_mps):
        return ()
    ends_m = (float(known.min()), float(known.max()))
    chain_m = scope_chain_m(stay, rigged, ends_m[1])
    if not math.isfinite(chain_m):
        return ()
    rode = _swung_to(stay, rigged, chain_m)
    one_n = abs(wind_force(rigged.form, 1.0, 0.0, AIR_KGPM3)[0])
    laid = _laid(stay, rode, ends_m, one_n * most_mps**2)
    toward = np.mod(from_rad + math.pi, 2.0 * math.pi)
    return tuple(
        _lying(laid, chain_m, (level_m, toward, one_n * wind_mps**2)) for wind_mps in winds_mps
    )


def _most(values: Floats) -> float:
    known = values[np.isfinite(values)]
    return float(known.max()) if known.size else math.nan


def _lying(laid: _Rode, chain_m: float, state: State) -> Swinging:
    """One wind's states, NaN where something of them is unknown."""
    known = np.isfinite(state[0] + state[1] + state[2])
    at = tuple(np.nan_to_num(values) for values in state)
    lies_m, bow_m = (
        np.where(known, _read(laid, table, (at[0], at[1], at[2])), math.nan)
        for table in (laid.lies_m, laid.bow_m)
    )
    return Swinging(chain_m, state[1], lies_m, bow_m)


def aground_share(stay: Stay, free: Swinging, level_m: Floats) -> float:
    """Share of the states in which bow or stern would lie where she has no water.

    Of the states in which the bed under her is known, or she is over land; NaN where in none.
    """
    lie, hull = lie_of(stay), stay.boat.hull
    dry = np.zeros(free.bow_m.shape, bool)
    known = np.isfinite(free.bow_m)
    for off_m in (free.bow_m, free.bow_m + hull.length_m):
        east = lie.let_go_east_m + off_m * np.sin(free.bearing_rad)
        north = lie.let_go_north_m + off_m * np.cos(free.bearing_rad)
        bed_m = np.asarray(stay.bay.surface.level_at(east, north), float)
        known &= np.isfinite(bed_m)
        dry |= level_m - bed_m < hull.draught_m
        if stay.bay.land is not None:
            shapely.prepare(stay.bay.land)
            dry |= shapely.contains_xy(stay.bay.land, east, north)
    told = known | dry
    return float(dry[told].mean()) if told.any() else math.nan


def in_sight(stay: Stay, chain_m: float) -> BaseGeometry | None:
    """All that chain can reach straight from the anchor without crossing land; None: no land."""
    land, lie = stay.bay.land, lie_of(stay)
    if land is None:
        return None
    bearing = np.arange(_RAYS) * (2.0 * math.pi / _RAYS)
    ahead = np.stack([np.sin(bearing), np.cos(bearing)], axis=-1)
    anchor = np.array([lie.let_go_east_m, lie.let_go_north_m])
    ends = anchor + (chain_m + 1.0) * ahead
    rays = shapely.linestrings(np.stack([np.broadcast_to(anchor, ends.shape), ends], axis=1))
    hits = shapely.intersection(rays, land)
    off_m = shapely.distance(shapely.Point(anchor), hits)
    seen_m = np.where(np.isfinite(off_m), off_m, chain_m + 1.0)
    return shapely.difference(shapely.Polygon(anchor + seen_m[:, None] * ahead), land)
