"""Letting go by hand: how long the lines take, and the one that is doubled back."""

from __future__ import annotations

from dataclasses import dataclass

from shorefast.basis import Assumption, Basis
from shorefast.stay import MADE_FAST_M, Judged

ROW_MPS, AT_POINT_S, HAUL_MPS = 1.0, 120.0, 0.5
"""Rowing, untying at a point, hauling a floating line home by hand: our choices."""
COLD_K = 273.15 + 15.0
"""In colder water nobody swims (common practice)."""


@dataclass(frozen=True)
class DoubledBack:
    """The line that is let go last, led out and back so that nobody has to be ashore.

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
    share_while : float
        Members past a limit while it is off to be led anew, the others on; NaN unknown.
    ease_m : float
        How far it can be eased while it is doubled; 0 where it cannot. [m]
    """

    name: str
    line: str
    needs_m: float
    aboard_m: float
    enough: bool
    instead: str | None
    already: bool
    share_while: float
    ease_m: float


def doubled_back(judged: Judged, number: int, share_while: float) -> DoubledBack:
    """Whether a line of the lie can be doubled back, and what of.

    Out and back is twice the length from cleat to point, and three metres for either end.
    """
    leg = judged.rigged.legs[number]
    needs_m = 2.0 * leg.plan.length_m + 2.0 * MADE_FAST_M
    free_m = _free(judged)
    aboard_m = free_m[leg.line.name] + leg.parts * leg.plan.length_m
    others = [name for name, left_m in free_m.items() if left_m >= needs_m]
    enough = leg.plan.doubled or aboard_m >= needs_m
    instead = min(others, key=lambda name: free_m[name]) if others and not enough else None
    ease_m = max(0.0, 0.5 * (aboard_m - 2.0 * MADE_FAST_M) - leg.plan.length_m)
    return DoubledBack(
        leg.name, leg.line.name, needs_m, aboard_m, enough, instead,
        leg.plan.doubled, share_while, ease_m if enough else 0.0,
    )  # fmt: skip


def _free(judged: Judged) -> dict[str, float]:
    """What of every rope aboard is in no leg of the lie. [m]"""
    free = {leg.line.name: leg.line.length_m for leg in judged.rigged.legs}
    for leg in judged.rigged.legs:
        free[leg.line.name] -= leg.parts * leg.plan.length_m
    return free


def untying_s(judged: Judged, order: tuple[int, ...]) -> tuple[float, ...]:
    """How long each line takes in the order of letting go; the last doubled back first. [s]

    A doubled line is hauled home from aboard. The time in which the last is doubled back is
    in the first.
    """
    times = []
    for place, number in enumerate(order):
        leg = judged.rigged.legs[number]
        trip_s = 2.0 * leg.plan.length_m / ROW_MPS + AT_POINT_S
        haul_s = 2.0 * leg.plan.length_m / HAUL_MPS
        slipped = leg.plan.doubled or place == len(order) - 1
        times.append(haul_s if slipped else trip_s)
    if order and not judged.rigged.legs[order[-1]].plan.doubled:
        last = judged.rigged.legs[order[-1]]
        times[0] += 2.0 * last.plan.length_m / ROW_MPS + AT_POINT_S
    return tuple(times)


def untying_basis() -> Basis:
    """What the time for letting go rests on."""
    return Basis(
        assumptions=(
            Assumption(
                f"Hands ashore row there and back at {ROW_MPS:g} m/s and take"
                f" {AT_POINT_S / 60.0:.0f} minutes at a point; a line is hauled home at"
                f" {HAUL_MPS:g} m/s (our choices)",
                "A bad landing, a jammed knot or two people fewer can double it",
            ),
        ),
    )
