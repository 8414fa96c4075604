"""The engine-stopped rule as a machine of its own: what may come next, and what it waits for.

One hand carries a line ashore, swimming or in the tender; the rule is the same for both,
since a rower may fall in. Nobody goes to the ladder, into the water or back within a
boat's length of the stern before the engine is stopped, the helm has answered so, and a
hand who does nothing else tends the line and watches the propeller. As long as somebody
is there the engine cannot be started, let alone put in gear: a propeller can turn in
neutral. Somebody who falls in is outside this: the helm stops the engine, which nothing
ever keeps from being done.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import NamedTuple

ENGINE = ("in gear", "neutral", "stopped")
HAND = ("aboard", "at the ladder", "near", "clear", "ashore")
LINE = ("aboard", "in the water", "slack ashore", "fast")
HELM = ("held", "offered")


@dataclass(frozen=True)
class Sequence:
    """How things stand while a line goes ashore.

    Attributes
    ----------
    engine : one of ENGINE
    answered : bool
        The helm has answered "engine stopped", and it has not been started since.
    tended : bool
        A hand who does nothing else tends the line and watches the propeller.
    hand : one of HAND
        Where the one who carries the line is: "near" is within a boat's length of the
        stern, in the water or in the tender; "clear" is farther off.
    line : one of LINE
        "in the water" is slack and may come to the propeller, and so is "slack ashore",
        made fast there and not yet taken in.
    helm : one of HELM
        "offered" is handed over and not yet taken.
    """

    engine: str = "in gear"
    answered: bool = False
    tended: bool = False
    hand: str = "aboard"
    line: str = "aboard"
    helm: str = "held"

    @property
    def propeller_may_turn(self) -> bool:
        """Whether it may: in neutral too."""
        return self.engine != "stopped"

    @property
    def somebody_near(self) -> bool:
        """Whether anybody is at the ladder or within a boat's length of the stern."""
        return self.hand in ("at the ladder", "near")


class Taken(NamedTuple):
    """What came of an event: the state after it, and what it waits for (empty: it was done).

    waits_for : names of CONDITIONS that do not hold yet
    """

    state: Sequence
    waits_for: tuple[str, ...]


_DRY = ("aboard", "fast")
Condition = Callable[[Sequence], bool]
CONDITIONS: Mapping[str, Condition] = MappingProxyType(
    {
        "engine stopped": lambda s: s.engine == "stopped",
        "engine running": lambda s: s.engine != "stopped",
        "engine out of gear": lambda s: s.engine == "neutral",
        "engine in gear": lambda s: s.engine == "in gear",
        "helm has answered": lambda s: s.answered,
        "helm held": lambda s: s.helm == "held",
        "helm offered": lambda s: s.helm == "offered",
        "line tended": lambda s: s.tended,
        "line tended or out of the water": lambda s: s.tended or s.line in _DRY,
        "line out of the water": lambda s: s.line in _DRY,
        "line in the water": lambda s: s.line == "in the water",
        "line made fast ashore": lambda s: s.line == "slack ashore",
        "nobody near the stern": lambda s: not s.somebody_near,
        "hand aboard": lambda s: s.hand == "aboard",
        "hand at the ladder": lambda s: s.hand == "at the ladder",
        "hand near": lambda s: s.hand == "near",
        "hand clear": lambda s: s.hand == "clear",
        "hand ashore": lambda s: s.hand == "ashore",
    }
)
"""What an event may wait for, by name."""

_QUIET = ("engine stopped", "helm has answered", "helm held", "line tended")
_MAY_TURN = ("nobody near the stern", "line tended or out of the water", "helm held")


class _Rule(NamedTuple):
    needs: tuple[str, ...]
    then: Mapping[str, str | bool]


EVENTS: Mapping[str, _Rule] = MappingProxyType(
    {
        "stop the engine": _Rule((), {"engine": "stopped"}),
        "answer engine stopped": _Rule(("engine stopped", "helm held"), {"answered": True}),
        "start the engine": _Rule(
            ("engine stopped", *_MAY_TURN), {"engine": "neutral", "answered": False}
        ),
        "put her in gear": _Rule(("engine out of gear", *_MAY_TURN), {"engine": "in gear"}),
        "take her out of gear": _Rule(("engine in gear",), {"engine": "neutral"}),
        "tend the line": _Rule((), {"tended": True}),
        "leave the line": _Rule(("line out of the water", "hand aboard"), {"tended": False}),
        "go to the ladder": _Rule(("hand aboard", *_QUIET), {"hand": "at the ladder"}),
        "step back aboard": _Rule(("hand at the ladder",), {"hand": "aboard"}),
        "take the line off": _Rule(
            ("hand at the ladder", "line out of the water", *_QUIET),
            {"hand": "near", "line": "in the water"},
        ),
        "call a length off": _Rule(("hand near",), {"hand": "clear"}),
        "come within a length": _Rule(("hand clear", *_QUIET), {"hand": "near"}),
        "land": _Rule(("hand clear",), {"hand": "ashore"}),
        "leave the shore": _Rule(("hand ashore", "line tended"), {"hand": "clear"}),
        "make the line fast": _Rule(
            ("hand ashore", "line in the water", "line tended"), {"line": "slack ashore"}
        ),
        "take in the slack": _Rule(("line made fast ashore",), {"line": "fast"}),
        "haul the line back": _Rule(
            ("hand aboard", "line in the water", "engine stopped"), {"line": "aboard"}
        ),
        "come up the ladder": _Rule(("hand near", *_QUIET), {"hand": "aboard"}),
        "offer the helm": _Rule(
            ("engine stopped", "helm held", "nobody near the stern"), {"helm": "offered"}
        ),
        "take the helm": _Rule(("helm offered",), {"helm": "held", "answered": False}),
    }
)
"""Everything that can happen, what each waits for, and what it changes."""


def step(state: Sequence, event: str) -> Taken:
    """What comes of an event; where it has to wait the state stays as it is.

    Parameters
    ----------
    state : Sequence
    event : str
        One of EVENTS.

    Returns
    -------
    Taken
        ``waits_for`` empty where it was done.

    Raises
    ------
    KeyError
        For an event nobody knows: a mistake of the program, not of the crew.
    """
    rule = EVENTS[event]
    waits_for = tuple(name for name in rule.needs if not CONDITIONS[name](state))
    if waits_for:
        return Taken(state, waits_for)
    return Taken(replace(state, **rule.then), ())  # type: ignore[arg-type]


def may_come(state: Sequence) -> tuple[str, ...]:
    """The events that need not wait."""
    return tuple(event for event in EVENTS if not step(state, event).waits_for)
