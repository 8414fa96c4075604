"""The plan of a practice on a terminal: shore at the top, where she is and what holds her."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from contourpy import LineType, contour_generator
from numpy.typing import NDArray

from shorefast.drawing.dots import DOTS_HIGH, DOTS_WIDE, Dots
from shorefast.drawing.hull import outline_m, placed
from shorefast.drawing.page import Box
from shorefast.drawing.view import View, fitted_view

if TYPE_CHECKING:
    from shorefast.manoeuvre import Moment, Practice, Seen

Floats = NDArray[np.float64]
_NEAR_M, _LAND_DOTS, _KEEL_M = 22.0, 5.0, 0.5
_DOTTED, _SPARSE = 3, 4


@dataclass(frozen=True)
class Shown:
    """What of the bay does not change, in bay metres.

    shore, touching : rows of points (point, 2); touching: where her keel has half a metre left
    """

    shore: tuple[Floats, ...]
    touching: tuple[Floats, ...]


def shown_of(one: Practice) -> Shown:
    """What of the bay is shown while practising."""
    bay, level_m = one.stay.bay, one.arrival.level_m
    shore = () if bay.shore is None else tuple(
        shapely.get_coordinates(part) for part in shapely.get_parts(bay.shore)
    )  # fmt: skip
    grid = bay.surface.grid
    rows, columns = grid.level_m.shape
    lines = contour_generator(
        x=grid.west_m + grid.step_m * np.arange(columns),
        y=grid.south_m + grid.step_m * np.arange(rows),
        z=np.ma.masked_invalid(grid.level_m),
        line_type=LineType.Separate,
    )
    draught_m = max((part.draught_m for part in one.stay.boat.underwater), default=0.0)
    touching = lines.lines(level_m - max(draught_m, one.stay.boat.hull.draught_m) - _KEEL_M)
    return Shown(shore, tuple(np.asarray(row) for row in touching))


def plan_rows(
    one: Practice, shown: Shown, moment: Moment, row: Seen, size: tuple[int, int, bool]
) -> list[str]:
    """The plan as rows of text.

    Parameters
    ----------
    size : (columns, rows, near)
        In characters; near: about her alone.
    """
    columns, rows, near = size
    dots = Dots(columns, rows)
    frame = Box(0.0, 0.0, columns * DOTS_WIDE, rows * DOTS_HIGH)
    view = _near(one, row, frame) if near else _whole(one, frame)
    _letters(dots, view, one, moment, row)
    for line in shown.shore:
        dots.line(view.to_page(*line.T))
    for line in shown.touching:
        dots.line(view.to_page(*line.T), _SPARSE)
    _land(dots, view, one, frame)
    way = one.way
    planned = np.array([way.roller_at(way.let_go_at_m), way.roller_at(way.hold_m)])
    dots.line(view.to_page(*planned.T), _SPARSE)
    _she(dots, view, one, row)
    return dots.said()


def _whole(one: Practice, frame: Box) -> View:
    arrival = one.arrival
    places = [arrival.anchor, one.starts[:2], arrival.planned[:2]]
    places.append(arrival.stern(arrival.planned))
    places += [(gear.leg.point.east_m, gear.leg.point.north_m) for gear in one.gear]
    return fitted_view(np.array(places), arrival.planned[2], frame, Box(6.0, 6.0, 6.0, 8.0))


def _near(one: Practice, row: Seen, frame: Box) -> View:
    scale = min(frame.width, frame.height) / (2.0 * _NEAR_M)
    return View(one.arrival.planned[2], row.east_m, row.north_m, scale, frame)


def _land(dots: Dots, view: View, one: Practice, frame: Box) -> None:
    """Sparse dots over the land."""
    land = one.stay.bay.land
    if land is None:
        return
    x, y = np.meshgrid(
        np.arange(0.5, frame.width, _LAND_DOTS), np.arange(0.5, frame.height, _LAND_DOTS)
    )
    east, north = view.from_page(np.stack((x, y), axis=-1))
    dry = shapely.contains_xy(land, east, north)
    dots.spots(np.stack((x[dry], y[dry]), axis=-1))


def _she(dots: Dots, view: View, one: Practice, row: Seen) -> None:
    """Hull, chain and lines that are fast."""
    pose = np.array([(row.east_m, row.north_m, row.heading_rad)])
    boat = one.stay.boat
    hull = placed(outline_m(boat.hull, 8), *pose.T)[0]
    dots.line(view.to_page(*hull.T), closed=True)
    aboard = [(boat.roller.x_m, boat.roller.y_m)]
    aboard += [(gear.leg.cleat.spot.x_m, gear.leg.cleat.spot.y_m) for gear in one.gear]
    on_bay = placed(np.array(aboard), *pose.T)[0]
    if row.anchor == "lies":
        chain = np.array([(row.anchor_east_m, row.anchor_north_m), on_bay[0]])
        dots.line(view.to_page(*chain.T), _DOTTED)
    for gear, fast, cleat in zip(one.gear, row.fast, on_bay[1:], strict=True):
        if fast:
            line = np.array([cleat, (gear.leg.point.east_m, gear.leg.point.north_m)])
            dots.line(view.to_page(*line.T))


def _letters(dots: Dots, view: View, one: Practice, moment: Moment, row: Seen) -> None:
    """Bow B, hand h, anchor A and its place x, points by the numbers of their lines."""
    half_m = 0.5 * one.stay.boat.hull.length_m
    bow = (
        row.east_m + half_m * math.sin(row.heading_rad),
        row.north_m + half_m * math.cos(row.heading_rad),
    )
    dots.letter(view.one(*bow), "B")
    hand = moment.deck.hand
    if hand is not None:
        dots.letter(view.one(hand.east_m, hand.north_m), "h")
    if row.anchor != "stowed":
        dots.letter(view.one(row.anchor_east_m, row.anchor_north_m), "A")
    dots.letter(view.one(*one.arrival.anchor), "x")
    for number, gear in enumerate(one.gear, start=1):
        at = view.one(gear.leg.point.east_m, gear.leg.point.north_m)
        dots.letter(at, str(number % 10))
