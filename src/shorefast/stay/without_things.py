"""What can go of a lie, what goes with it, and what would part it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.boat import line_in_use
from shorefast.mooring import L_FAR, L_TENSION
from shorefast.stay.lines_out import ShoreLeg
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged, lie_of
from shorefast.stay.rode_parts import rode_breaks_n

Floats = NDArray[np.float64]
ANCHOR, CHAIN = "anchor", "chain"


@dataclass(frozen=True)
class Thing:
    """One thing that may go.

    Attributes
    ----------
    name, kind : str
        "anchor", "line" (one leg, or all legs of one line), "point" or "cleat".
    lines : tuple of int
        The scene's lines that go with it: 0 is the rode, then the legs in order.
    also : tuple of str
        Other things with whose loss the same lines go.
    """

    name: str
    kind: str
    lines: tuple[int, ...]
    also: tuple[str, ...] = ()


class Parting(NamedTuple):
    """What would part one thing of the lie.

    pull_at : the lines whose pulls it carries; shares : among how many parts of a line;
    breaks_n : NaN where nobody knows
    """

    name: str
    pull_at: tuple[int, ...]
    breaks_n: float
    shares: int = 1


def _by(key: Callable[[ShoreLeg], str], legs: tuple[ShoreLeg, ...]) -> dict[str, tuple[int, ...]]:
    """Numbers of the legs that share a thing, by its name, in their order."""
    found: dict[str, tuple[int, ...]] = {}
    for i, leg in enumerate(legs, start=1):
        found[key(leg)] = (*found.get(key(leg), ()), i)
    return found


def all_things(legs: tuple[ShoreLeg, ...]) -> list[Thing]:
    """Every leg, every line with several, every point and cleat, the anchor, the chain."""
    things = [Thing(leg.name, "line", (i,)) for i, leg in enumerate(legs, start=1)]
    lines = _by(lambda leg: leg.line.name, legs)
    things += [Thing(f"both legs of {name}" if len(at) == 2 else f"all legs of {name}", "line", at)
               for name, at in lines.items() if len(at) > 1]  # fmt: skip
    points = _by(lambda leg: leg.point.name, legs)
    things += [Thing(f"{name} ashore", "point", at) for name, at in points.items()]
    cleats = _by(lambda leg: leg.cleat.name, legs)
    things += [Thing(f"{name} cleat", "cleat", at) for name, at in cleats.items()]
    return [*things, Thing(ANCHOR, "anchor", (0,)), Thing(CHAIN, "chain", (0,))]


def things_of(rigged: Rigged) -> tuple[Thing, ...]:
    """Everything that may go, each set of lines once: what else takes the same is told.

    A line that lies out and back through its point runs out when either part goes: it is
    one leg. The anchor is last.
    """
    first: dict[tuple[int, ...], Thing] = {}
    for thing in all_things(rigged.legs):
        known = first.get(thing.lines)
        first[thing.lines] = (
            thing
            if known is None
            else Thing(known.name, known.kind, known.lines, (*known.also, thing.name))
        )
    return tuple(first.values())


def partings_of(stay: Stay, rigged: Rigged) -> tuple[Parting, ...]:
    """What would part rode, legs, points and cleats.

    A line by its strength as it is used, knot and age in it; the rode by its weakest
    piece out; a point or cleat by what somebody says it carries. What a standard wants of
    such a cleat is not what parts it: unknown.
    """
    legs = rigged.legs
    found = [Parting(CHAIN, (0,), _or_unknown(rode_breaks_n(stay.boat, lie_of(stay).chain_out_m)))]
    for i, leg in enumerate(legs, start=1):
        strength = line_in_use(leg.line, leg.plan.edge_radius_m)
        found.append(Parting(leg.name, (i,), strength.usable_n, leg.parts))
    for name, at in _by(lambda leg: leg.point.name, legs).items():
        point = legs[at[0] - 1].point
        found.append(Parting(f"{name} ashore", at, _told(point.strength_n)))
    for name, at in _by(lambda leg: leg.cleat.name, legs).items():
        cleat = legs[at[0] - 1].cleat
        found.append(Parting(f"{name} cleat", at, _told(cleat.strength_n)))
    return tuple(found)


def _told(strength_n: float | None) -> float:
    return math.nan if strength_n is None else strength_n


def _or_unknown(breaks_n: float) -> float:
    return breaks_n if math.isfinite(breaks_n) else math.nan


def of_breaking(partings: tuple[Parting, ...], pulls_n: Floats) -> Floats:
    """Load over what parts each thing; array (..., parting), NaN where nobody knows.

    pulls_n : array (..., line), the greater tension of a line's two ends. [N]
    """
    shares = [
        pulls_n[..., list(one.pull_at)].sum(axis=-1) / one.shares / one.breaks_n for one in partings
    ]
    return np.stack(shares, axis=-1)


def pulls_of(line: Floats) -> Floats:
    """The greater tension of every line's two ends, (..., line); the rode's at the roller."""
    pulls_n: Floats = np.fmax(line[..., L_TENSION], line[..., L_FAR])
    return pulls_n


def unrated(partings: tuple[Parting, ...], pulls_n: Floats) -> tuple[str, ...]:
    """Things that carry a load and of which nobody knows what parts them; pulls_n (line,)."""
    return tuple(
        one.name
        for one in partings
        if math.isnan(one.breaks_n) and float(pulls_n[list(one.pull_at)].sum()) > 0.0
    )
