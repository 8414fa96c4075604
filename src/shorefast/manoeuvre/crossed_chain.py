"""Another's chain across ours: what it weighs at our bow, and what is done about it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.boat import Yacht, chain, line_in_use
from shorefast.manoeuvre.falling import anchor_wet_n
from shorefast.mooring import AIR_KGPM3, BedLine, LineSegments, rode_at_pull, wind_force
from shorefast.stay import Judged, Stay, rode_segments, up_and_down_m

FOREIGN_M = (0.008, 0.010)
"""Wires of the chains that boats of our size lie to (common practice)."""
_GRADE, _LONG_M, _FRICTION, _SLACK_N = 30, 500.0, 0.6, 1.0
VEER_CLEAR_M = 2.0
"""Veered so that our anchor drops clear from under it: our choice."""
STEPS: tuple[tuple[str, str], ...] = (
    ("stop heaving", "bow"),
    ("call the other boat", "helm"),
    ("heave till it hangs at the bow", "bow"),
    ("slip line under it", "line"),
    ("both ends fast", "line"),
    ("veer ours clear", "bow"),
    ("heave ours home", "bow"),
    ("back away", "helm"),
    ("slip the line", "line"),
)
NEVER = (
    "hands on a chain under load",
    "a foot to clear it",
    "anybody in line with the slip line",
    "lift it with the windlass alone",
    "let our anchor down on it again",
    "ahead over it",
)


@dataclass(frozen=True)
class DrillStep:
    """One step: what, by whom (a duty), and the load it brings where there is one. [N]"""

    number: int
    does: str
    who: str
    load_n: float


@dataclass(frozen=True)
class Foreign:
    """Another's chain lifted to our bow.

    Attributes
    ----------
    diameter_m : float
        Of its wire. [m]
    slack_n, riding_n : float
        What hangs at our bow, both sides of it: slack, and with the other boat lying to it
        in this wind, as heavy on her chain as we would be. [N]
    heave_n, of_windlass : float
        The latter and our anchor, on the windlass; over what that pulls, NaN unknown. [N]
    each_n : float
        On each of the two parts of the slip line. [N]
    line : str or None
        The strongest rope aboard; use : of it, load over limit; NaN unknown.
    use : float
    """

    diameter_m: float
    slack_n: float
    riding_n: float
    heave_n: float
    of_windlass: float
    each_n: float
    line: str | None
    use: float


@dataclass(frozen=True)
class CrossedChain:
    """The drill.

    Attributes
    ----------
    lift_m : float
        From the bed to our bow roller. [m]
    riding_n : float
        Level pull of the other boat on her chain that is reckoned with. [N]
    own_n : float
        Our anchor and chain hanging plumb: what the windlass has without it. [N]
    veer_m : float
        How much of ours is veered to drop clear. [m]
    never : tuple of str
    """

    lift_m: float
    riding_n: float
    own_n: float
    veer_m: float
    chains: tuple[Foreign, ...]
    steps: tuple[DrillStep, ...]
    never: tuple[str, ...]
    basis: Basis


def hung_n(diameter_m: float, lift_m: float, pull_n: float) -> float:
    """What a chain on a level bed hangs on what lifts it, both sides of the lift. [N]

    Each side hangs in a catenary that meets the bed flat, under the same level pull.

    Parameters
    ----------
    diameter_m : float
        Of its wire. [m]
    lift_m : float
        Height of the lift above the bed. [m]
    pull_n : float
        Level pull on either side; with none it hangs nearly plumb. [N]

    Source
    ------
    irvine-1981, ch. 1, as ``mooring.rode_at_pull``.
    """
    links = chain(diameter_m, _GRADE)
    line = LineSegments(
        np.array([_LONG_M]), np.array([links.wet_weight_npm]), np.array([links.axial_stiffness_n])
    )
    bed = BedLine(np.array([-1.0, 1.0]), np.array([-lift_m, -lift_m]))
    if not math.isfinite(lift_m + pull_n):
        return math.nan
    form = rode_at_pull(line, bed, _FRICTION, 0.0, max(pull_n, _SLACK_N))
    return 2.0 * form.down_n


def crossed_chain(stay: Stay, judged: Judged, at: int) -> CrossedChain:
    """What another's chain across ours weighs at this berth, and the drill for it.

    Parameters
    ----------
    at : int
        Which of the judged times: its water and its mean wind.
    """
    answer = judged.judgement
    level_m = answer.water_level_m[0, at]
    lift_m = float(up_and_down_m(stay, level_m))
    known = answer.wind_mps[np.isfinite(answer.wind_mps[:, at]), at]
    middle_mps = float(np.median(known)) if known.size else math.nan
    wind_mps = middle_mps * judged.rigged.height_share
    riding_n = abs(wind_force(judged.rigged.form, wind_mps, 0.0, AIR_KGPM3)[0])
    chains = tuple(_foreign(stay, one, lift_m, riding_n) for one in FOREIGN_M)
    most_n = max(one.riding_n for one in chains)
    own_n = anchor_wet_n(stay.boat.anchor) + _own_chain_n(stay.boat, lift_m)
    loads = {"heave till it hangs at the bow": max(one.heave_n for one in chains),
             "both ends fast": 0.5 * most_n, "heave ours home": own_n}  # fmt: skip
    steps = tuple(
        DrillStep(number, does, who, loads.get(does, math.nan))
        for number, (does, who) in enumerate(STEPS, start=1)
    )
    return CrossedChain(lift_m, riding_n, own_n, VEER_CLEAR_M, chains, steps, NEVER, _basis())


def _foreign(stay: Stay, diameter_m: float, lift_m: float, riding_n: float) -> Foreign:
    slack_n, hangs_n = (hung_n(diameter_m, lift_m, pull_n) for pull_n in (0.0, riding_n))
    heave_n = hangs_n + anchor_wet_n(stay.boat.anchor)
    can_n = stay.boat.windlass.pull_n
    limits = {line.name: line_in_use(line).limit_n for line in stay.boat.lines}
    known = {name: limit_n for name, limit_n in limits.items() if math.isfinite(limit_n)}
    strongest = max(known, key=known.__getitem__) if known else None
    return Foreign(
        diameter_m, slack_n, hangs_n, heave_n, math.nan if can_n is None else heave_n / can_n,
        0.5 * hangs_n, strongest,
        math.nan if strongest is None else 0.5 * hangs_n / known[strongest],
    )  # fmt: skip


def _own_chain_n(boat: Yacht, out_m: float) -> float:
    """Weight in water of so much of our own rode. [N]"""
    if not math.isfinite(out_m):
        return math.nan
    out = rode_segments(boat, min(out_m, boat.rode_aboard_m))
    return float(np.sum(out.length_m * out.weight_npm))


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "The other chain lies along the bed under our bow, and its boat pulls at it as"
                " hard as ours would, bow to the mean wind of the hour",
                "A heavier boat, or one whose chain has no length to spare, hangs far more on it:"
                " then it is she who must veer or move",
            ),
        ),
        sources=("irvine-1981",),
    )
