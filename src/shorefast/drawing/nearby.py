"""On the plan: where the water under her is least, and the neighbours with their swing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.drawing.hull import outline_m, placed
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.page import Box, Page, Points, Style
from shorefast.drawing.scene import Scene, least, of_members
from shorefast.drawing.view import View
from shorefast.stay import neighbour_reach
from shorefast.wording import CardWords

if TYPE_CHECKING:
    from shorefast.stay import Neighbour

Floats = NDArray[np.float64]
_WATER = Style("italic", "ink", 8.5)
_GIVE = Style("italic", "give", 8.5)
_NAME = Style("medium", "soft", 8.5)
_GAP = Style("sans", "soft", 8.5)
_SHORT = Style("sans", "give", 8.5)
_NEAR_LENGTHS = 2.0
"""Neighbours nearer than this many of her lengths are brought into the picture."""


@dataclass(frozen=True)
class LeastWater:
    """Where the water under her is least over the stay, how much, and if that is too little."""

    east_m: float
    north_m: float
    room_m: float
    short: bool


def least_water(scene: Scene) -> LeastWater | None:
    """The least water of the stay that all but the accepted share of members keep to.

    None where no place is told or no water known.
    """
    share = 1.0 - scene.stay.accepted_share
    found: LeastWater | None = None
    for room in scene.judgement.room:
        if room.east_m is None or room.north_m is None:
            continue
        by_hour = -of_members(-room.room_m, share)
        if not np.isfinite(by_hour).any():
            continue
        hour = int(np.nanargmin(by_hour))
        room_m = float(by_hour[hour])
        if found is not None and found.room_m <= room_m:
            continue
        member = int(np.flatnonzero(room.room_m[:, hour] == room_m)[0])
        east_m, north_m = float(room.east_m[member, hour]), float(room.north_m[member, hour])
        found = LeastWater(east_m, north_m, room_m, room_m < room.least_wanted_m)
    return found


def mark_least(page: Page, board: Board, view: View, found: LeastWater) -> None:
    """A small cross in a ring where it is; its words come later, once the lines are named."""
    x, y = view.one(found.east_m, found.north_m)
    kind = "give-line" if found.short else "frame"
    page.ring((x, y), 3.0, "panel")
    page.ring((x, y), 3.0, kind)
    page.line((x - 2.1, y - 2.1), (x + 2.1, y + 2.1), kind)
    page.line((x - 2.1, y + 2.1), (x + 2.1, y - 2.1), kind)
    board.take(Box(x - 3.5, y - 3.5, x + 3.5, y + 3.5))


def name_least(page: Page, board: Board, view: View, found: LeastWater, said: CardWords) -> None:
    """How much water is left there."""
    least_words = said.say("plan.least_water", metres=said.metres(found.room_m))
    words = least_words if found.room_m > 0.0 else said.say("plan.may_touch")
    at = view.one(found.east_m, found.north_m)
    style = _GIVE if found.short else _WATER
    board.set(page, Wish((words,), at, style, clear_pt=4.5, must=True))


@dataclass(frozen=True)
class NeighbourDrawn:
    """Where a neighbour's words belong on the page, and what they are."""

    at: tuple[float, float]
    rows: tuple[str, str]
    short: bool


def near_m(scene: Scene, hulls_m: Floats) -> Floats:
    """Corners of the neighbours near enough to belong in the picture, shape (corner, 2). [m]"""
    reach_m = _NEAR_LENGTHS * scene.stay.boat.hull.length_m
    corners = [_outline_m(neighbour) for neighbour in scene.stay.neighbours]
    about = shapely.MultiPoint(hulls_m)
    near = [row for row in corners if shapely.MultiPoint(row).distance(about) < reach_m]
    return np.vstack([np.empty((0, 2)), *near])


def draw_neighbours(page: Page, board: Board, view: View, scene: Scene) -> list[NeighbourDrawn]:
    """Every neighbour in the frame, and round her how far she may come."""
    drawn = []
    for neighbour in scene.stay.neighbours:
        plan = shapely.Polygon(_outline_m(neighbour))
        seen = view.shape(plan)
        if seen.is_empty:
            continue
        about, reach_m = neighbour_reach(neighbour)
        if reach_m > 0.0:
            for part in shapely.get_parts(view.shape(about.buffer(reach_m, quad_segs=6))):
                _ring(page, board, part, "dotted")
        for part in shapely.get_parts(seen):
            _fill(page, board, part)
        words, short = _gap(scene, neighbour)
        middle = seen.representative_point()
        at = (float(middle.x), float(middle.y))
        drawn.append(NeighbourDrawn(at, (neighbour.name, words), short))
    return drawn


def name_neighbours(page: Page, board: Board, drawn: list[NeighbourDrawn]) -> None:
    """Her name, and the least gap of the stay."""
    for one in drawn:
        said = _SHORT if one.short else _GAP
        board.set(page, Wish(one.rows, one.at, _NAME, clear_pt=6.0, must=True, said=said))


def _outline_m(neighbour: Neighbour) -> Floats:
    here = np.array([(neighbour.east_m, neighbour.north_m, neighbour.heading_rad)])
    outline: Floats = placed(outline_m(neighbour, 10), *here.T)[0]
    return outline


def _ring(page: Page, board: Board, part: shapely.Polygon, kind: str) -> None:
    ring: Points = shapely.get_coordinates(part)[:-1]
    page.rows(ring, kind, closed=True)
    board.ink(ring, 1.2)


def _fill(page: Page, board: Board, part: shapely.Polygon) -> None:
    ring: Points = shapely.get_coordinates(part)[:-1]
    page.rows(ring, "hull", closed=True)
    page.rows(ring, "hair", closed=True)
    board.take_along(ring, 1.5)


def _gap(scene: Scene, neighbour: Neighbour) -> tuple[str, bool]:
    """The least gap of the stay in words, and whether it is less than wanted."""
    share = 1.0 - scene.stay.accepted_share
    for room in scene.judgement.room:
        if room.of == f"hull to {neighbour.name}":
            gap_m = least(-of_members(-room.room_m, share))
            if math.isfinite(gap_m):
                told = scene.words.say("plan.gap", metres=scene.words.metres(gap_m))
                return told, gap_m < room.least_wanted_m
    return scene.words.say("plan.gap_unknown"), False
