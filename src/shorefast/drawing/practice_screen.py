"""One screen of practice: the plan, what is read off beside it, what was said, the keys."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shorefast.drawing.practice_chars import Shown, plan_rows
from shorefast.wording import PLAN_SIGNS, SHORT_KEYS, beside_plan, clock_of, key_rows

if TYPE_CHECKING:
    from shorefast.manoeuvre import Moment, Practice, Seen

LEAST_COLUMNS, LEAST_ROWS = 80, 24
_BESIDE = 30
_SAID_ROWS = 2
# where a wind from the bow, from starboard of it and so on round flies to, the bow down
_ARROWS = "↑↗→↘↓↙←↖"


@dataclass(frozen=True)
class Screen:
    """What a screen shows.

    wind : (speed at her windage [m/s], where from); sounded_m : as the sounder shows it
    said : the last things said, oldest first; line : which is chosen; pace : "paused", "x2"
    near : the plan about her alone; keys : the list of keys instead of the plan
    """

    one: Practice
    shown: Shown
    moment: Moment
    row: Seen
    wind: tuple[float, float]
    sounded_m: float
    said: tuple[str, ...]
    line: int
    pace: str
    near: bool = False
    keys: bool = False


def screen_rows(screen: Screen, columns: int, rows: int) -> list[str]:
    """The screen as so many rows, each as wide as it is; made for 80 by 24 and more."""
    high = rows - _SAID_ROWS - 2
    head = _head(screen, columns)
    body = _all_keys(columns, high) if screen.keys else _plan(screen, columns, high)
    said = [_fit(text, columns) for text in ("", *screen.said)[-_SAID_ROWS:]]
    said = [" " * columns] * (_SAID_ROWS - len(said)) + said
    return [head, *body, *said, _fit(SHORT_KEYS, columns)]


def _head(screen: Screen, columns: int) -> str:
    left = f"{screen.one.stay.bay.name}"
    right = f"line {screen.line}   {screen.pace}   {clock_of(screen.moment.t_s)}"
    room = columns - len(right) - 1
    return _fit(left, room) + " " + right


def _plan(screen: Screen, columns: int, high: int) -> list[str]:
    wide = columns - _BESIDE - 1
    size = (wide, high, screen.near)
    plan = plan_rows(screen.one, screen.shown, screen.moment, screen.row, size)
    plan[0] = _blown(screen, plan[0])
    beside = beside_plan(screen.one, screen.moment.deck, screen.row, screen.wind, screen.sounded_m)
    beside = (beside + [""] * high)[:high]
    return [f"{left} {_fit(right, _BESIDE)}" for left, right in zip(plan, beside, strict=True)]


def _blown(screen: Screen, row: str) -> str:
    """The wind's arrow at the left of the uppermost row: it flies with the wind."""
    turned = screen.wind[1] - screen.one.arrival.planned[2]
    sign = _ARROWS[round(turned / (0.25 * math.pi)) % len(_ARROWS)]
    return f"wind {sign} {row[7:]}"


def _all_keys(columns: int, high: int) -> list[str]:
    """The keys in two columns, the left one the wider; what stands for what on the plan."""
    left = (key_rows(0, high) + [""] * high)[:high]
    right = ([*key_rows(high), *PLAN_SIGNS] + [""] * high)[:high]
    wide = columns - _BESIDE
    return [
        _fit(_fit(one, wide - 1) + " " + other, columns)
        for one, other in zip(left, right, strict=True)
    ]


def _fit(text: str, wide: int) -> str:
    """A text cut or filled to so many letters."""
    if len(text) > wide:
        text = text[: max(0, wide - 1)] + "…"
    return f"{text:<{wide}}"
