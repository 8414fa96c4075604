"""What a key does in practice: it becomes orders, or moves the clock, or the look."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from shorefast.manoeuvre import FAILURES, Failure, Moment, Order, Practice, Seen, drawn_value
from shorefast.quantities import to_si

PACES = (1, 2, 5)
BACK_S = 30.0
_HELM_DEG, _REVS, _PUSH = 5.0, 0.05, 0.5
_HELM_RAD = math.radians(_HELM_DEG)


@dataclass(frozen=True)
class Look:
    """What the keys have set beside orders.

    line : chosen; pace : how many times as fast; sure : a key that wants to be pressed again
    """

    line: int = 1
    pace: int = 1
    paused: bool = False
    near: bool = False
    keys: bool = False
    sure: str = ""
    over: bool = False


@dataclass(frozen=True)
class Pressed:
    """What came of a key: the look after it, orders, and how far to go back. [s]"""

    look: Look
    orders: tuple[Order, ...] = ()
    back_s: float = 0.0
    said: str = ""


def press(one: Practice, moment: Moment, row: Seen, look: Look, key: str) -> Pressed:
    """What a key does now.

    Parameters
    ----------
    row : Seen
        How she is.
    key : str
        One sign, or "left", "right", "up", "down".
    """
    if look.keys:
        return Pressed(replace(look, keys=False, paused=False))
    if look.sure and key != look.sure:
        look = replace(look, sure="")
    if key in _LOOKS:
        return _LOOKS[key](look)
    if key.isdigit() and key != "0":
        line = int(key)
        if line > len(one.gear):
            has = f"{len(one.gear)} lines" if one.gear else "no line"
            return Pressed(look, said=f"The lie has {has}.")
        return Pressed(replace(look, line=line), said=one.gear[line - 1].leg.name)
    if key in _OF_A_LINE and not one.gear:
        return Pressed(look, said="The lie has no line.")
    if key == "x":
        return _cast_off(look)
    if key in _PLAIN:
        return Pressed(look, (Order(_PLAIN[key]),))
    if key in _STEPS:
        return Pressed(look, _STEPS[key](one, moment, row, look))
    return Pressed(look, said="No such key; ? shows them.")


def _again(look: Look, key: str, said: str) -> Pressed:
    return Pressed(replace(look, sure=key), said=said)


def _cast_off(look: Look) -> Pressed:
    if look.sure != "x":
        return _again(look, "x", f"x again casts off line {look.line}.")
    return Pressed(replace(look, sure=""), (Order("cast off", line=look.line),))


def _quit(look: Look) -> Pressed:
    if look.sure != "q":
        return _again(look, "q", "q again ends it.")
    return Pressed(replace(look, over=True))


def _faster(look: Look) -> Pressed:
    return Pressed(replace(look, pace=PACES[(PACES.index(look.pace) + 1) % len(PACES)]))


_OF_A_LINE = ("x", "i", "u", "o")
_LOOKS: dict[str, Callable[[Look], Pressed]] = {
    "p": lambda look: Pressed(replace(look, paused=not look.paused)),
    "f": _faster,
    "b": lambda look: Pressed(look, back_s=BACK_S, said="30 seconds back."),
    "z": lambda look: Pressed(replace(look, near=not look.near)),
    "?": lambda look: Pressed(replace(look, keys=True)),
    "q": _quit,
}
_PLAIN = {
    "n": "neutral", "s": "stop engine", "a": "engine stopped", "g": "start engine",
    "l": "let go", "h": "hold chain", "w": "helm by crew", "c": "chain by crew",
}  # fmt: skip
_Steps = Callable[[Practice, Moment, Seen, Look], tuple[Order, ...]]


def _helm(by: float) -> _Steps:
    def steered(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
        deck = moment.deck
        now_rad = row.helm_rad if deck.helm_by_crew else deck.helm_rad
        steps = 0 if by == 0.0 else round(now_rad / _HELM_RAD) + round(by)
        most = math.floor(one.she.driven.most_rad / _HELM_RAD + 1e-9)
        return (Order("helm", to_si(_HELM_DEG * min(max(steps, -most), most), "angle", "deg")),)

    return steered


def _engine(by: int) -> _Steps:
    def geared(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
        deck = moment.deck
        now = row.revs if deck.helm_by_crew else deck.revs
        return (Order("revs", min(max(round(now / _REVS) + by, -20), 20) / 20.0),)

    return geared


def _push(share: float) -> _Steps:
    return lambda one, moment, row, look: (Order("thruster", share),)


def _chain(by_m: float) -> _Steps:
    def chained(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
        told = moment.deck.chain_to_m
        to_m = round(row.chain_m if told is None else told) + by_m
        return (Order("chain to", min(max(to_m, 0.0), math.floor(one.she.aboard_m))),)

    return chained


def _length(by_m: float) -> _Steps:
    def hauled(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
        told = moment.deck.line_to_m[look.line - 1]
        now_m = row.length_m[look.line - 1] if told is None else told
        return (Order("line to", max(1.0, round(now_m) + by_m), look.line),)

    return hauled


def _tend(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
    return (Order("leave line" if moment.deck.sequence.tended else "tend line"),)


def _hand(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
    """The hand's next step: to the ladder, off with the chosen line, back."""
    where = moment.deck.sequence.hand
    if where == "aboard":
        return (Order("go to ladder"),)
    if where == "at the ladder":
        return (Order("take line", line=look.line),)
    return (Order("come back"),)


def _fails(one: Practice, moment: Moment, row: Seen, look: Look) -> tuple[Order, ...]:
    """The next thing that has not failed yet, in an order the seed sets."""
    kinds = [kind for kind in FAILURES if moment.deck.has(kind) is None]
    if not kinds:
        return ()
    kind = kinds[(one.setting.seed + round(2.0 * moment.t_s)) % len(kinds)]
    return (Order("fail", failure=Failure(kind, moment.t_s, drawn_value(kind))),)


_STEPS: dict[str, _Steps] = {
    "left": _helm(-1.0), "right": _helm(1.0), "m": _helm(0.0),
    "up": _engine(1), "down": _engine(-1),
    "<": _push(-_PUSH), ">": _push(_PUSH), ".": _push(0.0),
    "v": _chain(1.0), "V": _chain(5.0), "k": _chain(-1.0), "K": _chain(-5.0),
    "i": _length(-1.0), "u": _length(1.0), "t": _tend, "o": _hand, "F": _fails,
}  # fmt: skip
EVERY_KEY = (*_LOOKS, "x", *_PLAIN, *_STEPS, *"123456789")
"""Every key that does something."""
