"""The line that goes last, doubled back so that nobody has to be ashore."""

from __future__ import annotations

from dataclasses import dataclass

from shorefast.manoeuvre.leaving_hands import Hands
from shorefast.stay import MADE_FAST_M, Judged, Stay


@dataclass(frozen=True)
class DoubledBack:
    """The line that is let go last, led out and back.

    Attributes
    ----------
    name, line : str
        As in the lie; the rope aboard it is made of.
    needs_m, aboard_m : float
        Out and back with what goes on the cleats; what of the rope is not in other legs. [m]
    enough : bool
    instead : str or None
        Another rope aboard that is long enough, where this one is not; None: none is.
    already : bool
        Whether the lie has it doubled already.
    by : str
        Who leads it round: "row", "swim" or "nobody".
    share_while : float
        Members past a limit while it is off to be led anew, the others on; NaN unknown.
    beside : bool
        Whether it must not be off for that: another rope is led round the point first.
    ease_m : float
        How far it can be eased once it is doubled; 0 where it cannot. [m]
    """

    name: str
    line: str
    needs_m: float
    aboard_m: float
    enough: bool
    instead: str | None
    already: bool
    by: str
    share_while: float
    beside: bool
    ease_m: float


def doubled_back(
    stay: Stay, judged: Judged, number: int, hands: Hands, share_while: float
) -> DoubledBack:
    """Whether a line of the lie can be doubled back, and what of.

    Out and back is twice the length from cleat to point, and three metres for either end.
    """
    leg = judged.rigged.legs[number]
    needs_m = 2.0 * leg.plan.length_m + 2.0 * MADE_FAST_M
    free_m = _free(stay, judged)
    aboard_m = free_m[leg.line.name] + leg.parts * leg.plan.length_m
    others = [name for name, left_m in free_m.items() if left_m >= needs_m]
    enough = leg.plan.doubled or aboard_m >= needs_m
    instead = min(others, key=lambda name: free_m[name]) if others and not enough else None
    ease_m = max(0.0, 0.5 * (aboard_m - 2.0 * MADE_FAST_M) - leg.plan.length_m)
    held = leg.plan.doubled or share_while <= stay.accepted_share
    return DoubledBack(
        leg.name, leg.line.name, needs_m, aboard_m, enough, instead, leg.plan.doubled,
        hands.by, share_while, not held, ease_m if enough else 0.0,
    )  # fmt: skip


def _free(stay: Stay, judged: Judged) -> dict[str, float]:
    """What of every rope aboard is in no leg of the lie. [m]"""
    free = {line.name: line.length_m for line in stay.boat.lines}
    for leg in judged.rigged.legs:
        free[leg.line.name] -= leg.parts * leg.plan.length_m
    return free
