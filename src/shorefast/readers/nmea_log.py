"""A log's sentences gathered as they come: fixes, depths, headings, each with its line."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from shorefast.readers.depths import Tally
from shorefast.readers.nmea_fields import (
    Depth,
    Fix,
    course_of,
    dated,
    depth_of,
    fix_of,
    heading_of,
    variation_of,
)
from shorefast.readers.nmea_sentence import Heard, Sentence, sentences

Floats = NDArray[np.float64]
Stream = tuple[bytes, bytes]
Row = TypeVar("Row", bound=tuple[Any, ...])

_DAY_S = 86_400.0
_HALF_DAY_S = _DAY_S / 2.0
# Depths below the surface first, then those that carry their offset.
DEPTHS_IN_ORDER = (b"DBS", b"DPT", b"DBT")
FIXES_IN_ORDER = (b"RMC", b"GGA", b"GLL")
HEADINGS_IN_ORDER = (b"HDT", b"HDG", b"HDM")
_FEW = 0.5


class Clock(NamedTuple):
    """Seconds of each fix: since the year 1, or since the first midnight if no date is known."""

    t_s: Floats
    has_date: bool


@dataclass
class Gathered:
    """Sentences of one log or feed; ``take`` adds one.

    ``asked`` are the lines (after, until) whose soundings are wanted.
    """

    name: str
    tally: Tally = field(default_factory=Tally)
    heard: Heard = field(default_factory=Heard)
    fixes: dict[Stream, list[tuple[int, Fix]]] = field(default_factory=lambda: defaultdict(list))
    depths: dict[Stream, list[tuple[int, Depth]]] = field(default_factory=lambda: defaultdict(list))
    headings: dict[Stream, list[tuple[int, float, float]]] = field(
        default_factory=lambda: defaultdict(list)
    )
    courses: list[tuple[int, float, float]] = field(default_factory=list)
    dates: list[tuple[int, float, int]] = field(default_factory=list)
    variation_rad: float = math.nan
    hdop: float = math.nan
    asked: tuple[int, int | None] = (0, None)

    def take(self, sentence: Sentence) -> None:
        """Add one sentence."""
        kind = sentence.kind
        if kind in FIXES_IN_ORDER:
            self._take_fix(sentence)
        elif kind in DEPTHS_IN_ORDER:
            self._take_depth(sentence)
        elif kind in (b"HDT", b"HDG", b"HDM"):
            self._take_heading(sentence)
        elif kind == b"VTG":
            self.courses.append((sentence.line, *course_of(sentence)))
        elif (found := dated(sentence)) is not None:
            self.dates.append((sentence.line, *found))

    def where(self, line: int) -> str:
        """``run.log, line 5``."""
        return f"{self.name}, line {line}"

    def forget(self, line: int) -> None:
        """Drop what came before that line, but for the last date."""
        _drop(self.fixes, line)
        _drop(self.depths, line)
        _drop(self.headings, line)
        self.courses = [row for row in self.courses if row[0] >= line]
        self.dates = [row for row in self.dates[:-1] if row[0] >= line] + self.dates[-1:]

    def _take_fix(self, sentence: Sentence) -> None:
        found, why = fix_of(sentence)
        if found is None:
            self.tally.add(why, self.where(sentence.line))
            return
        self.hdop = found.hdop if math.isfinite(found.hdop) else self.hdop
        self.fixes[sentence.talker, sentence.kind].append(
            (sentence.line, found._replace(hdop=self.hdop))
        )
        if sentence.kind == b"RMC":
            self._take_rmc(sentence, found)

    def _take_rmc(self, sentence: Sentence, found: Fix) -> None:
        self.courses.append((sentence.line, found.course_rad, found.speed_mps))
        if found.date is not None:
            self.dates.append((sentence.line, found.day_s, found.date))
        variation = variation_of(sentence)
        self.variation_rad = variation if math.isfinite(variation) else self.variation_rad

    def _take_depth(self, sentence: Sentence) -> None:
        found = depth_of(sentence)
        if found is None:
            self.tally.add("no depth in the sentence", self.where(sentence.line))
            return
        self.depths[sentence.talker, sentence.kind].append((sentence.line, found))

    def _take_heading(self, sentence: Sentence) -> None:
        heading, to_true = heading_of(sentence)
        if math.isnan(heading):
            return
        if sentence.kind == b"HDG" and math.isfinite(to_true):
            self.variation_rad = to_true
        self.headings[sentence.talker, sentence.kind].append((sentence.line, heading, to_true))


def _drop(streams: dict[Stream, list[Row]], line: int) -> None:
    for key, rows in streams.items():
        streams[key] = [row for row in rows if row[0] >= line]


def gather(lines: Iterable[bytes], name: str, *, checked: bool = True) -> Gathered:
    """All sentences of a log."""
    gathered = Gathered(name)
    for sentence in sentences(lines, gathered.heard, checked=checked):
        gathered.take(sentence)
    return gathered


def best(streams: Mapping[Stream, Sequence[object]], order: tuple[bytes, ...]) -> Stream | None:
    """The first kind in order with at least half of the most; of it the talker with most."""
    most = max((len(rows) for rows in streams.values()), default=0)
    for kind in order:
        of_kind = [key for key in streams if key[1] == kind]
        longest = max(of_kind, key=lambda key: len(streams[key]), default=None)
        if longest is not None and len(streams[longest]) >= _FEW * most:
            return longest
    return None


def clock(gathered: Gathered, rows: Sequence[tuple[int, Fix]], day: int | None) -> Clock:
    """When each of the fixes was.

    A time of day that falls by more than half a day is past midnight. Dates are those of
    the last sentence that told one, before the first the first one's, else the day told.

    Parameters
    ----------
    rows : the fixes with their lines
    day : int or None
        The day's number of the first fix, used where the log tells none.
    """
    told = [(line, when, date) for line, when, date in gathered.dates]
    own = [(line, fix.day_s, -1) for line, fix in rows]
    both = np.array(told + own, dtype=float).reshape(-1, 3)
    is_own = np.arange(len(both)) >= len(told)
    order = np.lexsort((is_own, both[:, 0]))
    both, is_own = both[order], is_own[order]
    turned = np.diff(both[:, 1], prepend=both[:1, 1])
    days = np.cumsum((turned < -_HALF_DAY_S).astype(int) - (turned > _HALF_DAY_S))
    dated_at = np.flatnonzero(both[:, 2] >= 0.0)
    if dated_at.size:
        last = np.maximum(np.searchsorted(dated_at, np.arange(len(both)), side="right") - 1, 0)
        days = days + (both[:, 2] - days)[dated_at[last]]
    elif day is not None:
        days = days + day
    t_s = days * _DAY_S + both[:, 1]
    return Clock(t_s[is_own], bool(dated_at.size) or day is not None)
