"""What this boat can do, drawn: one A4 page, black on white, to be looked at in the cockpit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.able_scales import (
    Curve,
    Scales,
    draw_curves,
    ticks_across,
    ticks_beside,
    ticks_up,
)
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import first_rows, fitted, rows_of, shortened
from shorefast.drawing.page import Box, Page, Points, Style
from shorefast.quantities import from_si
from shorefast.wording import able_notes, able_subtitle, kilograms, knots, metres, slope_words

if TYPE_CHECKING:
    from shorefast.manoeuvre import Able

Floats = NDArray[np.float64]
_WIDE_PT, _HIGH_PT = 595.28, 841.89
_MARGIN_PT = 34.0
_MOST_KN = 60.0
_KG = (10, 25, 50, 75, 100, 150, 200, 250, 300, 400, 500, 600, 800, 1000, 1250, 1500, 2000, 3000)
_TITLE = Style("title", "ink", 12.5)
_AXIS = Style("italic", "soft", 8.5)
_SAID = Style("sans", "ink", 9.0)
_HEAD = Style("bold", "ink", 9.0)
_CAUTION = Style("italic", "ink", 8.0)


def able_page(found: Able, cautions: Sequence[str]) -> Page:
    """One A4 page: pull before the shank lifts, chain for a wind, lines, fall, and notes.

    Parameters
    ----------
    found : Able
    cautions : sequence of str
        Sentences for the foot.
    """
    page = Page(_WIDE_PT, _HIGH_PT)
    page.box(Box(0.0, 0.0, _WIDE_PT, _HIGH_PT), "paper")
    _head(page, found)
    _pulls(page, found, Box(_MARGIN_PT + 30.0, 112.0, _WIDE_PT - _MARGIN_PT - 66.0, 442.0))
    _needed(page, found, Box(_MARGIN_PT + 22.0, 508.0, 238.0, 648.0))
    _lines(page, found, Box(268.0, 488.0, 424.0, 660.0))
    _falls(page, found, Box(460.0, 508.0, _WIDE_PT - _MARGIN_PT, 648.0))
    _notes(page, found, cautions)
    return page


def _head(page: Page, found: Able) -> None:
    page.begin("head", "Which boat, and what she carries")
    room = _WIDE_PT - 2.0 * _MARGIN_PT
    title = f"{found.name}: what she can do"
    size = fitted(title, "title", (20.0, 12.0), room)
    page.text(_MARGIN_PT, 48.0, shortened(title, "title", size, room), Style("title", "ink", size))
    rows = first_rows(able_subtitle(found), "sans", 9.5, room, 2)
    page.text_rows(_MARGIN_PT, 63.0, rows, Style("sans", "soft", 9.5))
    page.end()


def _pulls(page: Page, found: Able, frame: Box) -> None:
    """The main picture: pull at the left, the winds it equals at the right."""
    page.text(_MARGIN_PT, 91.0, "Greatest steady pull before the shank lifts", _TITLE)
    curve = found.curve
    ahead = _per_root(found.needed.wind_mps, found.needed.pull_n)
    abeam = _per_root(curve.abeam.nominal_mps, curve.pull_n)
    most_m = float(found.chain[0].depth_m.max())
    scales = Scales(frame, most_m, _most_kn(found))
    page.box(frame, "panel")
    ticks_across(page, scales, np.arange(0.0, most_m + 0.1, 5.0).tolist())
    kg_n = from_si(1.0, "force", "kgf")
    pulls = [
        (kg, scales.y(_kn(ahead * math.sqrt(kg / kg_n))))
        for kg in _KG
        if _kn(ahead * math.sqrt(kg / kg_n)) <= scales.most_up
    ]
    ticks_beside(page, frame.left, pulls, left=True)
    for _, y in pulls:
        page.line((frame.left, y), (frame.right, y), "faint-line")
    every = np.arange(5.0, scales.most_up + 0.1, 5.0).tolist()
    ticks_beside(page, frame.right, [(kn, scales.y(kn)) for kn in every])
    _axis_names(page, frame)
    if math.isfinite(abeam):
        beam = [
            (kn, scales.y(kn * ahead / abeam)) for kn in every if kn * ahead / abeam <= every[-1]
        ]
        ticks_beside(page, frame.right + 30.0, beam)
        page.line((frame.right + 30.0, frame.top), (frame.right + 30.0, frame.bottom), "frame")
    board = Board(frame.grown(-1.0))
    page.begin("pulls", "Pull before the shank lifts by depth, a curve a slope", frame)
    curves = [one for k in range(len(curve.slope_rad)) if (one := _slope(found, scales, k))]
    _engine(page, board, found, scales)
    draw_curves(page, board, frame, curves)
    if not curves:
        _nothing(page, board, frame)
    _engine_name(page, board, found, scales)
    page.end()
    page.box(frame, "frame")


def _nothing(page: Page, board: Board, frame: Box) -> None:
    middle = ((frame.left + frame.right) / 2.0, (frame.top + frame.bottom) / 2.0)
    said = "too deep for her chain: one hand's pull lifts the shank"
    board.set(page, Wish((said,), middle, _SAID, must=True, backed=True))


def _axis_names(page: Page, frame: Box) -> None:
    above = frame.top - 8.0
    page.text(frame.left, above, "kg of pull", Style("italic", "soft", 8.5, "end"))
    page.text(frame.right + 2.0, above, "kn, bow", _AXIS)
    page.text(frame.right + 32.0, above, "abeam", _AXIS)
    said = "depth of the water where the anchor lies, in metres"
    middle = (frame.left + frame.right) / 2.0
    page.text(middle, frame.bottom + 20.0, said, Style("italic", "soft", 8.5, "middle"))


def _kn(speed_mps: float) -> float:
    return from_si(speed_mps, "speed", "kn")


def _per_root(wind_mps: Floats, pull_n: Floats) -> float:
    """Wind over the root of its pull, alike wherever both are known."""
    known = np.isfinite(wind_mps) & np.isfinite(pull_n) & (pull_n > 0.0)
    if not known.any():
        return math.nan
    return float((wind_mps[known] / np.sqrt(pull_n[known]))[0])


def _most_kn(found: Able) -> float:
    """How far up the picture goes: all of it in sight, 60 kn at the most."""
    shown = found.curve.depth_m >= float(found.chain[0].depth_m.min())
    winds = found.curve.ahead.nominal_mps[shown]
    known = winds[np.isfinite(winds)]
    most = _kn(float(known.max())) if known.size else 30.0
    if found.engine is not None:
        most = max(most, 1.05 * _kn(float(found.engine.ahead.nominal_mps[0])))
    return min(_MOST_KN, 5.0 * math.ceil(max(most, 25.0) / 5.0))


def _slope(found: Able, scales: Scales, k: int) -> Curve | None:
    """One slope's curve; fine where less chain than all is out, dashed down-slope."""
    curve = found.curve
    up = _kn(1.0) * curve.ahead.nominal_mps[:, k]
    whole = np.array([row[k] == "all out" for row in curve.why])
    deepest = curve.depth_m <= scales.most_across
    down = float(curve.slope_rad[k]) < 0.0
    pieces: list[tuple[Points, str]] = []
    for which, kind in ((whole, "dashed" if down else "outline"), (~whole, "dotted")):
        for run in _runs(which & np.isfinite(up) & deepest):
            # the two kinds meet
            run = np.append(run, run[-1] + 1) if _goes_on(run, up, deepest) else run
            pieces.append((scales.to_page(curve.depth_m[run], up[run]), kind))
    pieces = [(points, kind) for points, kind in pieces if len(points) > 1]
    return Curve(slope_words(float(curve.slope_rad[k])), tuple(pieces)) if pieces else None


def _goes_on(run: NDArray[np.int64], up: Floats, deepest: NDArray[np.bool_]) -> bool:
    after = int(run[-1]) + 1
    return after < len(up) and bool(np.isfinite(up[after]) and deepest[after])


def _runs(which: NDArray[np.bool_]) -> list[NDArray[np.int64]]:
    """Rows of neighbours that are so."""
    at = np.flatnonzero(which)
    return [] if not at.size else np.split(at, np.flatnonzero(np.diff(at) > 1) + 1)


def _astern_y(found: Able, scales: Scales) -> list[float]:
    """Where the pull full astern stands: as reckoned, the least, the most; none: empty. [pt]"""
    if found.engine is None:
        return []
    per = _per_root(found.needed.wind_mps, found.needed.pull_n)
    return [scales.y(_kn(per * math.sqrt(one))) for one in found.engine.astern_n.tolist()]


def _engine(page: Page, board: Board, found: Able, scales: Scales) -> None:
    """What she pulls full astern, with its doubt, across the picture."""
    frame = scales.frame
    for y, kind in zip(_astern_y(found, scales), ("limit", "hair", "hair"), strict=False):
        if y > frame.top:
            page.line((frame.left, y), (frame.right, y), kind)
            board.ink(np.array([(frame.left, y), (frame.right, y)]), 2.0)


def _engine_name(page: Page, board: Board, found: Able, scales: Scales) -> None:
    frame = scales.frame
    for y in _astern_y(found, scales)[:1]:
        assert found.engine is not None
        above = y <= frame.top
        said = f"full astern {kilograms(float(found.engine.astern_n[0]))}"
        wish = Wish(
            (f"{said}, above this" if above else said,),
            (frame.right - 50.0, max(y, frame.top + 2.0)),
            _SAID, clear_pt=3.0, must=True, backed=True,
        )  # fmt: skip
        board.set(page, wish)


def _needed(page: Page, found: Able, frame: Box) -> None:
    """Chain out by depth for winds ahead, on a level bed."""
    page.text(_MARGIN_PT, frame.top - 28.0, "Chain out for a wind ahead", _TITLE)
    said = "metres out, level bed; each curve a wind in kn"
    page.text(_MARGIN_PT, frame.top - 15.0, said, _AXIS)
    needed = found.needed
    most_m = float(needed.depth_m.max())
    all_m = found.heaving.all_m
    scales = Scales(frame, most_m, all_m)
    page.box(frame, "panel")
    ticks_across(page, scales, np.arange(0.0, most_m + 0.1, 10.0).tolist())
    step = 10.0 if all_m <= 80.0 else 20.0 if all_m <= 200.0 else 50.0
    ticks_up(page, scales, np.arange(0.0, all_m + 0.1, step).tolist())
    _across_name(page, frame)
    page.begin("needed", "Chain that keeps the shank down, by depth, a curve a wind")
    k = int(np.abs(needed.slope_rad).argmin())
    set_so_far: list[Box] = []
    for w, wind in enumerate(needed.wind_mps.tolist()):
        across, up = needed.depth_m, needed.out_m[:, k, w]
        across, up = across[np.isfinite(up)], up[np.isfinite(up)]
        deep = float(needed.too_deep_m[k, w])
        if math.isfinite(deep) and deep <= most_m and not (across >= deep).any():
            across, up = np.append(across, deep), np.append(up, all_m)
        if len(across) > 1:
            points = scales.to_page(across, up)
            page.rows(points, "outline")
            _end_name(page, frame, points[-1], (knots(wind), set_so_far))
    page.end()
    page.box(frame, "frame")


def _end_name(page: Page, frame: Box, end: Floats, named: tuple[str, list[Box]]) -> None:
    """A curve's name outside the frame where it ends; not on another one."""
    words, others = named[0].removesuffix(" kn"), named[1]
    x, y = end.tolist()
    above = y <= frame.top + 1.0
    style = Style("medium", "ink", 8.5, "middle" if above else "start")
    at = (x, frame.top - 3.0) if above else (frame.right + 3.0, y + 2.8)
    if not any(style.box(at[0], at[1], words).meets(other) for other in others):
        others.append(page.text(at[0], at[1], words, style))


def _across_name(page: Page, frame: Box) -> None:
    middle = (frame.left + frame.right) / 2.0
    page.text(middle, frame.bottom + 19.0, "depth, m", Style("italic", "soft", 8.5, "middle"))


def _lines(page: Page, found: Able, frame: Box) -> None:
    """How far off her lines reach, in plan: her stern below, the points ashore above."""
    page.text(frame.left, frame.top - 8.0, "How far her lines reach", _TITLE)
    page.text(frame.left, frame.top + 5.0, "metres from her stern to the points", _AXIS)
    if not found.lines:
        page.text(frame.left, frame.top + 22.0, "no lines in her file", _SAID)
        return
    page.begin("lines", "Her stern below, how far off the points may be above")
    board = Board(Box(frame.left - 16.0, frame.top + 9.0, frame.right + 14.0, frame.bottom))
    far_m = max(one.single_m for one in found.lines)
    wide_m = max(one.single_m * math.tan(one.led_rad) for one in found.lines)
    scale = min((frame.height - 62.0) / max(far_m, 1.0), 0.5 * frame.width / max(wide_m, 1.0))
    x, y = frame.left + 0.36 * frame.width, frame.bottom - 22.0
    _stern(page, board, (x, y))
    # doubled back at the left, single at the right, both straight astern
    ends = [
        (metres(reach_m), (x + side * reach_m * scale * math.tan(one.led_rad), y - reach_m * scale))
        for one in found.lines
        for reach_m, side in ((one.doubled_m, -1.0), (one.single_m, 1.0))
    ]
    for _, end in ends:
        _led(page, board, (x, y), end)
    for words, way, style in (
        ("doubled back", -16.0, Style("italic", "soft", 8.5, "end")),
        ("single", 16.0, _AXIS),
    ):
        board.take(page.text(x + way, frame.bottom - 6.0, words, style))
    for words, end in ends:
        board.set(page, Wish((words,), end, _SAID, clear_pt=4.5, must=True))
    page.end()


def _stern(page: Page, board: Board, stern: tuple[float, float]) -> None:
    """Her after end, looking at the shore."""
    x, y = stern
    side = np.array([(7.0, 0.0), (9.0, 10.0), (9.0, 20.0)])
    hull = np.vstack((side[::-1] * (-1.0, 1.0), side)) + np.array((x, y))
    page.rows(hull, "outline")
    board.take(Box(x - 10.0, y, x + 10.0, y + 21.0))


def _led(page: Page, board: Board, stern: tuple[float, float], end: tuple[float, float]) -> None:
    """A line from her stern to its point."""
    page.line(stern, end, "ashore")
    page.ring(end, 2.2, "panel")
    page.ring(end, 2.2, "outline")
    board.ink(np.array([stern, end]), 3.0)


def _falls(page: Page, found: Able, frame: Box) -> None:
    """Seconds to the bottom, veered and run free."""
    page.text(frame.left - 20.0, frame.top - 28.0, "To the bottom", _TITLE)
    page.text(frame.left - 20.0, frame.top - 15.0, "seconds", _AXIS)
    _across_name(page, frame)
    fall = found.falls
    most_m = float(fall.depth_m.max())
    slowest = np.fmax(fall.motor_s, fall.free_high_s)
    step = 20.0 if slowest.max() <= 140.0 else 60.0
    scales = Scales(frame, most_m, step * math.ceil(float(slowest.max()) / step))
    page.box(frame, "panel")
    ticks_across(page, scales, np.arange(0.0, most_m + 0.1, 10.0).tolist())
    ticks_up(page, scales, np.arange(0.0, scales.most_up + 0.1, step).tolist())
    board = Board(frame.grown(-1.0))
    page.begin("falls", "Seconds from letting go to the bottom by depth", frame)
    low = scales.to_page(fall.depth_m, fall.free_low_s)
    high = scales.to_page(fall.depth_m, fall.free_high_s)
    page.rows(np.vstack((low, high[::-1])), "tint", closed=True)
    curves = [Curve("run free", ((low, "hair"), (high, "hair")))]
    if np.isfinite(fall.motor_s).all():
        veered = scales.to_page(fall.depth_m, fall.motor_s)
        curves.append(Curve("veered", ((veered, "outline"),)))
    draw_curves(page, board, frame, curves)
    page.end()
    page.box(frame, "frame")


def _notes(page: Page, found: Able, cautions: Sequence[str]) -> None:
    """Engine, windlass and drift in words, the key, and cautions at the foot."""
    page.begin("notes", "Engine, windlass and drift, what the curves mean, cautions")
    room = _WIDE_PT - 2.0 * _MARGIN_PT
    base = 692.0
    for title, words in able_notes(found):
        page.text(_MARGIN_PT, base, title, _HEAD)
        rows = rows_of(words, "sans", 9.0, room - 62.0)
        base = page.text_rows(_MARGIN_PT + 62.0, base, rows, _SAID) + 3.0
    rows = rows_of(" ".join(cautions), "italic", 8.0, room)
    first = _HIGH_PT - 24.0 - 9.28 * (len(rows) - 1)
    page.text_rows(_MARGIN_PT, first, rows, _CAUTION)
    page.end()
