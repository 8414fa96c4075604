"""The strip of the stay: wind, night, tide, use with its spread, the limit, leave by."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing import marks
from shorefast.drawing.labels import Board
from shorefast.drawing.page import Box, Page, Points, Style, path_of
from shorefast.drawing.scene import Scene, most, of_members
from shorefast.drawing.strip_odds import draw_odds
from shorefast.quantities import from_si
from shorefast.wording import clock, local, metres, use_words

if TYPE_CHECKING:
    from shorefast.stay import Judgement, Odds

Floats = NDArray[np.float64]
Span = tuple[datetime, datetime]
MoonSpan = tuple[datetime, datetime, float]
_AXIS = Style("sans", "ink", 8.0, "middle")
_SMALL = Style("sans", "ink", 8.5)
_REMARK = Style("italic", "soft", 8.5)
_TOUCHES = Style("italic", "give", 8.5)
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_WIND_PT = 22.0
_ODDS_PT = 11.0
_FOOT_PT = 13.0


@dataclass(frozen=True)
class Hours:
    """Times across the strip, uses up it."""

    frame: Box
    from_s: float
    until_s: float
    top_use: float
    head_pt: float = _WIND_PT

    def x(self, at_s: Floats) -> Floats:
        """Where times stand. [pt]"""
        share = (np.asarray(at_s) - self.from_s) / max(self.until_s - self.from_s, 1.0)
        return self.frame.left + share * self.frame.width

    def y(self, use: Floats) -> Floats:
        """Where uses stand, cut at the top. [pt]"""
        room = self.frame.height - self.head_pt - 4.0
        return self.frame.bottom - np.clip(use, 0.0, self.top_use) / self.top_use * room


class Beside(NamedTuple):
    """What else stands on the strip: dark hours with a moon, the odds hour by hour."""

    moonlight: Sequence[MoonSpan] = ()
    odds: Odds | None = None


def strip_words(judgement: Judgement, with_odds: bool = False) -> str:
    """What the strip's signs mean, in one row above it."""
    words = "wind in knots, mean/gust, arrows as on the plan · line: greatest use of any part"
    if len(judgement.member) > 1:
        words += ", middle of the members; band: nine in ten of them"
    words += " · dotted: tide" if has_tide(judgement) else ""
    return words + (
        " · below the wind: odds of a limit passed, 1 in 200 and up" if with_odds else ""
    )


def draw_strip(
    page: Page,
    frame: Box,
    scene: Scene,
    night: Sequence[Span],
    beside: Beside | None = None,
) -> None:
    """Paint the strip; the frame keeps room below for the row of hours."""
    moonlight, odds = beside or Beside()
    frame = Box(frame.left, frame.top, frame.right, frame.bottom - _FOOT_PT)
    judgement, stay = scene.judgement, scene.stay
    at_s = judgement.time_utc.astype("datetime64[s]").astype(np.int64).astype(float)
    first, last = stay.from_utc.timestamp(), stay.until_utc.timestamp()
    head_pt = _WIND_PT + (0.0 if odds is None else _ODDS_PT)
    hours = Hours(frame, first, max(last, first + 60.0), _top_use(judgement), head_pt)
    board = Board(frame.grown(-0.5))
    page.begin("strip", "The stay hour by hour", frame)
    page.box(frame, "panel")
    _night(page, hours, night)
    _unknown(page, hours, judgement, at_s)
    _tide(page, board, hours, scene, at_s)
    _use(page, board, hours, judgement, at_s)
    page.end()
    _limit(page, board, hours)
    _leave(page, board, hours, scene)
    _limit_name(page, board, hours)
    _cut_off(page, board, hours, judgement, at_s)
    shown = _winds(page, board, hours, scene, at_s)
    if odds is not None:
        draw_odds(page, board, (hours.frame.top + _WIND_PT + 7.0, hours.x(at_s)), odds, shown)
    _tide_names(page, board, hours, scene, at_s)
    _unknown_names(page, board, hours, judgement, at_s)
    _moonlight(page, board, hours, moonlight)
    _night_names(page, board, hours, night)
    page.box(frame, "frame")
    _clock_row(page, hours, scene)


def _top_use(judgement: Judgement) -> float:
    high = of_members(_reached(judgement), 0.95)
    high_use = most(high[np.isfinite(high)])
    high_use = 1.0 if not math.isfinite(high_use) else high_use
    return min(max(1.25, 1.08 * high_use), 3.0)


def _reached(judgement: Judgement) -> Floats:
    """Greatest uses, infinite where she touches: no share of a limit tells that."""
    return np.where(judgement.touches, np.inf, judgement.greatest_use)


def _night(page: Page, hours: Hours, night: Sequence[Span]) -> None:
    for begin, end in night:
        left, right = hours.x(np.array([begin.timestamp(), end.timestamp()])).tolist()
        left, right = max(left, hours.frame.left), min(right, hours.frame.right)
        if right > left:
            page.box(Box(left, hours.frame.top, right, hours.frame.bottom), "dark")


def _unknown(page: Page, hours: Hours, judgement: Judgement, at_s: Floats) -> None:
    """Hours in which some member's use is unknown, hatched."""
    if len(at_s) < 1:
        return
    unknown = unknown_hours(judgement)
    edges = np.concatenate(([at_s[0]], (at_s[1:] + at_s[:-1]) / 2, [at_s[-1]]))
    x = hours.x(edges)
    for hour in np.flatnonzero(unknown).tolist():
        left, right = max(x[hour], hours.frame.left), min(x[hour + 1], hours.frame.right)
        if right > left:
            page.box(Box(left, hours.frame.top + hours.head_pt, right, hours.frame.bottom), "bare")


def unknown_hours(judgement: Judgement) -> NDArray[np.bool_]:
    """Hours in which some member's use is unknown."""
    return np.asarray(np.isnan(judgement.greatest_use).any(axis=0))


def _unknown_names(
    page: Page, board: Board, hours: Hours, judgement: Judgement, at_s: Floats
) -> None:
    x = hours.x(at_s)
    for first, last in _runs(unknown_hours(judgement)):
        middle = float(x[first] + x[last - 1]) / 2
        starts = [(middle - 15.0, hours.frame.top + drop) for drop in (40.0, 50.0, 60.0, 70.0)]
        board.set_one(page, "unknown", _SMALL, np.array(starts))


def _use(page: Page, board: Board, hours: Hours, judgement: Judgement, at_s: Floats) -> None:
    """The middle of the members' greatest use, and the spread of nine in ten of them."""
    reached = _reached(judgement)
    low, middle, high = (of_members(reached, share) for share in (0.05, 0.5, 0.95))
    x = hours.x(at_s)
    for first, last in _runs(~np.isnan(middle)):
        row = slice(first, last)
        upper = np.column_stack((x[row], hours.y(high[row])))
        lower = np.column_stack((x[row], hours.y(low[row])))
        if len(judgement.member) > 1:
            page.rows(np.vstack((upper, lower[::-1])), "spread", closed=True)
            board.ink(upper, 0.4)
        line = np.column_stack((x[row], hours.y(middle[row])))
        page.path(_curve(line), "curve")
        board.ink(line, 3.0)


def _curve(row: Points) -> str:
    if len(row) > 1:
        return path_of(row)
    x, y = row[0].tolist()
    return f"M{x - 2:.1f} {y:.1f}h4"


def _runs(known: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], known, [False]))))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def has_tide(judgement: Judgement) -> bool:
    """Whether the water moves enough to draw it."""
    level = of_members(judgement.water_level_m, 0.5)
    known = level[np.isfinite(level)]
    return bool(known.size > 1 and np.ptp(known) >= 0.05)


def _tide_row(hours: Hours, scene: Scene, at_s: Floats) -> Points | None:
    level = of_members(scene.judgement.water_level_m, 0.5)
    known = np.isfinite(level)
    if not has_tide(scene.judgement):
        return None
    share = (level - level[known].min()) / np.ptp(level[known])
    y = hours.frame.bottom - 6.0 - share * 22.0
    return np.column_stack((hours.x(at_s), y))[known]


def _tide(page: Page, board: Board, hours: Hours, scene: Scene, at_s: Floats) -> None:
    row = _tide_row(hours, scene, at_s)
    if row is not None:
        page.rows(row, "tide")
        board.ink(row, 1.0)


def _tide_names(page: Page, board: Board, hours: Hours, scene: Scene, at_s: Floats) -> None:
    """High and low waters inside the stay, by name, height and time."""
    level = of_members(scene.judgement.water_level_m, 0.5)
    row = _tide_row(hours, scene, at_s)
    if row is None or not np.isfinite(level).all():
        return
    for index in range(1, len(level) - 1):
        rise, fall = level[index] - level[index - 1], level[index + 1] - level[index]
        if rise > 0.0 >= fall or rise < 0.0 <= fall:
            name = "high" if rise > 0.0 else "low"
            when = clock(scene.judgement.time_utc[index], scene.stay.bay.zone_name)
            words = f"{name} {metres(float(level[index]))} {when}"
            _beside(page, board, row[index].tolist(), words, _REMARK)


def _beside(page: Page, board: Board, at: list[float], words: str, style: Style) -> None:
    """Words near a place on a curve, where they cover least; left out where nothing is free."""
    wide = style.width_pt(words)
    shifts = [(x, y) for y in (-4.0, 10.0, -14.0, 20.0) for x in (-wide / 2, 3.0, -wide - 3.0)]
    board.set_one(page, words, style, np.array(at) + np.array(shifts))


def _limit(page: Page, board: Board, hours: Hours) -> None:
    y = float(hours.y(np.array(1.0)))
    row = np.array([(hours.frame.left, y), (hours.frame.right, y)])
    page.rows(row, "limit")
    board.ink(row, 3.0)


def _limit_name(page: Page, board: Board, hours: Hours) -> None:
    y = float(hours.y(np.array(1.0)))
    words = "all it should carry"
    style = Style("italic", "give", 8.5)
    wide = style.width_pt(words)
    lefts = (hours.frame.left + 5.0, hours.frame.right - wide - 5.0)
    starts = [(left, y + drop) for drop in (8.6, -3.0) for left in lefts]
    board.set_one(page, words, style, np.array(starts))


def _cut_off(page: Page, board: Board, hours: Hours, judgement: Judgement, at_s: Floats) -> None:
    """Says how high the use goes where it is cut off at the top, and from when she touches."""
    high = of_members(_reached(judgement), 0.95)
    touches = np.isposinf(high)
    carried = np.where(touches, np.nan, high)
    said = []
    if most(carried) > hours.top_use:
        hour = int(np.nanargmax(carried))
        use = use_words(float(carried[hour]))
        words = f"{use} times that" if use.startswith("over") else f"up to {use} times that"
        said.append((words, float(hours.x(at_s[hour])), _SMALL))
    for first, last in _runs(touches):
        middle = float(hours.x(at_s[[first, last - 1]]).mean())
        said.append(("she may touch", middle, _TOUCHES))
    y = hours.frame.top + hours.head_pt + 12.0
    for words, x, style in said:
        left = x - style.width_pt(words) / 2
        shifts = (0.0, 40.0, -40.0, 90.0, -90.0, 150.0, -150.0)
        board.set_one(page, words, style, np.array([(left + shift, y) for shift in shifts]))


def _leave(page: Page, board: Board, hours: Hours, scene: Scene) -> None:
    judgement, zone = scene.judgement, scene.stay.bay.zone_name
    named = []
    if judgement.leave_by_utc is not None:
        named.append((judgement.leave_by_utc, "leave by"))
    elif judgement.past_from_utc is not None:
        named.append((judgement.past_from_utc, "past a limit from"))
    for at_utc, words in named:
        x = float(hours.x(np.array(at_utc.timestamp())))
        if not hours.frame.left - 1.0 <= x <= hours.frame.right + 1.0:
            continue
        page.line((x, hours.frame.top), (x, hours.frame.bottom), "give-arc")
        board.take(Box(x - 1.5, hours.frame.top, x + 1.5, hours.frame.bottom), 0.5)
        said = f"{words} {clock(at_utc, zone)}"
        style = Style("bold", "give", 9.0)
        wide = style.width_pt(said)
        heights = [hours.head_pt + down for down in (12.0, 24.0, 36.0, 48.0)]
        sides = (x - wide - 5.0, x + 5.0)
        starts = [(left, hours.frame.top + high) for high in heights for left in sides]
        board.set_one(page, said, style, np.array(starts))


def _winds(page: Page, board: Board, hours: Hours, scene: Scene, at_s: Floats) -> list[int]:
    """Arrows flying with the wind, turned as the plan is, with mean and gust in knots.

    Returns
    -------
    shown : list of int
        The times at which a wind stands.
    """
    shown: list[int] = []
    judgement = scene.judgement
    knot = from_si(1.0, "speed", "kn")
    mean = of_members(judgement.wind_mps, 0.5) * knot
    gust = of_members(judgement.gust_mps, 0.5) * knot
    turn = middle_bearing(judgement.wind_from_rad)
    last = hours.frame.left - 99.0
    y = hours.frame.top + 11.5
    for hour, x in enumerate(hours.x(at_s).tolist()):
        if x < last:
            continue
        words = _wind_words(float(mean[hour]), float(gust[hour]))
        wide = 18.0 + _SMALL.width_pt(words)
        box = Box(x - 9.0, y - 8.0, x - 9.0 + wide, y + 8.0)
        if not board.free(box):
            continue
        if math.isfinite(turn[hour]):
            off = float(turn[hour]) - scene.lie.heading_rad
            marks.wind_arrow(page, (x, y), (math.sin(off), -math.cos(off)))
        page.text(x + 9.0, y + 3.0, words, _SMALL)
        board.take(box)
        shown.append(hour)
        last = x + wide + 5.0
    return shown


def _wind_words(mean_kn: float, gust_kn: float) -> str:
    if not math.isfinite(mean_kn):
        return "unknown" if not math.isfinite(gust_kn) else f"gust {gust_kn:.0f}"
    return f"{mean_kn:.0f}" + (f"/{gust_kn:.0f}" if math.isfinite(gust_kn) else "")


def middle_bearing(bearing_rad: Floats) -> Floats:
    """The members' mean direction, hour by hour; NaN where none is known."""
    known = np.isfinite(bearing_rad)
    turn = np.where(known, bearing_rad, 0.0)
    east = np.sum(np.sin(turn) * known, axis=0)
    north = np.sum(np.cos(turn) * known, axis=0)
    return np.where(known.any(axis=0), np.arctan2(east, north), np.nan)


def _night_names(page: Page, board: Board, hours: Hours, night: Sequence[Span]) -> None:
    for begin, end in night:
        left, right = hours.x(np.array([begin.timestamp(), end.timestamp()])).tolist()
        left, right = max(left, hours.frame.left), min(right, hours.frame.right)
        if right - left > 30.0:
            lefts = (left + 4.0, (left + right) / 2, right - 26.0)
            heights = (
                hours.frame.top + hours.head_pt + 9.0,
                hours.frame.bottom - 3.0,
                hours.frame.bottom - 30.0,
            )
            starts = np.array([(x, y) for y in heights for x in lefts])
            board.set_one(page, "night", _REMARK, starts)


def _moonlight(page: Page, board: Board, hours: Hours, spans: Sequence[MoonSpan]) -> None:
    """A thin line over the dark hours with a moon, and how much of her is lit."""
    y = hours.frame.top + hours.head_pt + 1.5
    for begin, end, share in spans:
        left, right = hours.x(np.array([begin.timestamp(), end.timestamp()])).tolist()
        left, right = max(left, hours.frame.left), min(right, hours.frame.right)
        if right - left < 3.0:
            continue
        row = np.array([(left, y), (right, y)])
        page.rows(row, "moon")
        board.ink(row, 1.0)
        words = f"moon, {100.0 * share:.0f} % lit"
        wide = _REMARK.width_pt(words)
        if right - left > wide + 8.0:
            lefts = (left + 3.0, (left + right - wide) / 2, right - wide - 3.0)
            starts = np.array([(x, y + drop) for drop in (9.0, 19.0) for x in lefts])
            board.set_one(page, words, _REMARK, starts)


def _clock_row(page: Page, hours: Hours, scene: Scene) -> None:
    """Whole hours on the place's clocks, the day's name at midnight."""
    zone = scene.stay.bay.zone_name
    frame = hours.frame
    span_h = (hours.until_s - hours.from_s) / 3600.0
    steps = (1 / 6, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24)
    step_h = next((s for s in steps if frame.width * s / max(span_h, 0.01) > 34.0), 24)
    first = local(datetime.fromtimestamp(hours.from_s, UTC), zone)
    shown = first.replace(hour=0, minute=0, second=0, microsecond=0)
    last = local(datetime.fromtimestamp(hours.until_s, UTC), zone)
    while shown <= last:
        x = float(hours.x(np.array(shown.timestamp())))
        if frame.left - 0.1 <= x <= frame.right + 0.1:
            midnight = shown.hour == 0 and shown.minute == 0
            words = f"{_DAYS[shown.weekday()]} {shown.day}" if midnight else f"{shown:%H:%M}"
            page.line((x, frame.bottom), (x, frame.bottom + 2.5), "frame")
            half = _AXIS.width_pt(words) / 2
            page.text(min(max(x, frame.left + half), frame.right - half),
                      frame.bottom + 10.8, words, _AXIS)  # fmt: skip
        shown += timedelta(hours=step_h)
