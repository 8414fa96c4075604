"""The bed her chain scours over the stay, lying to lines and, beside it, swinging free."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Assumption, Basis
from shorefast.bay import BOTTOMS, Bay
from shorefast.mooring import L_BEARING, L_DISTANCE, L_PULL, Rests, rests
from shorefast.stay.ground_swept_free import SCOPE, Swinging, aground_share, in_sight, swinging
from shorefast.stay.ground_swept_lying import touches_m
from shorefast.stay.ground_swept_shape import ground_of_path
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import lie_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
LINK_WIDTHS = 3.5
"""Width of a chain on the bed in diameters of its wire: common practice, no source."""
NOBODY_KNOWS = "unknown"


@dataclass(frozen=True)
class Scoured:
    """The bed under a chain over the stay, member by member.

    Attributes
    ----------
    area_m2 : array, shape (member, kind)
        By kind of bottom, in the order told beside.
    shapes : tuple of polygons
        Each member's ground.
    """

    area_m2: Floats
    shapes: tuple[BaseGeometry, ...]

    @property
    def total_m2(self) -> Floats:
        """Of all kinds together, (member,)."""
        return np.asarray(self.area_m2.sum(axis=1))


@dataclass(frozen=True)
class GroundSwept:
    """The ground her chain sweeps, lying to lines and swinging free to the same anchor.

    Attributes
    ----------
    member : array, shape (member,)
    kinds : tuple of str
        Kinds of bottom met, the bay's own included; "unknown" where nobody told one.
    lying : Scoured
        To her lines.
    swinging : Scoured or None
        Free, with ``chain_m`` out; None where the bed at her anchor is unknown.
    chain_m, aboard_m : float
        What swinging asks for, and the rode aboard. [m]
    aground_share : float
        Share of the states in which she would have no water swinging.
    lost : int
        States without a rest, of which nothing is swept; where none has one all areas
        are NaN.
    to_lines : bool
        Whether the lie has lines ashore at all.
    lost_swinging : int
        States of which nothing is known swinging.
    """

    member: Ints
    kinds: tuple[str, ...]
    lying: Scoured
    swinging: Scoured | None
    chain_m: float
    aboard_m: float
    aground_share: float
    lost: int
    basis: Basis
    to_lines: bool = True
    lost_swinging: int = 0


def bottoms_of(bay: Bay, within: BaseGeometry) -> dict[str, BaseGeometry]:
    """The bay's kinds of bottom inside a shape: the smallest zone over a place counts."""
    zones = sorted(
        (zone for zone in bay.zones if zone.kind in BOTTOMS), key=lambda zone: zone.shape.area
    )
    left, found = within, dict[str, BaseGeometry]()
    for zone in zones:
        part = shapely.intersection(left, zone.shape)
        if not part.is_empty:
            found[zone.kind] = shapely.union(found.get(zone.kind, shapely.Polygon()), part)
            left = shapely.difference(left, part)
    own = bay.bottom or NOBODY_KNOWS
    found[own] = shapely.union(found.get(own, shapely.Polygon()), left)
    return found


def _lies_m(stay: Stay, judged: Judged, line: Floats) -> tuple[Floats, Floats]:
    """Bearing from the anchor and how far the chain touches, level: arrays of the states."""
    toward = np.mod(line[..., L_BEARING] + math.pi, 2.0 * math.pi)
    level_m = judged.judgement.water_level_m
    reach_m = touches_m(stay, judged.rigged.rode, level_m, toward, line[..., L_PULL])
    # chain that hangs slack lies in a heap under her bow and no farther
    return toward, np.minimum(reach_m, line[..., L_DISTANCE])


def _rows(lull: Floats, gust: Floats) -> Floats:
    """One member's states in rows, NaN between: what follows what on her way.

    Every entry's mean wind hour by hour, its gusts hour by hour, and at every time from
    one to the other through all entries: within an hour she lies as in each of them.

    lull, gust : arrays (entry, time)
    """
    both = np.stack([lull, gust], axis=1).reshape(-1, lull.shape[1])
    ends = np.full((both.shape[0], 1), math.nan)
    across = np.vstack([both, np.full((1, both.shape[1]), math.nan)])
    return np.concatenate([np.hstack([both, ends]).ravel(), across.T.ravel()])


def _scoured(
    stay: Stay, member: Ints, lull: tuple[Floats, Floats], gust: tuple[Floats, Floats],
    within: BaseGeometry | None,
) -> tuple[BaseGeometry, ...]:  # fmt: skip
    """Each member's ground, from (bearing, reach) in the mean wind and in the gust."""
    lie = lie_of(stay)
    anchor = (lie.let_go_east_m, lie.let_go_north_m)
    width_m = LINK_WIDTHS * stay.boat.rode[0].diameter_m
    shapes = []
    for number in np.unique(member):
        at = member == number
        path = [_rows(mean[at], hard[at]) for mean, hard in zip(lull, gust, strict=True)]
        ground = ground_of_path(anchor, path[0], path[1], width_m)
        shapes.append(ground if within is None else shapely.intersection(ground, within))
    return tuple(shapes)


def _by_kind(shapes: tuple[BaseGeometry, ...], bottoms: dict[str, BaseGeometry]) -> Scoured:
    rows = [
        [float(shapely.intersection(shape, bottom).area) for bottom in bottoms.values()]
        for shape in shapes
    ]
    return Scoured(np.array(rows), shapes)


def _solved(judged: Judged, wind_mps: Floats) -> Rests:
    answer, ready = judged.judgement, judged.ready
    return rests(
        ready, answer.water_level_m, wind_mps * judged.rigged.height_share,
        answer.wind_from_rad, ready.all_set, judged.extra,
    )  # fmt: skip


def ground_swept(stay: Stay, judged: Judged) -> GroundSwept:
    """The bed her chain scours over the stay, by kind of bottom.

    At every time of the stay she lies as in the gust and as in the mean wind between two
    gusts; the chain lies straight from the anchor as far as the real bed lets it, and
    passes over all that is between one rest and the next. Beside it the same forecast
    with no lines, swinging free to the same anchor.

    Returns
    -------
    GroundSwept
        A member's ground is one answer: mean and range over the members are the doubt.
    """
    answer = judged.judgement
    numbers = np.unique(answer.member)
    hard, mean = _solved(judged, answer.gust_mps), _solved(judged, answer.wind_mps)
    gust, lull = (_lies_m(stay, judged, found.line[..., 0, :]) for found in (hard, mean))
    lying = _scoured(stay, answer.member, lull, gust, None)
    free, free_shapes, free_lost = _free(stay, judged)
    bottoms = bottoms_of(stay.bay, shapely.union_all([*lying, *free_shapes]).buffer(1.0))
    lost = int(np.isnan(hard.q[..., 0]).sum() + np.isnan(mean.q[..., 0]).sum())
    met = _by_kind(lying, bottoms)
    if lost == hard.code.size + mean.code.size:
        met = Scoured(np.full_like(met.area_m2, math.nan), lying)
    around = _by_kind(free_shapes, bottoms) if free is not None else None
    keep = np.asarray(~(met.area_m2 <= 0.0).all(axis=0))
    if around is not None:
        keep = keep | ~(around.area_m2 <= 0.0).all(axis=0)
    return GroundSwept(
        numbers, tuple(kind for kind, kept in zip(bottoms, keep, strict=True) if kept),
        Scoured(met.area_m2[:, keep], lying),
        None if around is None else Scoured(around.area_m2[:, keep], free_shapes),
        math.nan if free is None else free.chain_m, stay.boat.rode_aboard_m,
        math.nan if free is None else aground_share(stay, free, answer.water_level_m),
        lost, _basis(stay), bool(lie_of(stay).lines), free_lost,
    )  # fmt: skip


def _free(stay: Stay, judged: Judged) -> tuple[Swinging | None, tuple[BaseGeometry, ...], int]:
    """Her chain swinging free, each member's ground as far as the land, and states lost."""
    answer, share = judged.judgement, judged.rigged.height_share
    winds = (share * answer.gust_mps, share * answer.wind_mps)
    found = swinging(stay, judged.rigged, answer.water_level_m, winds, answer.wind_from_rad)
    if not found:
        return None, (), 0
    hard, mean = found
    lull, gust = ((one.bearing_rad, one.lies_m) for one in (mean, hard))
    within = in_sight(stay, hard.chain_m)
    lost = int(np.isnan(hard.lies_m).sum() + np.isnan(mean.lies_m).sum())
    return hard, _scoured(stay, answer.member, lull, gust, within), lost


def _basis(stay: Stay) -> Basis:
    wide_mm = LINK_WIDTHS * stay.boat.rode[0].diameter_m * 1e3
    return Basis(
        assumptions=(
            Assumption(
                "Chain lies straight from the anchor to its last touch of the bed, hollows that it"
                " hangs over included, and turns about the anchor as she swings",
                "It drags in a bow behind her, so that near the anchor less is swept; in a light"
                " wind it does not follow at all",
            ),
            Assumption(
                "At every time she lies once as in the mean wind and once as in the gust",
                "In a lull below the mean more chain comes down",
            ),
            Assumption(
                f"The chain is {wide_mm:.0f} mm wide on the bed, {LINK_WIDTHS:g} times its wire"
                " (common practice, no source)",
                "It matters only where she does not swing",
            ),
            Assumption(
                f"Swinging free she would have {SCOPE:g} times the depth from the roller at the"
                " highest water out (common practice, no source), lie down wind of the anchor and"
                " follow every turn of the wind the short way; no sheering, no current, no waves",
                "With less chain she sweeps less, and holds less; sheering sweeps more",
            ),
        )
    )
