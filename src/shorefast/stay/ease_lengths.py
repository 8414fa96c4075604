"""The lengths a crew can change: chain out, and every line ashore."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from shorefast.boat import Yacht
from shorefast.stay.lines_out import rounded_down_m
from shorefast.stay.plan import Lie, Stay
from shorefast.stay.rigging import lie_of, shore_legs

CHAIN = "chain"
STEP_M = 0.5
"""What a crew can call: half metres."""
MOST_M = 10.0
"""How far one length is changed at most in the search: our choice. [m]"""
_LEAST_OUT_M = 1.0


@dataclass(frozen=True)
class Length:
    """One length of the lie and how far it can be changed.

    Attributes
    ----------
    of : str
        "chain", or the line as among the parts ("stern line to birch").
    out, home : str
        What a crew calls it when more is let out, and when it is got in.
    now_m : float
        As the stay file has it; of a doubled line each of its two parts. [m]
    least_m, most_m : float
        How short and how long it can be made with what is aboard. [m]
    parts : int
        2 where a doubled line's two parts go together, else 1.
    """

    of: str
    out: str
    home: str
    now_m: float
    least_m: float
    most_m: float
    parts: int = 1

    def word(self, by_m: float) -> str:
        """What a change is called. [m]"""
        return self.out if by_m > 0.0 else self.home

    def can(self, by_m: float) -> bool:
        """Whether the length can be changed by so much. [m]"""
        return self.least_m - 1e-9 <= self.now_m + by_m <= self.most_m + 1e-9


def _spare_m(boat: Yacht, lie: Lie, name: str) -> float:
    """What is left aboard of a line after all the legs it makes. [m]"""
    out_m = sum(one.length_m * (2 if one.doubled else 1) for one in lie.lines if one.line == name)
    return next(line.length_m for line in boat.lines if line.name == name) - out_m


def lengths_of(stay: Stay) -> tuple[Length, ...]:
    """The chain first, then the lines ashore in the lie's order.

    Raises
    ------
    BadInput
        As ``shore_legs``.
    """
    boat, lie = stay.boat, lie_of(stay)
    out_m = lie.chain_out_m
    most_m = max(out_m, rounded_down_m(boat.rode_aboard_m))
    found = [Length(CHAIN, "veer", "heave in", out_m, min(out_m, _LEAST_OUT_M), most_m)]
    for leg in shore_legs(boat, stay.bay, lie):
        now_m, parts = leg.plan.length_m, leg.parts
        spare_m = max(0.0, _spare_m(boat, lie, leg.line.name)) / parts
        least_m, most_m = min(now_m, _LEAST_OUT_M), now_m + spare_m
        found.append(Length(leg.name, "ease", "take in", now_m, least_m, most_m, parts))
    return tuple(found)


def adjusted(stay: Stay, by_m: Mapping[int, float]) -> Stay:
    """The stay with some of its lengths changed, by their number among ``lengths_of``. [m]

    The anchor stays: its proof is as it was pulled, on the chain that was out before.
    """
    lie, proof = lie_of(stay), stay.proof
    if proof is not None and proof.chain_out_m is None:
        proof = replace(proof, chain_out_m=lie.chain_out_m)
    lines = tuple(
        replace(line, length_m=_sum_m(line.length_m, by_m.get(number, 0.0)))
        for number, line in enumerate(lie.lines, start=1)
    )
    out_m = _sum_m(lie.chain_out_m, by_m.get(0, 0.0))
    return replace(stay, lie=replace(lie, chain_out_m=out_m, lines=lines), proof=proof)


def _sum_m(now_m: float, by_m: float) -> float:
    """A length changed, without the dust of binary fractions. [m]"""
    return now_m if by_m == 0.0 else round(now_m + by_m, 6)


def steps_m(length: Length, sign: float, most_m: float = MOST_M) -> tuple[float, ...]:
    """Half metres one way, as far as the length can be changed. [m]"""
    count = math.floor(most_m / STEP_M + 1e-9)
    ways = (sign * STEP_M * (1 + number) for number in range(count))
    return tuple(by_m for by_m in ways if length.can(by_m))
