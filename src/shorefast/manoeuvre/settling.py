"""Settling after the proof: what each line is taken in, and how far off she lies at each tide."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import UTC, datetime

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.proof_steps import Place, pulling
from shorefast.manoeuvre.proving import Proving
from shorefast.mooring import (
    AIR_KGPM3,
    Load,
    Rest,
    ShoreLine,
    ShoreLineForm,
    solve_rest,
)
from shorefast.stay import SMALL_PULL_N, Judged, Stay
from shorefast.weather import high_and_low, level_at

Floats = NDArray[np.float64]

HAND_N = 200.0
"""What one hand holds a line with while the other makes it fast, 15 to 25 kg: common practice."""
OFF_BY_M = 0.5
"""A line is cut to its length no better than this (our choice)."""
_FAR_M, _HALVINGS = 8.0, 9
_CALM = Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)


@dataclass(frozen=True)
class Pretension:
    """One line ashore as it is to be left, in a calm at the water of settling.

    Attributes
    ----------
    pull_n : float
        Of each part, at the cleat; 0 where it hangs slack. [N]
    take_in_m : float
        To be taken in, of each part, once it is hauled in as far as one hand hauls, the
        other lines as planned; below 0: to be eased again. NaN where it never comes so
        hard, or nobody knows. [m]
    sag_m : float
        In the middle below the straight line between its ends; NaN where it hangs slack
        or lies on the water. [m]
    pull_off_n : float
        The pull with half a metre more taken in. [N]
    by_hand : bool
        Whether one hand does it.
    slack_astern_m : float
        What of each part hangs slack while the engine pulls her astern as at the last step
        of the proof; below 0: it comes taut before that. [m]
    """

    name: str
    pull_n: float
    take_in_m: float
    sag_m: float
    pull_off_n: float
    by_hand: bool
    slack_astern_m: float


@dataclass(frozen=True)
class OffAt:
    """Her stern off the high-water line at a time; below 0 behind it, NaN unknown. [m]

    Attributes
    ----------
    tide : str
        "high", "low", or "" at a full hour between.
    off_engine_m : float
        The engine astern as at the last step of the proof, no line fast, in a calm.
    off_rest_m, off_least_m : float
        At rest in that hour's wind: the middle of all members, and the least.
    off_calm_m : float
        At rest in a calm.
    """

    at_utc: datetime
    water_level_m: float
    off_engine_m: float
    off_rest_m: float
    off_least_m: float
    off_calm_m: float
    tide: str


@dataclass(frozen=True)
class Settling:
    """Lines and distances off, once she is proved; in the order of the lie's lines."""

    lines: tuple[Pretension, ...]
    at: tuple[OffAt, ...]
    basis: Basis


def settling(stay: Stay, judged: Judged, proved: Proving) -> Settling:
    """How to leave each line, and how far off she then lies at each tide.

    Parameters
    ----------
    stay : Stay
        With a lie.
    judged : Judged
        The same stay.
    proved : Proving
        Its proof.
    """
    level_m = proved.water_level_m
    basis = judged.judgement.basis | _basis()
    if not math.isfinite(level_m):
        return Settling((), (), basis)
    her = _Lying(judged, level_m)
    calm, numbers = her.calm(), range(1, len(judged.rigged.scene.lines))
    pull_n = proved.steps[-1].pull_n if proved.steps else math.nan
    astern = pulling(stay, judged.rigged, level_m, 0.0).at(pull_n).q
    lines = tuple(_pretension(her, number, calm, astern) for number in numbers)
    return Settling(lines, _off_at(stay, judged, pull_n), basis)


@dataclass(frozen=True)
class _Lying:
    """Her lying in a calm at a water level, to lines of any length."""

    judged: Judged
    level_m: float

    def calm(self, number: int = 0, by_m: float = 0.0) -> Rest | None:
        """Where she lies with line ``number`` eased by so much; None where nobody knows. [m]"""
        rigged = self.judged.rigged
        lines = list(rigged.scene.lines)
        if number:
            lines[number] = replace(self.line(number), length_m=self.line(number).length_m + by_m)
        at = (float(rigged.start[0]), float(rigged.start[1]), float(rigged.start[2]))
        scene = replace(rigged.scene, lines=tuple(lines))
        found = solve_rest(scene, _CALM, self.level_m, at, arm_m=rigged.arm_m)
        return found if found.why == "found" else None

    def line(self, number: int) -> ShoreLine:
        """A line ashore, 1 the first."""
        line = self.judged.rigged.scene.lines[number]
        assert isinstance(line, ShoreLine)
        return line

    def pull_n(self, number: int, by_m: float) -> float:
        """The pull of each of its parts, eased by so much; NaN where nobody knows. [N]"""
        rest = self.calm(number, by_m)
        form = None if rest is None else rest.lines[number]
        parts = self.judged.rigged.legs[number - 1].parts
        return form.cleat_tension_n / parts if isinstance(form, ShoreLineForm) else math.nan

    def hauled_m(self, number: int) -> float:
        """How much longer than planned it is when hauled in by one hand; NaN unknown. [m]"""
        low, high = -_FAR_M, _FAR_M
        if not self.pull_n(number, low) > SMALL_PULL_N > self.pull_n(number, high):
            return math.nan
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            if self.pull_n(number, middle) > SMALL_PULL_N:
                low = middle
            else:
                high = middle
        return 0.5 * (low + high)


def _pretension(her: _Lying, number: int, calm: Rest | None, astern: Place) -> Pretension:
    line, nan = her.line(number), math.nan
    slack_m = line.length_m - _straight_m(line, astern, her.level_m)
    form = None if calm is None else calm.lines[number]
    if not isinstance(form, ShoreLineForm):
        return Pretension(line.name, nan, nan, nan, nan, False, slack_m)
    pull_n = form.cleat_tension_n / her.judged.rigged.legs[number - 1].parts
    return Pretension(
        line.name, pull_n, her.hauled_m(number), _sag_of(line, form, her.level_m),
        her.pull_n(number, -OFF_BY_M), pull_n <= HAND_N, slack_m,
    )  # fmt: skip


def _straight_m(line: ShoreLine, at: Place, level_m: float) -> float:
    """Cleat to point in a straight line. [m]"""
    east_m, north_m, heading = at
    sine, cosine = math.sin(heading), math.cos(heading)
    return math.dist(
        (
            east_m + line.x_m * sine + line.y_m * cosine,
            north_m + line.x_m * cosine - line.y_m * sine,
            line.z_m,
        ),
        (line.east_m, line.north_m, max(0.0, line.level_m - level_m)),
    )


def sag_m(pull_n: float, weight_npm: float, across_m: float, rise_m: float) -> float:
    """How far the middle of a hanging line lies below the straight line between its ends. [m]

    Stretch is left out: the pull is the one it has when stretched.

    Parameters
    ----------
    pull_n, weight_npm : float
        Level pull, weight of a metre in air. [N, N/m]
    across_m, rise_m : float
        From end to end, level and upright. [m]

    Source
    ------
    irvine-1981, ch. 1 (from memory): y = a cosh(x / a), a = H / w.
    """
    a_m, half_m = pull_n / weight_npm, 0.5 * across_m
    lowest = math.asinh(rise_m / (2.0 * a_m * math.sinh(half_m / a_m)))
    return a_m * math.cosh(lowest) * (math.cosh(half_m / a_m) - 1.0)


def _sag_of(line: ShoreLine, form: ShoreLineForm, level_m: float) -> float:
    """The same of a line that hangs free; NaN of one that is slack or on the water. [m]"""
    if form.slack or form.on_water_m > 0.0 or form.in_water_m > 0.0:
        return math.nan
    rise_m = max(0.0, line.level_m - level_m) - line.z_m
    return sag_m(form.pull_n, line.weight_npm, form.distance_m, rise_m)


def _off_at(stay: Stay, judged: Judged, pull_n: float) -> tuple[OffAt, ...]:
    """Every full hour and every high and low water of the stay."""
    found = judged.judgement
    told = dict.fromkeys(_full_hours(found.time_utc), "") | _tides(stay, found.time_utc)
    return tuple(_one_off(stay, judged, time, pull_n, told[time]) for time in sorted(told))


def _full_hours(times: NDArray[np.datetime64]) -> list[np.datetime64]:
    hours = times.astype("datetime64[h]").astype("datetime64[s]")
    return list(times[times == hours]) or [times[0]]


def _tides(stay: Stay, times: NDArray[np.datetime64]) -> dict[np.datetime64, str]:
    """High and low waters within the stay; none where the water stands."""
    water = stay.water
    if not water.turning:
        if water.height_m.size < 3 or float(np.ptp(water.height_m)) == 0.0:
            return {}
        water = high_and_low(water)
    kinds: dict[np.datetime64, str] = {}
    for k, time in enumerate(water.time_utc):
        beside = [water.height_m[j] for j in (k - 1, k + 1) if 0 <= j < water.height_m.size]
        if times[0] <= time <= times[-1] and beside:
            kinds[time] = "high" if water.height_m[k] > beside[0] else "low"
    return kinds


def _one_off(stay: Stay, judged: Judged, time: np.datetime64, pull_n: float, tide: str) -> OffAt:
    found = judged.judgement
    index = int(np.argmin(np.abs((found.time_utc - time).astype(np.int64))))
    level_m = float(level_at(stay.water, np.array([time]))[0])
    her = pulling(stay, judged.rigged, level_m, 0.0)
    rest = found.rest
    q = np.stack([rest.east_m[:, index], rest.north_m[:, index], rest.heading_rad[:, index]], -1)
    off_m = _sterns_off_m(stay, q)
    calm = _Lying(judged, level_m).calm() if math.isfinite(level_m) else None
    at_calm = math.nan if calm is None else her.off_m((calm.east_m, calm.north_m, calm.heading_rad))
    known = off_m[np.isfinite(off_m)]
    middle_m, least_m = (float(np.median(known)), float(known.min())) if known.size else (
        math.nan, math.nan)  # fmt: skip
    return OffAt(
        _moment(time), level_m, her.off_m(her.at(pull_n).q), middle_m, least_m, at_calm, tide
    )


def _sterns_off_m(stay: Stay, q: Floats) -> Floats:
    """Her stern off the high-water line at every pose (pose, 3). [m]"""
    bay, half_m = stay.bay, 0.5 * stay.boat.hull.length_m
    if bay.shore is None:
        return np.full(q.shape[0], math.nan)
    known: NDArray[np.bool_] = np.asarray(np.isfinite(q).all(axis=-1))
    east, north, heading = np.where(known[:, None], q, 0.0).T
    stern = shapely.points(east - half_m * np.sin(heading), north - half_m * np.cos(heading))
    far_m = shapely.distance(stern, bay.shore)
    inland = np.zeros(far_m.shape, bool) if bay.land is None else shapely.contains(bay.land, stern)
    return np.asarray(np.where(known, np.where(inland, -far_m, far_m), math.nan))


def _moment(time: np.datetime64) -> datetime:
    return datetime.fromtimestamp(int(time.astype("datetime64[s]").astype(np.int64)), UTC)


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                f"One hand holds a line at {HAND_N / 9.80665:.0f} kg or less while it is made fast"
                " (15 to 25 kg, common practice, no source)",
                "More is a winch's work, and tighter than she needs in a calm",
            ),
            Assumption(
                f"One hand hauls a slack line in until it pulls {SMALL_PULL_N / 9.80665:.0f} kg"
                " (our choice)",
                "A weaker or stronger arm begins to count a little earlier or later",
            ),
            Assumption(
                "Lines are settled in a calm at the water of the stay's first hour, to the lengths"
                " of the lie",
                "With wind on her the lee lines hang and the weather lines pull more: go by the"
                " lengths, not by the feel",
            ),
        ),
        sources=("irvine-1981",),
    )
