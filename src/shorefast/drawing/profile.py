"""The profile: bed, water, boat and chain in side view, one scale both ways."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.hull import fins_m, placed, side_m
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.page import Box, Page, Points, Style
from shorefast.drawing.scene import LineDrawn, Scene, least, most, of_members
from shorefast.wording import clock, from_vertical, kilograms, metres

if TYPE_CHECKING:
    from shorefast.stay import ChainShape

Floats = NDArray[np.float64]
_WATER = Style("italic", "soft", 8.5)
_FIXED = Style("sans", "ink", 8.5)
_AXIS = Style("sans", "ink", 8.0, "middle")
_ABOVE_M = 8.5
_STEP_M = 1.0


@dataclass(frozen=True)
class Cut:
    """The upright plane through anchor and roller, and how it stands on the page.

    Attributes
    ----------
    bearing_rad : float
        From the anchor toward the shore.
    east_m, north_m : float
        The anchor.
    zero_m : float
        Way from the anchor to where counting begins (the shore), NaN: no shore met.
    frame : Box
    scale : float
        Points to a metre, both ways.
    left_m, top_m : float
        Way from the anchor at the frame's left edge; level at its top.
    """

    bearing_rad: float
    east_m: float
    north_m: float
    zero_m: float
    frame: Box
    scale: float
    left_m: float
    top_m: float

    def to_page(self, along_m: Floats, level_m: Floats) -> Points:
        """Ways from the anchor toward the shore and levels, on the page. [pt]"""
        x = self.frame.left + (self.left_m - np.asarray(along_m)) * self.scale
        y = self.frame.top + (self.top_m - np.asarray(level_m)) * self.scale
        return np.stack((x, y), axis=-1)

    def one(self, along_m: float, level_m: float) -> tuple[float, float]:
        """One place on the page. [pt]"""
        x, y = self.to_page(np.array(along_m), np.array(level_m)).tolist()
        return x, y

    def along(self, east_m: float, north_m: float) -> float:
        """Way of a place along the cut. [m]"""
        east, north = east_m - self.east_m, north_m - self.north_m
        return east * math.sin(self.bearing_rad) + north * math.cos(self.bearing_rad)


def draw_profile(page: Page, frame: Box, scene: Scene, shapes: Sequence[ChainShape]) -> None:
    """Paint the side view; the frame keeps room below for the row of metres."""
    frame = Box(frame.left, frame.top, frame.right, frame.bottom - 22.0)
    cut = _cut(scene, shapes, frame)
    board = Board(frame.grown(-1.0))
    page.begin("profile", "Side view from the shore to beyond the anchor", frame)
    page.box(frame, "panel")
    _bed(page, board, cut, scene)
    _waters(page, board, cut, scene)
    hardest = _hardest(shapes)
    for shape in shapes:
        if shape is not hardest:
            _chain(page, board, cut, shape, "chain-slack")
    if hardest is not None:
        tail = "-give" if scene.anchor_gives else ""
        _chain(page, board, cut, hardest, f"chain{tail}")
    _boat(page, board, cut, scene, hardest)
    _anchor(page, board, cut, scene)
    _remarks(page, board, cut, scene, shapes)
    page.end()
    page.box(frame, "frame")
    _scale(page, cut, frame)


def _hardest(shapes: Sequence[ChainShape]) -> ChainShape | None:
    known = [shape for shape in shapes if math.isfinite(shape.pull_n) and len(shape.along_m)]
    return max(known, key=lambda shape: shape.pull_n) if known else None


def _cut(scene: Scene, shapes: Sequence[ChainShape], frame: Box) -> Cut:
    lie = scene.lie
    bearing = _bearing(scene)
    loose = Cut(bearing, lie.let_go_east_m, lie.let_go_north_m, 0.0, frame, 1.0, 0.0, 0.0)
    ways = [loose.along(line.point.east_m, line.point.north_m) for line in scene.lines]
    ways += [float(shape.along_m[-1]) for shape in shapes if len(shape.along_m)]
    if scene.pose is not None:
        ways.append(loose.along(scene.pose.east_m, scene.pose.north_m))
    far = max([*ways, 20.0])
    along = np.arange(-0.12 * far - 4.0, 1.12 * far + 4.0, _STEP_M)
    level = _bed_level(scene, loose, along)
    zero = _shore_at(along, level, _high(scene), far)
    far = max(far, zero if math.isfinite(zero) else far)
    near = float(along[0])
    left = 1.06 * far + 3.0
    deepest = least(np.append(level[along < left], -4.0))
    top = max(_high(scene), 0.0) + _ABOVE_M
    bottom = deepest - 2.0
    scale = min(frame.width / (left - near), frame.height / (top - bottom))
    spare = frame.width / scale - (left - near)
    # what is left over shows more of the slope, both ways
    left += 0.5 * max(spare, 0.0)
    top += 0.15 * max(frame.height / scale - (top - bottom), 0.0)
    return Cut(bearing, loose.east_m, loose.north_m, zero, frame, scale, left, top)


def _bearing(scene: Scene) -> float:
    lie = scene.lie
    if scene.pose is None:
        return lie.heading_rad + math.pi
    spot = scene.stay.boat.roller
    pose = scene.pose
    row = np.array([(pose.east_m, pose.north_m, pose.heading_rad)])
    east, north = placed(np.array([(spot.x_m, spot.y_m)]), *row.T)[0, 0].tolist()
    return math.atan2(east - lie.let_go_east_m, north - lie.let_go_north_m)


def _bed_level(scene: Scene, cut: Cut, along: Floats) -> Floats:
    east = cut.east_m + along * math.sin(cut.bearing_rad)
    north = cut.north_m + along * math.cos(cut.bearing_rad)
    return np.asarray(scene.stay.bay.surface.level_at(east, north), float)


def _high(scene: Scene) -> float:
    """The highest water of the stay, chart datum where nothing is known. [m]"""
    high = most(scene.judgement.water_level_m)
    return high if math.isfinite(high) else 0.0


def _low(scene: Scene) -> float:
    low = least(scene.judgement.water_level_m)
    return low if math.isfinite(low) else 0.0


def _shore_at(along: Floats, level: Floats, high_m: float, far_m: float) -> float:
    """The first way shoreward of the boat's at which the bed rises out of the water."""
    dry = (level >= high_m) & (along > 0.3 * far_m)
    return float(along[np.argmax(dry)]) if dry.any() else math.nan


def _bed(page: Page, board: Board, cut: Cut, scene: Scene) -> None:
    frame = cut.frame
    along = np.linspace(cut.left_m, cut.left_m - frame.width / cut.scale, 220)
    level = _bed_level(scene, cut, along)
    wet = cut.one(0.0, _high(scene))[1]
    page.box(Box(frame.left, max(wet, frame.top), frame.right, frame.bottom), "water2")
    known = np.isfinite(level)
    x = cut.to_page(along, level)[:, 0]
    for first, last in _runs(~known):
        page.box(Box(float(x[first]), frame.top, float(x[last - 1]), frame.bottom), "panel")
        page.box(Box(float(x[first]), frame.top, float(x[last - 1]), frame.bottom), "bare")
    for first, last in _runs(known):
        row = cut.to_page(along[first:last], level[first:last])
        foot = np.array([(row[-1, 0], frame.bottom), (row[0, 0], frame.bottom)])
        page.rows(np.vstack((row, foot)), "land", closed=True)
        page.rows(row, "coast")
        board.ink(row, 3.0)


def _runs(known: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and one-past-last of every stretch that is True and longer than one."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], known, [False]))))
    pairs = zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
    return [(first, last) for first, last in pairs if last - first > 1]


def _waters(page: Page, board: Board, cut: Cut, scene: Scene) -> None:
    """High and low water of the stay where they are not on land, with their hours."""
    high_m, low_m = _high(scene), _low(scene)
    ways = np.linspace(cut.left_m, 0.0, 200)
    bed = _bed_level(scene, cut, ways)
    named = [("high water", high_m, "hair")]
    if high_m - low_m > 0.15:
        named.append(("low water", low_m, "dashed"))
    for name, level_m, kind in named:
        wet = np.flatnonzero(~(bed >= level_m))
        end = cut.one(float(ways[wet[0]]), level_m)[0] if wet.size else cut.frame.right
        y = cut.one(0.0, level_m)[1]
        row = np.array([(end, y), (cut.frame.right, y)])
        page.rows(row, kind)
        board.ink(row, 2.0)
        words = f"{name} {_when(scene, level_m)}".strip()
        at = (cut.frame.right - 4.0, y)
        lean = Style(_WATER.face, _WATER.colour, _WATER.size_pt, "end")
        base = y - 2.4 if name == "high water" else y + 8.6
        box = lean.box(at[0], base, words)
        if board.free(box):
            board.take(page.text(at[0], base, words, lean))


def _when(scene: Scene, level_m: float) -> str:
    levels = scene.judgement.water_level_m
    if levels.shape[1] < 2 or not np.isfinite(levels).any():
        return ""
    hour = int(np.argwhere(levels == level_m)[0, 1])
    if hour in {0, levels.shape[1] - 1}:
        return f"{metres(level_m)} above datum"
    return clock(scene.judgement.time_utc[hour], scene.stay.bay.zone_name)


def _chain(page: Page, board: Board, cut: Cut, shape: ChainShape, kind: str) -> None:
    row = cut.to_page(shape.along_m, shape.level_m)
    if len(row) < 2:
        return
    board.ink(row, 3.0)
    if kind == "chain-slack":
        page.rows(row, kind)
        return
    lying = np.nonzero(shape.lying[: len(row) - 1])[0]
    lift = int(lying[-1]) + 1 if lying.size else 0
    page.rows(row[: lift + 1], kind.replace("chain", "chain-lying", 1))
    page.rows(row[lift:], kind)


def _boat(page: Page, board: Board, cut: Cut, scene: Scene, hardest: ChainShape | None) -> None:
    if scene.pose is None and hardest is None:
        return
    boat = scene.stay.boat
    water_m = _low(scene) if hardest is None else hardest.water_level_m
    if hardest is not None:
        middle = float(hardest.along_m[-1]) + boat.roller.x_m
    else:
        assert scene.pose is not None
        middle = cut.along(scene.pose.east_m, scene.pose.north_m)
    for _, fin in fins_m(boat):
        page.rows(cut.to_page(middle - fin[:, 0], water_m + fin[:, 1]), "hull", closed=True)
        page.rows(cut.to_page(middle - fin[:, 0], water_m + fin[:, 1]), "outline", closed=True)
    side = side_m(boat)
    on_page = cut.to_page(middle - side[:, 0], water_m + side[:, 1])
    page.rows(on_page, "hull", closed=True)
    page.rows(on_page, "outline", closed=True)
    low, high = on_page.min(axis=0), on_page.max(axis=0)
    board.take(Box(float(low[0]), float(low[1]), float(high[0]), float(high[1])))
    mast = middle - 0.09 * boat.hull.length_m
    foot = cut.one(mast, water_m + boat.roller.z_m)
    page.line(foot, (foot[0], cut.frame.top), "hair")
    for line in scene.lines:
        _line(page, board, cut, line, (middle, water_m))


def _line(page: Page, board: Board, cut: Cut, line: LineDrawn, boat: tuple[float, float]) -> None:
    """A line ashore as the cut sees it; one that leads away from the shore is left out."""
    way = cut.along(line.point.east_m, line.point.north_m)
    start = cut.one(boat[0] - line.cleat.x_m, boat[1] + line.cleat.z_m)
    if way < boat[0] + 1.0 or line.cleat.x_m > 0.0:
        return
    end = cut.one(way, line.point.height_m)
    page.line(start, end, "ashore-give" if line.gives else "ashore")
    page.ring(end, 1.7, "panel")
    page.ring(end, 1.7, "give-line" if line.gives else "outline")
    board.ink(np.array([start, end]), 3.0)
    board.set(page, Wish((line.letter,), end, _FIXED, clear_pt=3.5))


def _anchor(page: Page, board: Board, cut: Cut, scene: Scene) -> None:
    level = float(_bed_level(scene, cut, np.array([0.0]))[0])
    if not math.isfinite(level):
        return
    x, y = cut.one(0.0, level)
    kind = "give-line" if scene.anchor_gives else "outline"
    page.path(f"M{x + 4:.1f} {y - 3:.1f}L{x:.1f} {y:.1f}L{x - 5:.1f} {y - 3.6:.1f}", kind)
    page.path(
        f"M{x + 4:.1f} {y - 3:.1f}L{x + 5.6:.1f} {y + 1.6:.1f}L{x + 0.6:.1f} {y + 2.6:.1f}", kind
    )
    board.take(Box(x - 5.0, y - 5.0, x + 6.0, y + 3.0))
    board.set(page, Wish((metres(-level),), (x, y), _FIXED, clear_pt=6.0, must=True))


def _remarks(
    page: Page, board: Board, cut: Cut, scene: Scene, shapes: Sequence[ChainShape]
) -> None:
    """Least water and the chain's angles, in the emptiest corner."""
    rows = [_chain_words(shape) for shape in shapes]
    rows = [row for row in (*_water_words(scene), *rows) if row]
    if not rows:
        return
    wide = max(_WATER.width_pt(row) for row in rows)
    box = board.set_in_corner(wide, 10.2 * len(rows))
    if box is None:
        box = board.set_in_corner(wide, 10.2)
        rows = rows[:1]
    if box is not None:
        page.text_rows(box.left, box.top + 6.8, rows, _WATER)


def _water_words(scene: Scene) -> list[str]:
    """The least room of all that is water under something."""
    share = 1.0 - scene.stay.accepted_share
    rows = []
    for room in scene.judgement.room:
        if not room.of.startswith("water under"):
            continue
        by_hour = -of_members(-room.room_m, share)
        if not np.isfinite(by_hour).any():
            rows.append((math.inf, f"{room.of}: unknown"))
            continue
        hour = int(np.nanargmin(by_hour))
        when = clock(scene.judgement.time_utc[hour], scene.stay.bay.zone_name)
        left_m, under = float(by_hour[hour]), room.of.removeprefix("water ")
        said = f"{metres(left_m)} {under} at {when}"
        if left_m <= 0.0:
            said = f"may touch at {when}: {metres(-left_m)} too little {under}"
        rows.append((left_m, said))
    return [said for _, said in sorted(rows)[:2]]


def _chain_words(shape: ChainShape) -> str:
    said = shape.said or "chain"
    if not (math.isfinite(shape.pull_n) and math.isfinite(shape.angle_rad)):
        return f"{said}: unknown"
    return f"{said}: {from_vertical(shape.angle_rad)}, {kilograms(shape.pull_n)}"


def _scale(page: Page, cut: Cut, frame: Box) -> None:
    zero = cut.zero_m if math.isfinite(cut.zero_m) else 0.0
    sign = 1.0 if math.isfinite(cut.zero_m) else -1.0
    step = next(s for s in (5.0, 10.0, 20.0, 50.0, 100.0, 1e9) if s * cut.scale > 24.0)
    for number in range(40):
        x = cut.one(zero - number * step, 0.0)[0] if sign > 0 else cut.one(number * step, 0.0)[0]
        if frame.left + 4.0 <= x <= frame.right - 8.0:
            page.line((x, frame.bottom), (x, frame.bottom + 2.5), "frame")
            page.text(x, frame.bottom + 10.6, f"{number * step:g}", _AXIS)
    said = "metres from the shore" if sign > 0 else "metres from the anchor"
    page.text(frame.right, frame.bottom + 20.0, said, Style("italic", "soft", 8.5, "end"))
