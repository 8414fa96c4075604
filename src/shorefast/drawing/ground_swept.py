"""Ground swept: the bed her chain scours, lying to lines and swinging free, side by side."""

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
from shorefast.drawing.hull import deck_m, outline_m, placed
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import first_rows, fitted, rows_of, shortened
from shorefast.drawing.page import Box, Page, Style, path_of
from shorefast.drawing.scene import Pose, Scene, make_scene, most
from shorefast.drawing.view import View, fitted_view
from shorefast.drawing.zones import draw_zones, name_zones
from shorefast.stay import bottoms_of
from shorefast.wording import lying_words, metres, span, square_metres

if TYPE_CHECKING:
    from shorefast.stay import GroundSwept, Judgement, Scoured, Stay

Floats = NDArray[np.float64]
_WIDE_PT, _HIGH_PT = 841.89, 595.28
_MARGIN_PT, _HEAD_PT, _FOOT_PT, _GAP_PT = 26.0, 92.0, 92.0, 18.0
_HATCH_PT, _CROSS_PT = 2.6, 2.6
_MEADOW = "seagrass"
_TITLE = Style("title", "ink", 13.0)
_NAME = Style("medium", "ink", 9.0)
_SAID = Style("sans", "ink", 8.5)
_FOOT = Style("sans", "ink", 8.0)
_CAUTION = Style("italic", "ink", 8.0)


@dataclass(frozen=True)
class _Panel:
    """One of the two plans: what is swept in it, by the forecast itself and by any member."""

    name: str
    title: str
    frame: Box
    view: View
    first: BaseGeometry
    every: BaseGeometry
    of: Scoured


def ground_swept_page(
    stay: Stay, judgement: Judgement, found: GroundSwept, words: Sequence[str]
) -> Page:
    """One A4 page across: her ground lying to lines at the left, swinging free at the right.

    Shore at the top, the bow down the page. Ruled: what the forecast's first member
    sweeps, ruled crosswise where that is seagrass; dashed: what any member sweeps.

    Parameters
    ----------
    words : sequence of str
        The sentence for the head, then cautions for the foot.

    Raises
    ------
    BadInput
        If the lie is still to be chosen, or a line leads to nowhere.
    """
    scene = make_scene(stay, judgement)
    page = Page(_WIDE_PT, _HIGH_PT)
    page.box(Box(0.0, 0.0, _WIDE_PT, _HIGH_PT), "paper")
    _head(page, stay, words[0])
    for panel in _panels(scene, found):
        _draw(page, panel, scene)
    _foot(page, found, (_key_words(scene, found), *words[1:]))
    return page


def _panels(scene: Scene, found: GroundSwept) -> list[_Panel]:
    free = found.swinging is not None
    count = 2 if free else 1
    wide = (_WIDE_PT - 2 * _MARGIN_PT - (count - 1) * _GAP_PT) / count
    top, bottom = _HEAD_PT + 20.0, _HIGH_PT - _FOOT_PT
    told = [("lying", lying_words(found), found.lying)]
    if found.swinging is not None:
        title = f"Swinging free, {metres(found.chain_m)} of chain"
        told.append(("swinging", title, found.swinging))
    panels = []
    for number, (name, title, of) in enumerate(told):
        left = _MARGIN_PT + number * (wide + _GAP_PT)
        frame = Box(left, top, left + wide, bottom)
        every = shapely.union_all([*of.shapes])
        view = _view(scene, frame, every)
        panels.append(_Panel(name, title, frame, view, of.shapes[0], every, of))
    return panels


def _view(scene: Scene, frame: Box, every: BaseGeometry) -> View:
    lie = scene.lie
    places = [(lie.let_go_east_m, lie.let_go_north_m)]
    places += [(line.point.east_m, line.point.north_m) for line in scene.lines]
    seen = np.vstack([np.array(places), shapely.get_coordinates(every)])
    if scene.pose is not None:
        seen = np.vstack([seen, _on_bay(scene.pose, outline_m(scene.stay.boat.hull, 4))])
    return fitted_view(seen, lie.heading_rad, frame, Box(34.0, 28.0, 34.0, 34.0))


def _on_bay(pose: Pose, points_m: Floats) -> Floats:
    """Points on board brought to the bay's plane. (point, 2)"""
    row = np.array([(pose.east_m, pose.north_m, pose.heading_rad)])
    return np.asarray(placed(points_m, *row.T)[0])


def _draw(page: Page, panel: _Panel, scene: Scene) -> None:
    frame, view, bay = panel.frame, panel.view, scene.stay.bay
    board = Board(frame.grown(-1.0))
    head = f"{panel.title}: about {square_metres(float(panel.of.total_m2.mean()))}"
    page.text(frame.left, frame.top - 6.0, shortened(head, "title", 13.0, frame.width), _TITLE)
    page.begin(panel.name, f"{head}, shore at the top", frame)
    bed = read_bed(view, bay.surface, most(scene.judgement.water_level_m))
    draw_ground(page, board, view, bay, bed)
    zones = draw_zones(page, board, view, bay)
    _swept(page, board, panel, scene)
    if panel.name == "lying":
        _boat_and_lines(page, board, view, scene)
    _anchor(page, board, view, scene)
    _instruments(page, board, view)
    _names(page, board, panel, scene)
    name_zones(page, board, zones)
    draw_depth_names(page, board, bed)
    draw_soundings(page, board, view, bay, bed)
    page.end()
    page.box(frame, "frame")


def _swept(page: Page, board: Board, panel: _Panel, scene: Scene) -> None:
    """What any member sweeps, dashed; the first member's ground ruled, seagrass crosswise."""
    # teeth narrower than the pen are closed
    edge = panel.view.shape(panel.every).buffer(1.4, quad_segs=2).buffer(-0.6, quad_segs=2)
    for part in _polygons(edge):
        row = shapely.get_coordinates(part.exterior.simplify(0.3))
        page.rows(row, "patch", closed=True)
        board.ink(row, 1.5)
    first = panel.view.shape(panel.first)
    for part in _polygons(first):
        page.path(_rings(part), "tint")
        page.rows(shapely.get_coordinates(part.exterior.simplify(0.2)), "hair", closed=True)
    page.path(ruled(first, 60.0, _HATCH_PT), "hair")
    meadow = _meadow(scene, panel.first)
    if not meadow.is_empty:
        page.path(ruled(panel.view.shape(meadow), -30.0, _CROSS_PT), "hair")
    board.ink(shapely.get_coordinates(first), 1.5)


def _meadow(scene: Scene, within: BaseGeometry) -> BaseGeometry:
    """What is seagrass of a shape, as its area counts; empty where nothing is."""
    return bottoms_of(scene.stay.bay, within).get(_MEADOW, shapely.Polygon())


def ruled(shape: BaseGeometry, slant_deg: float, apart_pt: float) -> str:
    """Path data of parallel rules over a shape, the same wherever it stands on the page.

    Parameters
    ----------
    slant_deg : float
        Of the rules, from the page's right, clockwise.
    apart_pt : float
        From one rule to the next. [pt]
    """
    if shape.is_empty:
        return ""
    left, top, right, bottom = shape.bounds
    turn = math.radians(slant_deg)
    along, across = (
        np.array([math.cos(turn), math.sin(turn)]),
        np.array([-math.sin(turn), math.cos(turn)]),
    )
    corners = np.array([(left, top), (right, top), (left, bottom), (right, bottom)])
    low, high = (corners @ across).min(), (corners @ across).max()
    ends = (corners @ along).min(), (corners @ along).max()
    steps = np.arange(math.ceil(low / apart_pt), math.floor(high / apart_pt) + 1) * apart_pt
    rules = [[across * step + along * ends[0], across * step + along * ends[1]] for step in steps]
    cut = shapely.intersection(shapely.MultiLineString(rules), shape) if rules else shapely.Point()
    rows = [part for part in shapely.get_parts(cut) if isinstance(part, shapely.LineString)]
    return "".join(path_of(shapely.get_coordinates(row)) for row in rows)


def _polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]


def _rings(part: shapely.Polygon) -> str:
    rings = (part.exterior, *part.interiors)
    return "".join(path_of(shapely.get_coordinates(ring)[:-1], closed=True) for ring in rings)


def _boat_and_lines(page: Page, board: Board, view: View, scene: Scene) -> None:
    """Her hull as she lies in the worst hour, her lines, the points."""
    pose = scene.pose
    for line in scene.lines:
        end = view.one(line.point.east_m, line.point.north_m)
        if pose is not None:
            spot = _on_bay(pose, np.array([(line.cleat.x_m, line.cleat.y_m)]))[0]
            row = np.array([view.one(*spot.tolist()), end])
            page.rows(row, "ashore")
            board.ink(row, 4.0)
        marks.point_ashore(page, end, gives=False)
        board.take(Box(end[0] - 3.0, end[1] - 3.0, end[0] + 3.0, end[1] + 3.0))
    if pose is None:
        return
    hull = _on_bay(pose, outline_m(scene.stay.boat.hull, 24))
    on_page = view.to_page(hull[:, 0], hull[:, 1])
    page.rows(on_page, "hull", closed=True)
    for part in deck_m(scene.stay.boat.hull):
        shape = _on_bay(pose, part)
        page.rows(view.to_page(shape[:, 0], shape[:, 1]), "hair", closed=True)
    page.rows(on_page, "outline", closed=True)
    board.take_inside(on_page, 2.5)


def _anchor(page: Page, board: Board, view: View, scene: Scene) -> None:
    x, y = view.one(scene.lie.let_go_east_m, scene.lie.let_go_north_m)
    marks.anchor(page, (x, y), (0.0, -1.0), "outline")
    board.take(Box(x - 7.0, y - 11.0, x + 7.0, y + 6.0))


def _instruments(page: Page, board: Board, view: View) -> None:
    box = board.set_in_corner(36.0, 36.0)
    if box is not None:
        middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
        marks.north_arrow(page, middle, view.bearing_on_page(0.0))
    length_m = marks.round_length_m(view.scale, 70.0)
    box = board.set_in_corner(length_m * view.scale + 22.0, 16.0)
    if box is not None:
        marks.scale_bar(page, box, length_m, view.scale)


def _names(page: Page, board: Board, panel: _Panel, scene: Scene) -> None:
    """Where the anchor was let go; the points her lines lead to."""
    at = panel.view.one(scene.lie.let_go_east_m, scene.lie.let_go_north_m)
    out_m = scene.lie.chain_out_m
    said = f"{metres(out_m)} of chain" if panel.name == "lying" else "the same anchor"
    board.set(page, Wish((said,), at, _SAID, clear_pt=9.0, must=True))
    for line in scene.lines if panel.name == "lying" else ():
        end = panel.view.one(line.point.east_m, line.point.north_m)
        rows = first_rows(f"{line.letter}  {line.point.name}", "medium", 9.0, 118.0, 3)
        board.set(page, Wish(tuple(rows), end, _NAME, must=True))


def _key_words(scene: Scene, found: GroundSwept) -> str:
    """What the rules and the dashes mean."""
    several = found.member.size > 1
    said = ["Ruled: swept in the forecast's first member." if several else "Ruled: swept."]
    if _MEADOW in found.kinds:
        said.append("Ruled crosswise: seagrass that is swept.")
    if several:
        said.append("Dashed round it: swept in any member.")
    return " ".join([*said, "Depths in metres from chart datum."])


def _head(page: Page, stay: Stay, sentence: str) -> None:
    page.begin("head", "Which bay, which hours, and how much of its bed is swept")
    room = _WIDE_PT - 2 * _MARGIN_PT
    title = f"{stay.bay.name}: ground swept"
    size = fitted(title, "title", (20.0, 12.0), room)
    page.text(_MARGIN_PT, 36.0, shortened(title, "title", size, room), Style("title", "ink", size))
    hours = span(stay.from_utc, stay.until_utc, stay.bay.zone_name)
    page.text(_MARGIN_PT, 51.0, shortened(hours, "sans", 9.5, room), Style("sans", "soft", 9.5))
    rows = rows_of(sentence, "sans", 10.0, room)[:3]
    page.text_rows(_MARGIN_PT, 66.0, rows, Style("sans", "ink", 10.0))
    page.end()


def _foot(page: Page, found: GroundSwept, words: Sequence[str]) -> None:
    """What it rests on at the left; the key and then cautions at the right."""
    page.begin("foot", "What the picture rests on, and cautions")
    top, half = _HIGH_PT - _FOOT_PT + 16.0, (_WIDE_PT - 2 * _MARGIN_PT - _GAP_PT) / 2
    rests_on = " ".join(f"{one.said}." for one in found.basis.assumptions)
    rows = rows_of(rests_on, "sans", 8.0, half)[:7]
    page.text_rows(_MARGIN_PT, top, rows, _FOOT)
    right = _MARGIN_PT + half + _GAP_PT
    base = page.text_rows(right, top, rows_of(words[0], "sans", 8.0, half)[:3], _FOOT)
    page.text_rows(right, base, rows_of(" ".join(words[1:]), "italic", 8.0, half)[:4], _CAUTION)
    page.end()
