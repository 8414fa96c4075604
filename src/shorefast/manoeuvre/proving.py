"""The proof: steps of revs astern, what each is worth, and what to see at each."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import shapely

from shorefast.basis import Assumption, Basis
from shorefast.boat import AsternPull, RevsCurve, RevsFor, revs_curve
from shorefast.mooring import RodeForm
from shorefast.stay import (
    Judged,
    Stay,
    equal_wind_mps,
    lie_of,
    out_in_proof_m,
    proof_toward_rad,
    rode_in_proof,
)

HOLD_S = 30.0
"""How long a step is held: common practice, no source."""
LAST_HOLD_S = 180.0
"""How long the last is, where the stay file does not say: our choice."""
_SHARES = (0.3, 0.5, 0.7, 0.85, 1.0)
_ROUND_RPM = 50.0
# the pull at which a chain just begins to be drawn straight
_JUST_N = 20.0


@dataclass(frozen=True)
class ProofStep:
    """One step of revs astern, held; NaN where unknown.

    Attributes
    ----------
    revs_rpm, revs_share : float
        Revolutions a minute, and as a share of full revs.
    pull_n, low_n, high_n : float
        Level pull at the roller. [N]
    wind_ahead_mps, wind_abeam_mps : float
        Steady winds at 10 m of that force on the free boat. [m/s]
    angle_rad, angle_low_rad, angle_high_rad : float
        The chain below the horizontal at the roller: by the pull, and how flat and how
        steep it may look. [rad]
    all_lifted : bool
        No chain lies any more: the angle hardly changes from here on.
    hold_s : float
    off_m : float
        Her stern to the high-water line. [m]
    reach_m : float
        The roller from the anchor, level. [m]
    astern_m : float
        How far the chain lets her go astern from the step before as it straightens; of the
        first, from where it just begins to pull. [m]
    shank_n, uplift_rad : float
        What the anchor feels, and how far above the bed. [N, rad]
    """

    number: int
    revs_rpm: float
    revs_share: float
    pull_n: float
    low_n: float
    high_n: float
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
    shank_n: float
    uplift_rad: float


@dataclass(frozen=True)
class Proving:
    """The proof, step by step.

    Attributes
    ----------
    toward_rad : float
        Where she pulls to.
    water_level_m : float
        It is proved at this water. [m]
    asked : RevsFor or None
        The revs for the pull that the stay file asks; None where it asks none.
    """

    steps: tuple[ProofStep, ...]
    toward_rad: float
    water_level_m: float
    asked: RevsFor | None
    basis: Basis


class _Revs(NamedTuple):
    """One rung: share of full revs, revolutions a minute (NaN unknown), pull."""

    share: float
    rpm: float
    pull: AsternPull


def proving(stay: Stay, judged: Judged) -> Proving:
    """How to prove the anchor of a stay, at the water of its first hour.

    Steps of revs up to what gives the pull that the stay file asks, else to full; each
    held for half a minute, the last as long as the file says. No wind and no current.

    Parameters
    ----------
    stay : Stay
        With a lie.
    judged : Judged
        The same stay.

    Returns
    -------
    Proving
        No steps where she has no engine.
    """
    level_m = float(judged.judgement.water_level_m[0, 0])
    toward, engine = proof_toward_rad(stay), stay.boat.engine
    if engine is None:
        return Proving((), toward, level_m, None, judged.judgement.basis)
    curve = revs_curve(engine)
    asked = _asked(stay, curve)
    steps: list[ProofStep] = []
    at = _Chain(stay, judged, level_m)
    before_m = at.slack_m
    for number, rung in enumerate(_ladder(curve, asked), start=1):
        step = _step(number, rung, at, before_m)
        before_m = step.reach_m
        steps.append(step)
    steps[-1] = replace(steps[-1], hold_s=_last_hold_s(stay))
    basis = judged.judgement.basis | curve.basis | _basis()
    return Proving(tuple(steps), toward, level_m, asked, basis)


def _last_hold_s(stay: Stay) -> float:
    if stay.proof is None or stay.proof.minutes is None:
        return LAST_HOLD_S
    return 60.0 * stay.proof.minutes


def _asked(stay: Stay, curve: RevsCurve) -> RevsFor | None:
    """The revs that the stay file asks, or that its pull needs."""
    told = stay.proof
    if told is None:
        return None
    if told.pull_n is not None:
        return curve.revs_for(told.pull_n)
    if told.revs_rpm is None:
        return None
    pull_n = curve.at_revs(told.revs_rpm).nominal_n
    return curve.revs_for(pull_n) if math.isfinite(pull_n) else None


def _ladder(curve: RevsCurve, asked: RevsFor | None) -> list[_Revs]:
    """Rising revs up to what is asked, or to all she has."""
    if curve.own is not None and curve.full_revs_rpm is None:
        most = curve.own.most_rpm
        last = most if asked is None else min(asked.revs_rpm, most)
        rpms = _rounded([share * last for share in _SHARES])
        return [_Revs(math.nan, rpm, curve.at_revs(rpm)) for rpm in rpms]
    last = 1.0 if asked is None else min(asked.share, 1.0)
    shares = [share * last for share in _SHARES]
    if curve.full_revs_rpm is None:
        return [_Revs(share, math.nan, curve.at_share(share)) for share in shares]
    rpms = _rounded([share * curve.full_revs_rpm for share in shares])
    return [_Revs(rpm / curve.full_revs_rpm, rpm, curve.at_revs(rpm)) for rpm in rpms]


def _rounded(rpms: list[float]) -> list[float]:
    """As a rev counter is read; the last as it is."""
    low = [_ROUND_RPM * round(rpm / _ROUND_RPM) for rpm in rpms[:-1]]
    return [*(rpm for rpm in dict.fromkeys(low) if 0.0 < rpm < rpms[-1]), rpms[-1]]


class _Chain:
    """The chain as she pulls on it, and where she then lies."""

    def __init__(self, stay: Stay, judged: Judged, level_m: float) -> None:
        self.stay, self.judged, self.level_m = stay, judged, level_m
        self.toward = proof_toward_rad(stay)
        slack = self.form(_JUST_N)
        self.slack_m = math.nan if slack is None else slack.distance_m

    def form(self, pull_n: float) -> RodeForm | None:
        """The rode under a level pull; None where the bed or the water is unknown."""
        rigged, out_m = self.judged.rigged, out_in_proof_m(self.stay)
        return rode_in_proof(self.stay, rigged, self.level_m, pull_n, out_m)

    def off_m(self, reach_m: float) -> float:
        """Her stern to the high-water line, below 0 behind it; NaN where it is unknown. [m]"""
        bay, boat, lie = self.stay.bay, self.stay.boat, lie_of(self.stay)
        if bay.shore is None or not math.isfinite(reach_m):
            return math.nan
        way_m = reach_m + boat.roller.x_m + 0.5 * boat.hull.length_m
        stern = shapely.Point(
            lie.let_go_east_m + way_m * math.sin(self.toward),
            lie.let_go_north_m + way_m * math.cos(self.toward),
        )
        far_m = float(bay.shore.distance(stern))
        return -far_m if bay.land is not None and bay.land.contains(stern) else far_m


def _step(number: int, rung: _Revs, at: _Chain, before_m: float) -> ProofStep:
    pull = rung.pull
    forms = [at.form(pull_n) for pull_n in (pull.nominal_n, pull.low_n, pull.high_n)]
    angles = [math.nan if form is None else form.angle_rad for form in forms]
    form = forms[0]
    reach_m = math.nan if form is None else form.distance_m
    rigged = at.judged.rigged
    return ProofStep(
        number, rung.rpm, rung.share,
        pull.nominal_n, pull.low_n, pull.high_n,
        equal_wind_mps(rigged, pull.nominal_n, 0.0),
        equal_wind_mps(rigged, pull.nominal_n, 0.5 * math.pi),
        angles[0], angles[2], angles[1],
        form is not None and form.on_bottom_m <= 0.0,
        HOLD_S, at.off_m(reach_m), reach_m, reach_m - before_m,
        math.nan if form is None else form.anchor_tension_n,
        math.nan if form is None else form.uplift_rad,
    )  # fmt: skip


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "The proof is pulled in a calm, no line fast, straight toward where it is told",
                "Wind from ahead adds to the pull, wind from astern takes from it; held aside"
                " by a line she proves less",
            ),
            Assumption(
                f"A step is held for {HOLD_S:.0f} s, the last for {LAST_HOLD_S / 60.0:.0f} min"
                " where nobody says (common practice, no source)",
                "In soft mud an anchor settles for minutes: hold longer",
            ),
        )
    )
