"""What can be ordered in practice, and what can be made to fail."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from shorefast.errors import BadInput

TICK_S = 0.5
"""What is ordered begins with the next tick; the clock counts in them. [s]"""

# name of an order: what goes with it
ORDERS: Mapping[str, str] = MappingProxyType(
    {
        "helm": "angle",
        "helm by crew": "",
        "revs": "share",
        "neutral": "",
        "stop engine": "",
        "start engine": "",
        "engine stopped": "",
        "thruster": "share",
        "let go": "",
        "chain to": "length",
        "hold chain": "",
        "chain by crew": "",
        "tend line": "",
        "leave line": "",
        "go to ladder": "",
        "step back": "",
        "take line": "line",
        "come back": "",
        "line to": "line length",
        "hold line": "line",
        "cast off": "line",
        "say": "words",
        "fail": "failure",
        "end": "",
    }
)
"""Every order by name, and what goes with it."""

# name of a failure: what goes with it
FAILURES: Mapping[str, str] = MappingProxyType(
    {
        "engine stops": "",
        "throttle sticks astern": "",
        "thruster dead": "",
        "windlass jams": "",
        "chain runs": "",
        "anchor drags": "pull",
        "line parts": "line",
        "point gives way": "line",
        "gust": "",
        "swimmer in difficulty": "",
        "sounder frozen": "",
        "sounder wrong": "length",
    }
)
"""Every failure by name, and what goes with it."""


@dataclass(frozen=True)
class Failure:
    """Something that fails.

    kind : one of FAILURES; at_s : since practice began [s]
    value : pull [N] or length [m] where it has one; line : which, counted from one, 0 none
    """

    kind: str
    at_s: float
    value: float | None = None
    line: int = 0


@dataclass(frozen=True)
class Order:
    """Something ordered.

    Attributes
    ----------
    do : str
        One of ORDERS.
    value : float or None
        Helm, above 0 to starboard [rad]; revs and thruster as shares of full, below 0 astern
        and to port; a length [m].
    line : int
        Which line, counted from one; 0 where it is about none.
    words : str
        What is said.
    failure : Failure or None
    """

    do: str
    value: float | None = None
    line: int = 0
    words: str = ""
    failure: Failure | None = None


@dataclass(frozen=True)
class Timed:
    """An order and when it is given. [s]"""

    at_s: float
    order: Order


@dataclass(frozen=True)
class Setting:
    """What is practised in.

    Attributes
    ----------
    wind_mps, from_rad : float or None
        Mean wind at 10 m and where it comes from; None: what the forecast tells.
    gusts : bool
        Whether it is gusty.
    seed : int
        Draws the gusts, and failures that are drawn.
    failures : tuple of Failure
    drawn : int
        So many failures more, drawn.
    ahead : int
        The line that is fast ashore before she comes, its end with the rower there; 0 none.
    """

    wind_mps: float | None = None
    from_rad: float | None = None
    gusts: bool = False
    seed: int = 0
    failures: tuple[Failure, ...] = ()
    drawn: int = 0
    ahead: int = 0


def check_line(line: int, lines: int, where: str) -> None:
    """Raise where there is no line of that number.

    Raises
    ------
    BadInput
    """
    if not 1 <= line <= lines:
        known = "the lie has none" if lines == 0 else f"1 to {lines} wanted"
        raise BadInput(where, f"line {line}", known, "Number them as the lie does.")
