"""Where to let go: the patch of water from which the lie still is sound."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Assumption, Basis, Finding
from shorefast.bay import NO_ANCHOR
from shorefast.mooring import LEFT
from shorefast.stay.check import in_force
from shorefast.stay.judge import Judged
from shorefast.stay.patch_shape import Ellipse, best_aim, ellipse_about, hit_share, outline_of
from shorefast.stay.plan import LET_GO_ERROR_M, Stay
from shorefast.stay.rigging import lie_of
from shorefast.stay.sounded_out import found_around
from shorefast.stay.tried import Fineness, Tried, Trier

Floats = NDArray[np.float64]
Progress = Callable[[int, int], None]
_MOMENT = timedelta(seconds=1)
_USUAL = 80
# it is looked for as far out as this many times that
_FAR = 4.0
# by how much of a limit a place out of it counts at most, for the line between places
_MOST_PAST = 0.5
_LEAVING = timedelta(hours=1)
# every member, hour by hour
_HOURLY = Fineness(every=6)
_SIDES = (("farther out", 0.0), ("to the right", 0.5), ("nearer in", 1.0), ("to the left", 1.5))
# beyond the outline by this much is asked what is past there [m]
_BEYOND_M = 0.5


@dataclass(frozen=True)
class Side:
    """One side of the patch: how far it reaches from the planned place [m], what ends it.

    way : "farther out", "nearer in", "to the right", "to the left", looking from the
        shore along the way she heads
    ends : the part or room past its limit there, a zone's kind, or that she
        finds no place to lie or it is not known; None where
        the patch goes on beyond where it was looked for
    """

    way: str
    reach_m: float
    ends: str | None


@dataclass(frozen=True)
class WhereToLetGo:
    """The patch of water from which the lie still is sound.

    Attributes
    ----------
    patch : polygon or polygons
        In the bay's plane [m]; empty where not even the planned place is.
    area_m2 : float
    error_m : float
        Standard deviation of where the anchor lands, each way. [m]
    hit_share : float
        Probability that it lands inside, aimed at the planned place.
    ellipse : Ellipse or None
        The largest inside, about the planned place, with an axis along her heading: how
        exactly it must be hit. None where the planned place is outside.
    aim_m, aim_share : (east, north) [m], float
        Where aiming hits the patch most often, and how often.
    sides : tuple of Side
    until_utc : datetime or None
        Up to when the lie has to be sound to count: the stay's end, or an hour after its
        leave by, when she is gone; None where the lie is not sound at all.
    cut : bool
        Whether the patch goes on beyond where it was looked for.
    tried : int
        How many places were tried.
    """

    patch: BaseGeometry
    area_m2: float
    error_m: float
    hit_share: float
    ellipse: Ellipse | None
    aim_m: tuple[float, float]
    aim_share: float
    sides: tuple[Side, ...]
    until_utc: datetime | None
    cut: bool
    tried: int
    basis: Basis


def where_to_let_go(
    stay: Stay, judged: Judged, error_m: float | None = None, progress: Progress | None = None
) -> WhereToLetGo:
    """The patch from which the stay's lie still is sound, all else as planned.

    Chain out, lines and points ashore stay as they are; the anchor alone lies elsewhere.
    A place is sound where at no time up to ``until_utc`` more than the accepted share of
    members is past a limit or unknown, hour by hour, and no zone forbids the anchor.

    Parameters
    ----------
    stay : Stay
        With a lie.
    judged : Judged
        The stay judged.
    error_m : float, optional
        Standard deviation of where the anchor lands, in each direction; else the lie's, else
        ours. [m]
    progress : callable, optional
        Called with how many places are tried and how many there may be.

    Raises
    ------
    BadInput
        As ``judge``.
    """
    until = _until(stay, judged)
    lie = lie_of(stay)
    if error_m is None:
        error_m = LET_GO_ERROR_M if lie.let_go_error_m is None else lie.let_go_error_m
    aim = (lie.let_go_east_m, lie.let_go_north_m)
    if until is None:
        return _nowhere(error_m, aim)
    there = _There(stay, until, _FAR * max(error_m, 1.0), progress)
    found = found_around(there.past, *aim, there.far_m)
    patch = _outside_zones(stay, outline_of(found.east_m, found.north_m, found.value))
    better = best_aim(patch, aim, error_m)
    return WhereToLetGo(
        patch=patch,
        area_m2=float(patch.area),
        error_m=error_m,
        hit_share=hit_share(patch, aim, error_m),
        ellipse=ellipse_about(patch, aim, lie.heading_rad),
        aim_m=better,
        aim_share=hit_share(patch, better, error_m),
        sides=_sides(there, patch),
        until_utc=until,
        cut=found.cut,
        tried=found.asked,
        basis=_basis(error_m, patch, aim),
    )


class _There:
    """The lie with its anchor elsewhere, tried; each place once."""

    def __init__(
        self, stay: Stay, until: datetime, far_m: float, progress: Progress | None
    ) -> None:
        self.stay, self.lie = stay, lie_of(stay)
        self.trier = Trier(stay, _HOURLY)
        last = np.datetime64(until.astimezone(UTC).replace(tzinfo=None), "s")
        self.count = int(np.sum(self.trier.wind.time_utc <= last))
        self.progress, self.asked, self.far_m = progress, 0, far_m

    def tried(self, east_m: float, north_m: float) -> Tried:
        self.asked += 1
        if self.progress is not None:
            self.progress(self.asked, max(_USUAL, self.asked + 1))
        return self.trier.tried(replace(self.lie, let_go_east_m=east_m, let_go_north_m=north_m))

    def past(self, east_m: float, north_m: float) -> float:
        """By how much the limit is passed there, below nothing where it is not."""
        tried = self.tried(east_m, north_m)
        use = np.where(tried.rests.code == LEFT, np.inf, tried.greatest)[:, : self.count]
        worst = _by_member(self.trier.wind.member, np.where(np.isnan(use), np.inf, use))
        may = math.floor(self.stay.accepted_share * len(worst) + 1e-9)
        counts = np.sort(worst, axis=0)[::-1][min(may, len(worst) - 1)]
        return float(min(counts.max(), 1.0 + _MOST_PAST)) - 1.0

    def ends(self, east_m: float, north_m: float) -> str:
        """What is past its limit there, of the most members; else why it is outside."""
        for zone in self.stay.bay.zones:
            shut = zone.kind in NO_ANCHOR and in_force(zone, self.stay)
            if shut and zone.shape.covers(shapely.Point(east_m, north_m)):
                return zone.kind
        tried = self.tried(east_m, north_m)
        use = tried.use[:, :, : self.count]
        often = (np.nan_to_num(use, nan=0.0) > 1.0).mean(axis=1).max(axis=1)
        if often.max() > 0.0:
            return tried.names[int(np.argmax(often))]
        lost = (tried.rests.code[:, : self.count] == LEFT).any()
        return "she finds no place to lie" if lost else "not known"


def _by_member(member: NDArray[np.int64], use: Floats) -> Floats:
    """The worst of the entries of one member, (member, time)."""
    return np.array([use[member == one].max(axis=0) for one in np.unique(member)])


def _until(stay: Stay, judged: Judged) -> datetime | None:
    """Up to when the lie has to be sound; None where it is not to begin with."""
    answer = judged.judgement
    if answer.verdict == "holds":
        return stay.until_utc
    if answer.verdict != "leave by" or answer.leave_by_utc is None:
        return None
    gone = answer.leave_by_utc + _LEAVING
    return gone if answer.past_from_utc is None else min(gone, answer.past_from_utc - _MOMENT)


def _outside_zones(stay: Stay, patch: BaseGeometry) -> BaseGeometry:
    """The patch without the zones that forbid an anchor while she lies here."""
    shut = [
        zone.shape for zone in stay.bay.zones if zone.kind in NO_ANCHOR and in_force(zone, stay)
    ]
    return shapely.difference(patch, shapely.union_all(shut)) if shut else patch


def _sides(there: _There, patch: BaseGeometry) -> tuple[Side, ...]:
    """How far the patch reaches ahead, astern and to either side of the planned place."""
    lie = there.lie
    if not shapely.covers(patch, shapely.Point(lie.let_go_east_m, lie.let_go_north_m)):
        return ()
    found = []
    for way, quarter in _SIDES:
        bearing = lie.heading_rad + quarter * math.pi
        ahead = np.array([math.sin(bearing), math.cos(bearing)])
        here = np.array([lie.let_go_east_m, lie.let_go_north_m])
        ray = shapely.LineString([here, here + 1e3 * ahead])
        reach_m = float(shapely.Point(here).distance(shapely.intersection(ray, patch.boundary)))
        beyond = here + (reach_m + _BEYOND_M) * ahead
        past = np.abs(beyond - here).max() <= there.far_m
        found.append(Side(way, reach_m, there.ends(*beyond.tolist()) if past else None))
    return tuple(found)


def _nowhere(error_m: float, aim: tuple[float, float]) -> WhereToLetGo:
    said = Finding("Where to let go", "the lie is not sound as planned: no patch is told")
    return WhereToLetGo(
        shapely.Polygon(),
        0.0,
        error_m,
        0.0,
        None,
        aim,
        0.0,
        (),
        None,
        False,
        0,
        Basis(findings=(said,)),
    )


def _basis(error_m: float, patch: BaseGeometry, aim: tuple[float, float]) -> Basis:
    said = (
        Assumption(
            f"The anchor lands within {2.0 * error_m:g} m of the place, most times (a standard"
            f" deviation of {error_m:g} m each way)",
            "Let go by eye, without way off or in a current it can be twice as far out",
        ),
        Assumption(
            "Let go elsewhere, she still veers the same chain and lies to the same lines",
            "A metre of chain or line more or less moves the patch about as far",
        ),
    )
    found: tuple[Finding, ...] = ()
    if not shapely.covers(patch, shapely.Point(aim)):
        words = "the planned place lies outside the patch: it is sound by a hair or not at all"
        found = (Finding("Where to let go", words),)
    return Basis(assumptions=said, findings=found)
