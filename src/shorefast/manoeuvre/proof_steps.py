"""The steps of a proof: revs, pull, and what chain, shore and room are then."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import shapely

from shorefast.boat import AsternPull, RevsCurve, RevsFor
from shorefast.stay import (
    Hanging,
    Rigged,
    Stay,
    equal_wind_mps,
    hanging,
    lie_of,
    out_in_proof_m,
    proof_toward_rad,
    room_of,
)

HOLD_S = 30.0
"""How long a step is held: common practice, no source."""
# slow astern first, then by about the same pull more from step to step
_SHARES = (0.3, 0.5, 0.7, 0.85, 1.0)
_ROUND_RPM = 50.0
# the pull at which a chain just begins to be drawn straight
_JUST_N = 20.0
# of the wind's pull on her along the chain, how far it may be more or less: our choice
WIND_DOUBT = 0.5


@dataclass(frozen=True)
class ProofStep:
    """One step of revs astern, held; NaN where unknown.

    Attributes
    ----------
    revs_rpm, revs_share : float
        Revolutions a minute, and as a share of full revs.
    pull_n, low_n, high_n : float
        Level pull of the engine. [N]
    chain_n : float
        What the chain feels: the engine, and the mean wind of that hour along it. [N]
    wind_ahead_mps, wind_abeam_mps : float
        Steady winds at 10 m of that force on the free boat. [m/s]
    angle_rad, angle_low_rad, angle_high_rad : float
        The chain below the horizontal at the roller, by what it feels; how flat and how
        steep 19 of 20 crews read it. [rad]
    all_lifted : bool
        No chain lies any more: the angle hardly changes from here on.
    hold_s : float
    off_m : float
        Her stern to the high-water line, below 0 behind it. [m]
    reach_m : float
        The roller from the anchor, level. [m]
    astern_m, astern_most_m : float
        How far the chain lets her go astern from the step before as it straightens, and
        the most of it; of the first, from where it just begins to pull. [m]
    shank_n, uplift_rad : float
        What the anchor feels, and how far above the bed. [N, rad]
    water_m, water_under : float, str
        The least water under her, and under what. [m]
    """

    number: int
    revs_rpm: float
    revs_share: float
    pull_n: float
    low_n: float
    high_n: float
    chain_n: float
    wind_ahead_mps: float
    wind_abeam_mps: float
    angle_rad: float
    angle_low_rad: float
    angle_high_rad: float
    all_lifted: bool
    hold_s: float
    off_m: float
    reach_m: float
    astern_m: float
    astern_most_m: float
    shank_n: float
    uplift_rad: float
    water_m: float
    water_under: str


class Rung(NamedTuple):
    """One step's share of full revs, revolutions a minute (NaN unknown), and pull."""

    share: float
    rpm: float
    pull: AsternPull


Place = tuple[float, float, float]
"""East, north [m], heading [rad]."""


class At(NamedTuple):
    """Where she lies at a pull: roller from the anchor; east, north, heading. NaN unknown. [m]"""

    reach_m: float
    q: Place


def ladder(curve: RevsCurve, asked: RevsFor | None) -> list[Rung]:
    """Rising revs up to what is asked, or to all she has.

    Where full revs are known by nobody but there are readings, up to the highest of those.
    """
    if curve.by_readings_only:
        assert curve.own is not None
        most = curve.own.most_rpm
        last = most if asked is None else min(asked.revs_rpm, most)
        rpms = _rounded([share * last for share in _SHARES])
        return [Rung(math.nan, rpm, curve.at_revs(rpm)) for rpm in rpms]
    last = 1.0 if asked is None else min(asked.share, 1.0)
    shares = [share * last for share in _SHARES]
    if curve.full_revs_rpm is None:
        return [Rung(share, math.nan, curve.at_share(share)) for share in shares]
    rpms = _rounded([share * curve.full_revs_rpm for share in shares])
    return [Rung(rpm / curve.full_revs_rpm, rpm, curve.at_revs(rpm)) for rpm in rpms]


def _rounded(rpms: list[float]) -> list[float]:
    """As a rev counter is read; the last as it is."""
    low = [_ROUND_RPM * round(rpm / _ROUND_RPM) for rpm in rpms[:-1]]
    return [*(rpm for rpm in dict.fromkeys(low) if 0.0 < rpm < rpms[-1]), rpms[-1]]


@dataclass(frozen=True)
class Pulling:
    """A stay as she pulls astern in it at one water level.

    chain : None where its bed is unknown; wind_n : what the wind of that hour pulls along
        the chain, 0 where nobody knows. [N]
    """

    stay: Stay
    rigged: Rigged
    level_m: float
    chain: Hanging | None
    wind_n: float

    def felt(self, pull: AsternPull) -> tuple[float, float, float]:
        """What the chain feels of the engine's pull: middle, least, most. [N]"""
        doubt_n = WIND_DOUBT * abs(self.wind_n)
        return (
            max(_JUST_N, pull.nominal_n + self.wind_n),
            max(_JUST_N, pull.low_n + self.wind_n - doubt_n),
            max(_JUST_N, pull.high_n + self.wind_n + doubt_n),
        )

    def revs_for(self, curve: RevsCurve, felt_n: float) -> RevsFor:
        """The revs at which the chain feels so much of engine and wind, with their range. [N]

        ``pull_n`` is what the chain feels; no revs where the wind alone pulls as much.
        """
        doubt_n = WIND_DOUBT * abs(self.wind_n)
        middle, least, most = (
            curve.revs_for(max(0.0, felt_n - self.wind_n + by_n))
            for by_n in (0.0, -doubt_n, doubt_n)
        )
        reach = least.reach if least.reach in ("beyond", "unknown") else "perhaps"
        return replace(
            middle, pull_n=felt_n,
            share_low=least.share_low, share_high=most.share_high,
            revs_low_rpm=least.revs_low_rpm, revs_high_rpm=most.revs_high_rpm,
            reach="reached" if most.reach == "reached" else reach,
        )  # fmt: skip

    @property
    def toward_rad(self) -> float:
        """Where she pulls to."""
        return proof_toward_rad(self.stay)

    def at(self, pull_n: float) -> At:
        """Where she lies under a level pull, straight astern of the anchor. [N]"""
        reach_m = math.nan
        if self.chain is not None and math.isfinite(pull_n):
            reach_m = self.chain.form(pull_n).distance_m
        boat, lie, toward = self.stay.boat, lie_of(self.stay), self.toward_rad
        way_m = reach_m + boat.roller.x_m
        q = (
            lie.let_go_east_m + way_m * math.sin(toward),
            lie.let_go_north_m + way_m * math.cos(toward),
            (toward + math.pi) % (2.0 * math.pi),
        )
        return At(reach_m, q)

    def off_m(self, q: Place) -> float:
        """Her stern to the high-water line, below 0 behind it; NaN where unknown. [m]"""
        bay, half_m = self.stay.bay, 0.5 * self.stay.boat.hull.length_m
        if bay.shore is None or not math.isfinite(q[0]):
            return math.nan
        stern = shapely.Point(q[0] - half_m * math.sin(q[2]), q[1] - half_m * math.cos(q[2]))
        far_m = float(bay.shore.distance(stern))
        return -far_m if bay.land is not None and bay.land.contains(stern) else far_m

    def water(self, q: Place) -> tuple[float, str]:
        """The least water under her, and under what; NaN where the bed is unknown. [m]"""
        rooms = room_of(self.stay, np.array([q]), np.array([self.level_m]), between=False)
        told = [room for room in rooms if room.of.startswith("water under")]
        depths = [float(room.room_m[0]) for room in told]
        if not depths or not np.isfinite(depths).any():
            return math.nan, ""
        least = int(np.nanargmin(depths))
        return depths[least], told[least].of.removeprefix("water under the ")


def pulling(stay: Stay, rigged: Rigged, level_m: float, wind_n: float) -> Pulling:
    """The stay as she pulls astern in it, with what is out in the proof. [m, N]"""
    toward, out_m = proof_toward_rad(stay), out_in_proof_m(stay)
    chain = hanging(stay, rigged, level_m, toward, out_m)
    return Pulling(stay, rigged, level_m, chain, 0.0 if math.isnan(wind_n) else wind_n)


def steps_of(rungs: list[Rung], her: Pulling, last_hold_s: float) -> tuple[ProofStep, ...]:
    """The steps, each with what is to be seen at it."""
    steps = []
    before_m = least_m = her.at(_JUST_N).reach_m
    for number, rung in enumerate(rungs, start=1):
        hold_s = last_hold_s if number == len(rungs) else HOLD_S
        step = _step(number, rung, her, (before_m, least_m), hold_s)
        before_m, least_m = step.reach_m, her.at(her.felt(rung.pull)[1]).reach_m
        steps.append(step)
    return tuple(steps)


def _step(
    number: int, rung: Rung, her: Pulling, before_m: tuple[float, float], hold_s: float
) -> ProofStep:
    pull, (felt_n, least_n, most_n) = rung.pull, her.felt(rung.pull)
    at = her.at(felt_n)
    seen = _seen(her.chain, felt_n, least_n, most_n)
    water_m, under = her.water(at.q)
    return ProofStep(
        number, rung.rpm, rung.share,
        pull.nominal_n, pull.low_n, pull.high_n, felt_n,
        equal_wind_mps(her.rigged, pull.nominal_n, 0.0),
        equal_wind_mps(her.rigged, pull.nominal_n, 0.5 * math.pi),
        *seen[:3], seen.all_lifted, hold_s,
        her.off_m(at.q), at.reach_m, at.reach_m - before_m[0],
        her.at(most_n).reach_m - before_m[1],
        seen.shank_n, seen.uplift_rad, water_m, under,
    )  # fmt: skip


class _Seen(NamedTuple):
    """The lead as it is read: middle, flattest, steepest; and what goes with it."""

    angle_rad: float
    low_rad: float
    high_rad: float
    all_lifted: bool
    shank_n: float
    uplift_rad: float


def _seen(chain: Hanging | None, felt_n: float, least_n: float, most_n: float) -> _Seen:
    """How the chain leads: the pull's doubt, the chain's and the reading's taken together."""
    if chain is None:
        nan = math.nan
        return _Seen(nan, nan, nan, False, nan, nan)
    led = chain.led(felt_n)
    form, own = led.form, led.read_doubt_rad
    flatter = form.angle_rad - chain.form(most_n).angle_rad
    steeper = chain.form(least_n).angle_rad - form.angle_rad
    return _Seen(
        form.angle_rad,
        form.angle_rad - math.hypot(flatter, own),
        min(form.angle_rad + math.hypot(steeper, own), 0.5 * math.pi),
        form.on_bottom_m <= 0.0,
        form.anchor_tension_n,
        form.uplift_rad,
    )
