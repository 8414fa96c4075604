"""Dragged, or no time: the lines cast off from aboard, in which order, and what stays behind."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.basis import Assumption, Basis
from shorefast.manoeuvre.leaving_order import Order
from shorefast.stay import Judged, Stay, up_and_down_m

EACH_S, BUOY_MORE_M = 15.0, 5.0
"""Casting off one line; buoy line beyond the depth at the water's highest: our choices."""


@dataclass(frozen=True)
class CutLine:
    """One line cast off: its number in the order, name, and whether it stays behind.

    share : members past a limit on what is left once it is gone, the anchor not counted;
    NaN for the last, and where not known
    """

    number: int
    name: str
    stays: bool
    share: float


@dataclass(frozen=True)
class Cut:
    """Everything let go at once from aboard.

    Attributes
    ----------
    lines : tuple of CutLine
        In the order they go, the engine running before the first.
    holds : bool
        Whether in some order what is left holds her off without the anchor, to the last line.
    takes_s : float
        All of it by one hand. [s]
    slip_chain_m : float
        Chain aboard to run out if it is slipped, and so left behind too. [m]
    buoy_line_m : float
        For the buoy on it: the deepest water of the stay there, and more. [m]
    """

    lines: tuple[CutLine, ...]
    holds: bool
    takes_s: float
    slip_chain_m: float
    buoy_line_m: float
    basis: Basis


def cut_of(stay: Stay, judged: Judged, order: Order, shares: tuple[float, ...]) -> Cut:
    """The order worked out without the anchor, told for the hand that casts off.

    Parameters
    ----------
    order : Order
        The best where the anchor does not count.
    shares : tuple of float
        Members past a limit after each line but the last.
    """
    legs = judged.rigged.legs
    lines = tuple(
        CutLine(place + 1, legs[number].name, not legs[number].plan.doubled,
                shares[place] if place < len(shares) else math.nan)
        for place, number in enumerate(order.lines)
    )  # fmt: skip
    deepest_m = float(up_and_down_m(stay, judged.judgement.water_level_m).max())
    assert stay.lie is not None
    return Cut(
        lines, order.share <= stay.accepted_share, EACH_S * len(lines),
        max(0.0, stay.boat.rode_aboard_m - stay.lie.chain_out_m),
        deepest_m - stay.boat.roller.z_m + BUOY_MORE_M, _basis(),
    )  # fmt: skip


def _basis() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "Cast off from aboard, the lines that keep her off longest without the anchor go"
                f" last; each takes {EACH_S:.0f} s (our choice), and the engine is ahead first",
                "A line under load that nobody can surge has to be cut: stand clear of both ends",
            ),
        ),
    )
