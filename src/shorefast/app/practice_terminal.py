"""Practice on a terminal: keys in, a screen out, the clock between."""

from __future__ import annotations

import os
import select
import shutil
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

from shorefast.app.practice_press import Look, Pressed, press
from shorefast.drawing import LEAST_COLUMNS, LEAST_ROWS, Screen, screen_rows, shown_of
from shorefast.errors import BadInput
from shorefast.manoeuvre import (
    TICK_S,
    Order,
    Practice,
    Practised,
    Rehearsal,
    seen_at,
    sounded_m,
    wind_at,
)
from shorefast.wording import NOT_HELD, TO_DO, happening_words

_ENTER, _LEAVE = "\x1b[?1049h\x1b[?25l", "\x1b[?25h\x1b[?1049l"
_HOME, _TO_END = "\x1b[H", "\x1b[K"
_ARROWS = {"A": "up", "B": "down", "C": "right", "D": "left"}
_KEPT, _IDLE_S = 40, 0.25


def has_terminal() -> bool:
    """Whether there is a terminal to take keys from and to draw on."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def by_keys(one: Practice) -> Practised:
    """Practise by the keyboard until the end is called; gives all of it.

    Raises
    ------
    BadInput
        Without a terminal, or on one that is too small.
    """
    if not has_terminal():
        raise BadInput(
            "practise",
            "no terminal to take keys from",
            "",
            "Name a script with --script, or run it on a terminal.",
        )
    if sys.platform == "win32":
        raise BadInput(
            "practise",
            "keys are not taken on this system's terminal",
            "",
            "Name a script with --script.",
        )
    size = shutil.get_terminal_size()
    if size.columns < LEAST_COLUMNS or size.lines < LEAST_ROWS:
        raise BadInput(
            "practise",
            f"a terminal of {size.columns} by {size.lines}",
            f"{LEAST_COLUMNS} by {LEAST_ROWS} at least wanted",
            "Make it larger, or name a script with --script.",
        )
    with _raw() as keys:
        return _Drawn(one).run(keys)


class Keys:
    """Keys as they come from a terminal in raw form."""

    def __init__(self, number: int) -> None:
        self.number, self._held = number, ""

    def within(self, wait_s: float) -> str | None:
        """The next key, waiting so long at most; None where there was none. [s]"""
        if not self._held and select.select([self.number], [], [], max(0.0, wait_s))[0]:
            self._held = os.read(self.number, 1024).decode("utf-8", "replace")
            if not self._held:
                # the terminal is gone
                raise KeyboardInterrupt
        if not self._held:
            return None
        key, self._held = split_key(self._held)
        return key


def split_key(signs: str) -> tuple[str, str]:
    """The first key of what a terminal sent, and the rest."""
    if signs.startswith(("\x1b[", "\x1bO")) and len(signs) > 2:
        return _ARROWS.get(signs[2], "other"), signs[3:]
    if signs[0] == "\x03":
        raise KeyboardInterrupt
    return signs[0], signs[1:]


@contextmanager
def _raw() -> Iterator[Keys]:
    """The terminal without echo and without waiting for a line, as it was after."""
    import termios
    import tty

    number = sys.stdin.fileno()
    before = termios.tcgetattr(number)
    try:
        tty.setcbreak(number)
        sys.stdout.write(_ENTER)
        yield Keys(number)
    finally:
        termios.tcsetattr(number, termios.TCSADRAIN, before)
        sys.stdout.write(_LEAVE)
        sys.stdout.flush()


class _Drawn:
    """One practice on one terminal."""

    def __init__(self, one: Practice) -> None:
        self.one, self.shown = one, shown_of(one)
        self.way = Rehearsal(one)
        self.look = Look(keys=True)
        self.said = ["Any key begins."]
        if one.way.held is None:
            self.said.insert(0, NOT_HELD)
        self.waiting: list[Order] = []

    @property
    def stands(self) -> bool:
        """Whether the clock stands."""
        return self.look.paused or self.look.keys

    def run(self, keys: Keys) -> Practised:
        """Until it is over; gives all of it."""
        due = time.monotonic()
        while not (self.look.over or self.way.is_over):
            self._draw()
            key = keys.within(_IDLE_S if self.stands else due - time.monotonic())
            if key is not None:
                self._take(press(self.one, self.way.moments[-1], self.way.rows[-1], self.look, key))
            if self.stands:
                due = time.monotonic()
            elif time.monotonic() >= due:
                self._tick()
                # a slow machine falls behind the clock and does not hurry after it
                due = max(due + TICK_S / self.look.pace, time.monotonic() - TICK_S)
        if not self.way.is_over:
            self.way.end()
        return self.way.told()

    def _take(self, pressed: Pressed) -> None:
        self.look = pressed.look
        self.waiting += pressed.orders
        if pressed.back_s:
            self.waiting = []
            self.way.back(pressed.back_s)
        if pressed.said:
            self._say(pressed.said)

    def _tick(self) -> None:
        orders, self.waiting = self.waiting, []
        for one in self.way.on(orders).happened:
            self._say(happening_words(one))
            if one.kind == "failure":
                self._say(f"Wanted: {TO_DO[one.of]}")

    def _say(self, text: str) -> None:
        self.said = [*self.said, text][-_KEPT:]

    def _draw(self) -> None:
        moment, size = self.way.moments[-1], shutil.get_terminal_size()
        now = seen_at(self.one, moment)
        pace = "paused" if self.look.paused else f"time x{self.look.pace}"
        screen = Screen(
            self.one, self.shown, moment, self.way.rows[-1], wind_at(self.one, moment),
            sounded_m(self.one, moment.deck, now), tuple(self.said), self.look.line, pace,
            self.look.near, self.look.keys,
        )  # fmt: skip
        rows = screen_rows(screen, max(size.columns, LEAST_COLUMNS), max(size.lines, LEAST_ROWS))
        sys.stdout.write(_HOME + (_TO_END + "\r\n").join(rows) + _TO_END)
        sys.stdout.flush()
