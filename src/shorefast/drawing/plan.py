"""The plan: bay, lie and every place she can lie, shore at the top."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.drawing import marks
from shorefast.drawing.ground import draw_depth_names, draw_ground, draw_soundings, read_bed
from shorefast.drawing.hull import deck_m, outline_m, placed
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import first_rows
from shorefast.drawing.nearby import (
    draw_neighbours,
    least_water,
    mark_least,
    name_least,
    name_neighbours,
    near_m,
)
from shorefast.drawing.page import Box, Page, Points, Style, path_of
from shorefast.drawing.scene import LineDrawn, Pose, Scene, most
from shorefast.drawing.view import View, fitted_view
from shorefast.drawing.way import WayMarks, draw_way, name_way
from shorefast.drawing.zones import draw_zones, name_zones
from shorefast.wording import CardWords

if TYPE_CHECKING:
    from shorefast.stay import ChainShape, WhereToLetGo

Floats = NDArray[np.float64]
_NAME = Style("medium", "ink", 9.0)
_PULL = Style("sans", "ink", 8.5)
_GIVE = Style("bold", "give", 8.5)
_REMARK = Style("italic", "soft", 8.5)
_SLACK_N = 60.0
_HULL_PT = 2.5


def draw_plan(
    page: Page,
    frame: Box,
    scene: Scene,
    shapes: Sequence[ChainShape],
    let_go: WhereToLetGo | None,
    way: WayMarks | None = None,
) -> None:
    """Paint the plan into its frame.

    Parameters
    ----------
    shapes : sequence of ChainShape
        The one with the hardest pull tells how much of the chain lies.
    let_go : WhereToLetGo or None
        The patch from which the lie still is sound.
    way : WayMarks or None
        The way in and out, and marks to look at: on the sheet of the bay.
    """
    poses, words = _poses(scene), scene.words
    view = _view(scene, frame, poses, way)
    board = Board(frame.grown(-1.0))
    page.begin("plan", words.say("plan.title"), frame)
    bay = scene.stay.bay
    bed = read_bed(view, bay.surface, most(scene.judgement.water_level_m))
    draw_ground(page, board, view, bay, bed)
    zones = draw_zones(page, board, view, bay, words)
    _patch(page, board, view, None if let_go is None else let_go.patch)
    ghosts = _room(page, board, view, scene, poses)
    _chain(page, board, view, scene, shapes)
    for line in scene.lines:
        _line(page, board, view, scene, line)
    neighbours = draw_neighbours(page, board, view, scene)
    if way is not None:
        draw_way(page, board, view, way)
    _boat(page, board, view, scene)
    least = least_water(scene)
    if least is not None:
        mark_least(page, board, view, least)
    _other_points(page, board, view, scene)
    _instruments(page, board, view)
    _name_all(page, board, view, scene, let_go)
    if least is not None:
        name_least(page, board, view, least, words)
    if way is not None:
        name_way(page, board, view, way)
    name_neighbours(page, board, neighbours)
    name_zones(page, board, zones)
    drawn = (let_go is not None and not let_go.patch.is_empty, len(poses) > 1, not bed.known.all())
    _captions(page, board, scene, drawn)
    for ghost in ghosts:
        board.take_inside(ghost, _HULL_PT)
    draw_depth_names(page, board, bed)
    draw_soundings(page, board, view, bay, bed)
    page.end()
    page.box(frame, "frame")


def _poses(scene: Scene) -> Floats:
    """East, north, heading of every rest found, one of each that looks alike. Shape (pose, 3)."""
    rest = scene.judgement.rest
    rows = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1).reshape(-1, 3)
    rows = rows[np.isfinite(rows).all(axis=1)]
    alike = np.round(rows / np.array([0.8, 0.8, math.radians(5.0)])).astype(np.int64)
    key = (alike[:, 0] * 100_003 + alike[:, 1]) * 1009 + alike[:, 2]
    return rows[np.sort(np.unique(key, return_index=True)[1])]


def _view(scene: Scene, frame: Box, poses: Floats, way: WayMarks | None = None) -> View:
    lie = scene.lie
    places = [(lie.let_go_east_m, lie.let_go_north_m)]
    places += [(line.point.east_m, line.point.north_m) for line in scene.lines]
    places += [] if way is None else list(way.places)
    seen = np.array(places)
    if len(poses):
        hulls = placed(outline_m(scene.stay.boat.hull, 4), *poses.T).reshape(-1, 2)
        seen = np.vstack((seen, hulls, near_m(scene, hulls)))
    return fitted_view(seen, lie.heading_rad, frame, Box(58.0, 40.0, 58.0, 40.0))


def _patch(page: Page, board: Board, view: View, let_go: BaseGeometry | None) -> None:
    if let_go is None or let_go.is_empty:
        return
    for part in shapely.get_parts(view.shape(let_go)):
        page.rows(shapely.get_coordinates(part), "tint", closed=True)
        page.rows(shapely.get_coordinates(part), "patch", closed=True)
        board.ink(shapely.get_coordinates(part), 1.5)


def _room(page: Page, board: Board, view: View, scene: Scene, poses: Floats) -> Floats:
    """Outline of every place she can lie, and some of her hulls in it, which are given back."""
    if not len(poses):
        return np.empty((0, 0, 2))
    hull = outline_m(scene.stay.boat.hull, 8)
    hulls = placed(hull, *poses.T)
    on_page = view.to_page(hulls[..., 0], hulls[..., 1])
    room = (
        shapely.union_all(shapely.polygons(on_page))
        .buffer(1.2, quad_segs=2)
        .buffer(-0.4, quad_segs=2)
    )
    board.ink(on_page.reshape(-1, 2), 1.5)
    for part in shapely.get_parts(room):
        ring = shapely.get_coordinates(part.exterior.simplify(0.3))
        page.rows(ring, "tint", closed=True)
        page.rows(ring, "room-line", closed=True)
        board.ink(ring, 1.2)
    fine = placed(outline_m(scene.stay.boat.hull), *_some(scene).T)
    ghosts = view.to_page(fine[..., 0], fine[..., 1])
    page.path("".join(path_of(ghost, closed=True) for ghost in ghosts), "ghost")
    return ghosts


def _some(scene: Scene) -> Floats:
    """At most eight rests, evenly over the stay, of the first member that has them."""
    rest = scene.judgement.rest
    rows = np.stack([rest.east_m, rest.north_m, rest.heading_rad], axis=-1)
    known = np.asarray(np.isfinite(rows).all(axis=-1))
    member = int(np.argmax(known.sum(axis=1)))
    hours = np.nonzero(known[member])[0]
    picked = hours[np.unique(np.linspace(0, len(hours) - 1, 8).astype(int))]
    some: Floats = rows[member, picked]
    return some


def _chain(
    page: Page, board: Board, view: View, scene: Scene, shapes: Sequence[ChainShape]
) -> None:
    """Chain from the anchor to the roller: dotted where it lies, solid where it is lifted."""
    start = view.one(scene.lie.let_go_east_m, scene.lie.let_go_north_m)
    tail = "-give" if scene.anchor_gives else ""
    toward = (0.0, -1.0)
    if scene.pose is not None:
        end = _aboard(view, scene, scene.stay.boat.roller.x_m, scene.stay.boat.roller.y_m)
        row = np.array([start, end])
        lift = row[0] + _lying_share(shapes) * (row[1] - row[0])
        page.rows(np.array([row[0], lift]), f"chain-lying{tail}")
        page.rows(np.array([lift, row[1]]), f"chain{tail}")
        board.ink(row, 4.0)
        away = max(math.dist(start, end), 1e-6)
        toward = ((end[0] - start[0]) / away, (end[1] - start[1]) / away)
    marks.anchor(page, start, toward, "give-line" if scene.anchor_gives else "outline")
    board.take(Box(start[0] - 7.0, start[1] - 11.0, start[0] + 7.0, start[1] + 6.0))


def _lying_share(shapes: Sequence[ChainShape]) -> float:
    """Share of the way to the roller over which the chain lies, in the hardest pull."""
    known = [shape for shape in shapes if math.isfinite(shape.pull_n) and len(shape.along_m) > 1]
    if not known:
        return 0.0
    hardest = max(known, key=lambda shape: shape.pull_n)
    lying = np.nonzero(hardest.lying[: len(hardest.along_m) - 1])[0]
    if not lying.size:
        return 0.0
    return float(hardest.along_m[lying[-1] + 1] / max(float(hardest.along_m[-1]), 1e-6))


def _aboard(view: View, scene: Scene, x_m: float, y_m: float) -> tuple[float, float]:
    """A place on board, on the page. Only where she was found."""
    return view.one(*_at_m(scene, x_m, y_m))


def _at_m(scene: Scene, x_m: float, y_m: float) -> tuple[float, float]:
    pose = scene.pose
    assert pose is not None
    east, north = placed(np.array([(x_m, y_m)]), *_pose_row(pose).T)[0, 0].tolist()
    return east, north


def _pose_row(pose: Pose) -> Floats:
    return np.array([(pose.east_m, pose.north_m, pose.heading_rad)])


def _line(page: Page, board: Board, view: View, scene: Scene, line: LineDrawn) -> None:
    end = view.one(line.point.east_m, line.point.north_m)
    if scene.pose is not None:
        row = _hanging(view, scene, line, end)
        page.rows(row, "ashore-give" if line.gives else "ashore")
        board.ink(row, 4.0)
    marks.point_ashore(page, end, gives=line.gives)
    board.take(Box(end[0] - 3.0, end[1] - 3.0, end[0] + 3.0, end[1] + 3.0))


def _hanging(view: View, scene: Scene, line: LineDrawn, end: tuple[float, float]) -> Points:
    """The line as seen from above: straight when it pulls, in a bow when it is slack."""
    start = _aboard(view, scene, line.cleat.x_m, line.cleat.y_m)
    east, north = _at_m(scene, line.cleat.x_m, line.cleat.y_m)
    way_m = math.hypot(line.point.east_m - east, line.point.north_m - north)
    over = line.length_m / max(way_m, 1e-6) - 1.0
    straight = np.array([start, end])
    if not (line.pull_n < _SLACK_N) or over <= 0.0:
        return straight
    bow = min(math.sqrt(0.375 * over), 0.22) * math.dist(start, end)
    step = (straight[1] - straight[0]) / max(math.dist(start, end), 1e-6)
    out = math.copysign(1.0, start[0] - _aboard(view, scene, 0.0, 0.0)[0])
    share = np.linspace(0.0, 1.0, 13)[:, None]
    side = np.array((step[1], -step[0]))
    side = side * math.copysign(out, side[0])
    row: Points = (
        straight[0]
        + share * (straight[1] - straight[0])
        + (4.0 * share * (1.0 - share) * bow * side)
    )
    return row


def _boat(page: Page, board: Board, view: View, scene: Scene) -> None:
    if scene.pose is None:
        return
    row = _pose_row(scene.pose).T
    hull = placed(outline_m(scene.stay.boat.hull, 24), *row)[0]
    on_page = view.to_page(hull[:, 0], hull[:, 1])
    page.rows(on_page, "hull", closed=True)
    for part in deck_m(scene.stay.boat.hull):
        shape = placed(part, *row)[0]
        page.rows(view.to_page(shape[:, 0], shape[:, 1]), "hair", closed=True)
    page.rows(on_page, "outline", closed=True)
    _tender(page, board, view, scene, row)
    board.take_inside(on_page, _HULL_PT)
    board.ink(on_page, 3.0)


def _tender(page: Page, board: Board, view: View, scene: Scene, row: Floats) -> None:
    tender = scene.stay.boat.tender_afloat
    if tender is None:
        return
    plan = outline_m(tender, 6) + np.array((tender.x_m, tender.y_m))
    shape = placed(plan, *row)[0]
    on_page = view.to_page(shape[:, 0], shape[:, 1])
    page.rows(on_page, "hull", closed=True)
    page.rows(on_page, "hair", closed=True)
    board.take_inside(on_page, _HULL_PT)
    board.ink(on_page, 3.0)


def _other_points(page: Page, board: Board, view: View, scene: Scene) -> None:
    used = {line.point.name for line in scene.lines}
    for point in scene.stay.bay.points:
        at = view.one(point.east_m, point.north_m)
        inside = Box(at[0] - 4.0, at[1] - 4.0, at[0] + 4.0, at[1] + 4.0)
        if point.name in used or not board.free(inside):
            continue
        page.ring(at, 1.6, "hair")
        board.take(inside)


def _instruments(page: Page, board: Board, view: View) -> None:
    box = board.set_in_corner(36.0, 36.0)
    if box is not None:
        middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
        marks.north_arrow(page, middle, view.bearing_on_page(0.0))
    length_m = marks.round_length_m(view.scale, 75.0)
    box = board.set_in_corner(length_m * view.scale + 22.0, 16.0)
    if box is not None:
        marks.scale_bar(page, box, length_m, view.scale)


def _name_all(
    page: Page, board: Board, view: View, scene: Scene, let_go: WhereToLetGo | None
) -> None:
    """Names of the points and of the lines' lengths and pulls, then the anchor's."""
    crowded = len(scene.lines) > 3
    for line in scene.lines:
        at = view.one(line.point.east_m, line.point.north_m)
        name = f"{line.letter}  {line.point.name}"
        style = Style("bold", "give", 9.0) if line.gives else _NAME
        rows = tuple(first_rows(name, style.face, style.size_pt, 118.0, 3))
        rows += (_line_words(line, scene.words),) if crowded else ()
        board.set(page, Wish(rows, at, style, must=True, said=_PULL if crowded else None))
    for line in () if crowded else scene.lines:
        at = view.one(line.point.east_m, line.point.north_m)
        if scene.pose is not None:
            start = _aboard(view, scene, line.cleat.x_m, line.cleat.y_m)
            at = ((at[0] + start[0]) / 2, (at[1] + start[1]) / 2)
        style = _GIVE if line.gives else _PULL
        board.set(page, Wish((_line_words(line, scene.words),), at, style, clear_pt=3.5, must=True))
    anchor = view.one(scene.lie.let_go_east_m, scene.lie.let_go_north_m)
    style = _GIVE if scene.anchor_gives else _PULL
    board.set(page, Wish(_anchor_words(scene, let_go), anchor, style, clear_pt=9.0, must=True))


def _line_words(line: LineDrawn, words: CardWords) -> str:
    long = words.metres(line.length_m)
    long = words.say("plan.doubled", metres=long) if line.doubled else long
    if not math.isfinite(line.most_pull_n):
        return f"{long} · {words.say('plan.pull_unknown')}"
    if line.most_pull_n < _SLACK_N:
        return f"{long} · {words.say('plan.slack')}"
    pull = words.kilograms(line.most_pull_n)
    return f"{long} · {words.say('plan.each', pull=pull) if line.doubled else pull}"


def _anchor_words(scene: Scene, let_go: WhereToLetGo | None) -> tuple[str, ...]:
    east, north = scene.lie.let_go_east_m, scene.lie.let_go_north_m
    level = np.asarray(scene.stay.bay.surface.level_at(np.array([east]), np.array([north])))
    depth_m = -float(level.ravel()[0])
    words, known = scene.words, math.isfinite(depth_m)
    deep = words.say(
        "plan.anchor_in" if known else "plan.anchor_unknown", metres=words.metres(depth_m)
    )
    rows = (deep, words.say("plan.of_chain", metres=words.metres(scene.lie.chain_out_m)))
    if let_go is None or let_go.ellipse is None:
        return rows
    return (
        *rows,
        words.say(
            "plan.patch_least" if let_go.cut else "plan.patch",
            along=words.metres(let_go.ellipse.along_m),
            across=words.metres(let_go.ellipse.across_m),
        ),
    )


def _captions(page: Page, board: Board, scene: Scene, drawn: tuple[bool, bool, bool]) -> None:
    rows, said = [], scene.words
    if scene.pose is None:
        rows.append(said.say("plan.no_rest"))
    else:
        hour = said.clock(scene.pose.at_utc, scene.stay.bay.zone_name)
        worst = scene.judgement.worst
        is_worst = worst is not None and scene.judgement.time_utc[worst[1]] == scene.pose.at_utc
        rows.append(said.say("plan.drawn_worst" if is_worst else "plan.drawn_at", clock=hour))
    rows += [sign for sign, there in zip(said.rows("plan.signs"), drawn, strict=True) if there]
    wide = max(_REMARK.width_pt(row) for row in rows)
    box = board.set_in_corner(wide, 10.5 * len(rows))
    if box is not None:
        page.box(box.grown(2.0), "back")
        page.text_rows(box.left, box.top + 7.0, rows, _REMARK)
