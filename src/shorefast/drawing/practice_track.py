"""The track of a practice: where she went, every minute, where each call was given."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.drawing import marks
from shorefast.drawing.ground import draw_depth_names, draw_ground, draw_soundings, read_bed
from shorefast.drawing.hull import outline_m, placed
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import fitted, rows_of, shortened
from shorefast.drawing.page import Box, Page, Style, path_of
from shorefast.drawing.view import View, fitted_view
from shorefast.drawing.zones import draw_zones, name_zones
from shorefast.wording import bearing, clock_of, happening_words, knots

if TYPE_CHECKING:
    from shorefast.manoeuvre import Debrief, Happening, Practised, Seen

Floats = NDArray[np.float64]
_WIDE_PT, _HIGH_PT = 841.89, 595.28
_MARGIN_PT, _HEAD_PT, _FOOT_PT, _KEY_PT = 26.0, 74.0, 62.0, 236.0
_MINUTE_S, _ROWS_KEY = 60.0, 40
_LETTER = Style("bold", "ink", 9.0, "middle")
_MINUTE = Style("sans", "soft", 8.0)
_NAME = Style("medium", "ink", 9.0)
_SAID = Style("sans", "ink", 8.5)
_REMARK = Style("italic", "soft", 8.5)
_FOOT = Style("sans", "ink", 8.0)
_CAUTION = Style("italic", "ink", 8.0)
# told by the calls, or too much for the plan
_NOT_SHOWN = ("anchor let go", "anchor down", "hand clear", "hand ashore", "hand aboard")


@dataclass(frozen=True)
class Mark:
    """A lettered place on the track: what was called or happened there, and when."""

    letter: str
    t_s: float
    east_m: float
    north_m: float
    said: str


def track_page(
    done: Practised, told: Debrief, words: Sequence[str], patch: BaseGeometry | None = None
) -> Page:
    """One A4 page across: the plan with the track, the key of its letters beside it.

    Shore at the top, the planned bow down the page.

    Parameters
    ----------
    words : sequence of str
        What it came to, for the head, then cautions for the foot.
    patch : shape, optional
        From where in the bay's plane the lie still is sound.
    """
    page = Page(_WIDE_PT, _HIGH_PT)
    page.box(Box(0.0, 0.0, _WIDE_PT, _HIGH_PT), "paper")
    _head(page, done, words[0])
    found = marks_of(done, told)
    right = _WIDE_PT - _MARGIN_PT - _KEY_PT - 14.0
    frame = Box(_MARGIN_PT, _HEAD_PT, right, _HIGH_PT - _FOOT_PT)
    _plan(page, frame, done, found, patch)
    key = Box(right + 14.0, _HEAD_PT, _WIDE_PT - _MARGIN_PT, _HIGH_PT - _FOOT_PT)
    _key(page, key, found)
    _foot(page, words[1:], patch is not None)
    return page


def marks_of(done: Practised, told: Debrief) -> tuple[Mark, ...]:
    """Calls by capital letters, in the order they were given, then happenings by small ones."""
    begun_s = next((row.t_s for row in done.rows if row.anchor != "stowed"), math.nan)
    calls = [one for one in told.calls if math.isfinite(one.done_t_s)]
    found = []
    for number, call in enumerate(calls):
        row = _row_at(done.rows, begun_s + call.done_t_s)
        chain = f", {call.done_chain_m:.0f} m out ({call.chain_m:.0f} m planned)"
        said = ("On the bottom" if call.kind == "bottom" else call.kind.capitalize()) + (
            "" if call.kind == "let go" else chain
        )
        found.append(Mark(chr(65 + number % 26), row.t_s, row.east_m, row.north_m, said))
    seen = [one for one in done.happened if one.kind not in _NOT_SHOWN]
    for number, one in enumerate(seen[:26]):
        found.append(_happened(chr(97 + number), one))
    return tuple(found)


def _happened(letter: str, one: Happening) -> Mark:
    return Mark(letter, one.t_s, one.east_m, one.north_m, happening_words(one))


def _row_at(rows: Sequence[Seen], t_s: float) -> Seen:
    return min(rows, key=lambda row: abs(row.t_s - t_s))


def _pose(row: Seen) -> Floats:
    return np.array([(row.east_m, row.north_m, row.heading_rad)])


def _view(done: Practised, frame: Box) -> View:
    arrival = done.practice.arrival
    hull = outline_m(done.practice.stay.boat.hull, 4)
    poses = np.array([(row.east_m, row.north_m, row.heading_rad) for row in done.rows[::20]])
    last = np.array([arrival.planned])
    seen = [placed(hull, *rows.T).reshape(-1, 2) for rows in (poses, last)]
    seen.append(np.array([arrival.anchor]))
    points = [gear.leg.point for gear in done.practice.gear]
    if points:
        seen.append(np.array([(one.east_m, one.north_m) for one in points]))
    return fitted_view(np.vstack(seen), arrival.planned[2], frame, Box(30.0, 24.0, 30.0, 30.0))


def _plan(
    page: Page,
    frame: Box,
    done: Practised,
    found: tuple[Mark, ...],
    patch: BaseGeometry | None,
) -> None:
    view, bay = _view(done, frame), done.practice.stay.bay
    board = Board(frame.grown(-1.0))
    page.begin("track", "Plan with the track, shore at the top", frame)
    bed = read_bed(view, bay.surface, done.practice.arrival.level_m)
    draw_ground(page, board, view, bay, bed)
    zones = draw_zones(page, board, view, bay)
    _planned(page, board, view, done, patch)
    minutes = _track(page, board, view, done)
    _ended(page, board, view, done)
    _letters(page, board, view, found)
    for row in minutes:
        at = view.one(row.east_m, row.north_m)
        board.set(page, Wish((f"{row.t_s / 60.0:.0f} min",), at, _MINUTE, near=True))
    _instruments(page, board, view, done)
    name_zones(page, board, zones)
    draw_depth_names(page, board, bed)
    draw_soundings(page, board, view, bay, bed)
    page.end()
    page.box(frame, "frame")


def _outline(view: View, done: Practised, pose: Floats, stations: int = 24) -> Floats:
    hull = placed(outline_m(done.practice.stay.boat.hull, stations), *pose.T)[0]
    return view.to_page(hull[:, 0], hull[:, 1])


def _planned(
    page: Page, board: Board, view: View, done: Practised, patch: BaseGeometry | None
) -> None:
    """The way in as planned, dotted; the planned lie, dashed; the anchor's place, ringed."""
    way = done.practice.way
    start = way.roller_at(way.let_go_at_m, way.start_across_m)
    row = np.array([view.one(*start), view.one(*way.roller_at(way.hold_m))])
    page.rows(row, "dotted")
    board.ink(row, 2.0)
    lie = _outline(view, done, np.array([done.practice.arrival.planned]))
    page.rows(lie, "dashed", closed=True)
    board.ink(lie, 2.0)
    at = view.one(*done.practice.arrival.anchor)
    place = shapely.Point(at).buffer(3.0 * view.scale) if patch is None else view.shape(patch)
    for part in shapely.get_parts(place):
        page.rows(shapely.get_coordinates(part), "patch", closed=True)
    for gear in done.practice.gear:
        end = view.one(gear.leg.point.east_m, gear.leg.point.north_m)
        marks.point_ashore(page, end, gives=False)
        board.take(Box(end[0] - 3.0, end[1] - 3.0, end[0] + 3.0, end[1] + 3.0))


def _track(page: Page, board: Board, view: View, done: Practised) -> list[Seen]:
    """Midships' track, a hull and a dot each minute while she moves; those minutes."""
    east = np.array([row.east_m for row in done.rows])
    north = np.array([row.north_m for row in done.rows])
    page.rows(view.to_page(east, north), "curve")
    board.ink(view.to_page(east, north), 3.0)
    every = [row for row in done.rows if row.t_s % _MINUTE_S == 0.0]
    shown = _apart(every)
    page.path(
        "".join(path_of(_outline(view, done, _pose(row), 10), closed=True) for row in shown),
        "ghost",
    )
    for row in shown:
        at = view.one(row.east_m, row.north_m)
        page.ring(at, 1.5, "solid")
    return shown


def _apart(rows: list[Seen]) -> list[Seen]:
    """Those minutes between which she moved or turned."""
    kept: list[Seen] = []
    for row in rows:
        if not kept or (
            math.dist((row.east_m, row.north_m), (kept[-1].east_m, kept[-1].north_m)) > 4.0
            or abs(math.remainder(row.heading_rad - kept[-1].heading_rad, 2 * math.pi)) > 0.35
        ):
            kept.append(row)
    return kept


def _ended(page: Page, board: Board, view: View, done: Practised) -> None:
    """Her hull, chain, lines and anchor at the end."""
    last, one = done.rows[-1], done.practice
    pose = _pose(last)
    roller = placed(np.array([(one.stay.boat.roller.x_m, 0.0)]), *pose.T)[0, 0]
    hull = _outline(view, done, pose)
    page.rows(hull, "hull", closed=True)
    page.rows(hull, "outline", closed=True)
    board.take_inside(hull, 2.0)
    for gear, fast in zip(one.gear, last.fast, strict=True):
        if not fast:
            continue
        spot = gear.leg.cleat.spot
        cleat = placed(np.array([(spot.x_m, spot.y_m)]), *pose.T)[0, 0]
        end = view.one(gear.leg.point.east_m, gear.leg.point.north_m)
        row = np.array([view.one(*cleat.tolist()), end])
        page.rows(row, "ashore")
        board.ink(row, 3.0)
    if last.anchor != "lies":
        return
    at, bow = view.one(last.anchor_east_m, last.anchor_north_m), view.one(*roller.tolist())
    page.line(at, bow, "chain")
    board.ink(np.array([at, bow]), 3.0)
    away = max(math.dist(at, bow), 1e-6)
    marks.anchor(page, at, ((bow[0] - at[0]) / away, (bow[1] - at[1]) / away), "outline")
    board.take(Box(at[0] - 7.0, at[1] - 11.0, at[0] + 7.0, at[1] + 6.0))


def _letters(page: Page, board: Board, view: View, found: tuple[Mark, ...]) -> None:
    for mark in found:
        at = view.one(mark.east_m, mark.north_m)
        page.ring(at, 2.0, "outline")
        board.set(page, Wish((mark.letter,), at, _NAME, clear_pt=3.5, must=True, backed=True))


def _instruments(page: Page, board: Board, view: View, done: Practised) -> None:
    box = board.set_in_corner(36.0, 36.0)
    if box is not None:
        middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
        marks.north_arrow(page, middle, view.bearing_on_page(0.0))
    length_m = marks.round_length_m(view.scale, 70.0)
    box = board.set_in_corner(length_m * view.scale + 22.0, 16.0)
    if box is not None:
        marks.scale_bar(page, box, length_m, view.scale)
    wind = done.practice.arrival.wind
    said = f"wind {knots(wind.mean_mps)} from {bearing(wind.from_rad)}"
    box = board.set_in_corner(_REMARK.width_pt(said) + 22.0, 20.0)
    if box is not None:
        toward = view.bearing_on_page(wind.from_rad + math.pi)
        marks.wind_arrow(page, (box.left + 8.0, box.top + 10.0), toward)
        page.text(box.left + 20.0, box.top + 13.0, said, _REMARK)


def _key(page: Page, box: Box, found: tuple[Mark, ...]) -> None:
    page.begin("key", "What the letters on the track stand for")
    page.text(box.left, box.top + 9.0, "On the track", Style("title", "ink", 13.0))
    base = box.top + 25.0
    for mark in found:
        rows = rows_of(f"{clock_of(mark.t_s)}  {mark.said}", "sans", 8.5, box.width - 18.0)
        if base + 10.0 * len(rows) > box.bottom:
            page.text(box.left + 16.0, base, "And more, told in the debrief.", _REMARK)
            break
        page.text(box.left + 4.0, base, mark.letter, _LETTER)
        base = page.text_rows(box.left + 16.0, base, rows, _SAID) + 1.5
    page.end()


def _head(page: Page, done: Practised, sentence: str) -> None:
    page.begin("head", "What was practised and what it came to")
    room = _WIDE_PT - 2 * _MARGIN_PT
    title = f"{done.practice.stay.bay.name}: practice"
    size = fitted(title, "title", (20.0, 12.0), room)
    page.text(_MARGIN_PT, 36.0, shortened(title, "title", size, room), Style("title", "ink", size))
    rows = rows_of(sentence, "sans", 10.0, room)[:2]
    page.text_rows(_MARGIN_PT, 52.0, rows, Style("sans", "ink", 10.0))
    page.end()


def _foot(page: Page, cautions: Sequence[str], with_patch: bool) -> None:
    page.begin("foot", "The key, and cautions")
    top, half = _HIGH_PT - _FOOT_PT + 16.0, (_WIDE_PT - 2 * _MARGIN_PT - 18.0) / 2
    ring = (
        "Round the anchor: where letting go still is sound."
        if with_patch
        else "Ring: 3 m about the anchor's place."
    )
    key = (
        "Line: her track, midships; a hull each minute while she moves. Dotted: the way in as"
        " planned. Dashed hull: where the plan has her. "
        f"{ring} Capital letters: calls; small ones: what happened. Depths from chart datum."
    )
    page.text_rows(_MARGIN_PT, top, rows_of(key, "sans", 8.0, half)[:4], _FOOT)
    right = _MARGIN_PT + half + 18.0
    page.text_rows(right, top, rows_of(" ".join(cautions), "italic", 8.0, half)[:4], _CAUTION)
    page.end()
