"""Outlines of what can touch: her hull under water, keel, rudder, ladder, her tender.

All are convex: that is what the sums over the bed take.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.boat import Hull, Tender, Underwater, Yacht
from shorefast.stay.plan import Neighbour

Floats = NDArray[np.float64]
BLOCK = 0.40
"""Volume of the hull without its keel over waterline x beam at the water x its depth."""
BEAM_AT_THE_WATER = 0.9
_SEA_KGPM3 = 1025.0
_SLICES = 2
SCOPE_LENGTHS, SCOPE_LEAST_M = 3.0, 30.0


class Outline(NamedTuple):
    """A flat piece of her: its corners on board, shape (corner, 2), and how deep. [m]

    x forward of midships, y to starboard; one corner is a point.
    """

    points_m: Floats
    draught_m: float


def hull_outline(length_m: float, beam_m: float) -> Floats:
    """Plan of a hull, corners (corner, 2): x forward, y to starboard. [m]"""
    x = length_m * np.array([0.5, 0.34, 0.12, -0.2, -0.5])
    y = 0.5 * beam_m * np.array([0.0, 0.62, 0.97, 1.0, 0.72])
    return np.concatenate([np.stack([x, y], -1), np.stack([x, -y], -1)[:0:-1]])


def body_depth_m(hull: Hull) -> float:
    """How deep the hull itself goes, without its keel. [m]

    Her whole displacement is put into the hull, at the block coefficient of a middling
    yacht hull (0.56 prismatic, 0.72 midship section); never deeper than she draws.

    Source
    ------
    keuning-sonnenberg-1998 (from memory): hulls of 0.52 to 0.60 and 0.65 to 0.78. That
    the waterline is 0.9 of her beam wide is common practice, no source.
    """
    plan_m2 = hull.waterline_m * BEAM_AT_THE_WATER * hull.beam_m
    return min(hull.displacement_kg / _SEA_KGPM3 / (BLOCK * plan_m2), hull.draught_m)


def hull_slices(hull: Hull) -> tuple[Outline, ...]:
    """The hull under water as flat slices that hold all of it.

    Each slice is as wide and long as its top and as deep as its bottom. Going down, the
    hull shortens as a parabola and narrows as an ellipse: a shape of our own, fuller
    than a yacht's.
    """
    depth_m = body_depth_m(hull)
    slices = []
    for number in range(_SLICES):
        above = number / _SLICES
        long_m = hull.waterline_m * math.sqrt(1.0 - above)
        wide_m = hull.beam_m * math.sqrt(1.0 - above**2)
        slices.append(Outline(hull_outline(long_m, wide_m), depth_m * (number + 1) / _SLICES))
    return tuple(slices)


def part_outline(part: Underwater) -> Outline:
    """A keel, rudder or ladder from above: a rectangle, a line, or a point. [m]"""
    half_x, half_y = 0.5 * part.length_m, 0.5 * part.breadth_m
    corners = np.array([(half_x, half_y), (half_x, -half_y), (-half_x, -half_y), (-half_x, half_y)])
    distinct = corners[np.sort(np.unique(corners, axis=0, return_index=True)[1])]
    return Outline(distinct + np.array((part.x_m, part.y_m)), part.draught_m)


def tender_outline(tender: Tender) -> Outline:
    """The tender from above, lying as her owner's file places her. [m]"""
    plan = hull_outline(tender.length_m, tender.beam_m)
    return Outline(plan + np.array((tender.x_m, tender.y_m)), tender.draught_m)


def touching(boat: Yacht) -> tuple[tuple[str, tuple[Outline, ...]], ...]:
    """Everything that can touch the bed, with its name."""
    parts = [(part.name, (part_outline(part),)) for part in boat.underwater]
    afloat = boat.tender_afloat
    tender = [] if afloat is None else [("tender", (tender_outline(afloat),))]
    return (*parts, ("hull", hull_slices(boat.hull)), *tender)


def placed(points_xy: Floats, q: Floats) -> Floats:
    """Points on board brought to the bay's plane.

    points_xy (point, 2); q (..., 3) east, north, heading; returns (..., point, 2).
    """
    sine, cosine = np.sin(q[..., 2])[..., None], np.cos(q[..., 2])[..., None]
    x, y = points_xy[:, 0], points_xy[:, 1]
    east = q[..., 0, None] + x * sine + y * cosine
    north = q[..., 1, None] + x * cosine - y * sine
    return np.stack([east, north], -1)


def scope_by_rule_m(length_m: float) -> float:
    """Level distance from bow to anchor where nobody tells it: three lengths, 30 m at least.

    Our choice, no source. [m]
    """
    return max(SCOPE_LENGTHS * length_m, SCOPE_LEAST_M)


def neighbour_reach(neighbour: Neighbour) -> tuple[BaseGeometry, float]:
    """What a neighbour keeps to: a shape, and how far about it any of her may come. [m]

    Lying fast it is her hull. Riding to one anchor it is the anchor, and about it her
    scope and length; where nobody knows on which side her chain leads, the anchor may be
    anywhere at that distance, so that it is her middle, twice the scope and one and a
    half lengths. ``swing_m`` comes on top.
    """
    if neighbour.scope_m is None:
        return shapely.Polygon(neighbour_outline(neighbour)), neighbour.swing_m
    scope_m, half_m = neighbour.scope_m, 0.5 * neighbour.length_m
    if neighbour.chain_toward_rad is None:
        middle = shapely.Point(neighbour.east_m, neighbour.north_m)
        return middle, 2.0 * scope_m + 3.0 * half_m + neighbour.swing_m
    heading, toward = neighbour.heading_rad, neighbour.chain_toward_rad
    anchor = shapely.Point(
        neighbour.east_m + half_m * math.sin(heading) + scope_m * math.sin(toward),
        neighbour.north_m + half_m * math.cos(heading) + scope_m * math.cos(toward),
    )
    return anchor, scope_m + 2.0 * half_m + neighbour.swing_m


def neighbour_outline(neighbour: Neighbour) -> Floats:
    """A neighbour's hull in her place, corners (corner, 2) east and north. [m]"""
    plan = hull_outline(neighbour.length_m, neighbour.beam_m)
    pose = np.array([neighbour.east_m, neighbour.north_m, neighbour.heading_rad])
    return placed(plan, pose)
