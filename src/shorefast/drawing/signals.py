"""Signals by arm, drawn: figures of our own, black on white, to be told apart at 12 mm.

One arm speaks of the chain, two arms of the engine, hands at the head of somebody in the
water. Whoever stands with the back to the reader has a black head, whoever looks at the
reader a white face; so a figure is always seen from where its reader stands.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping, Sequence
from importlib import resources
from typing import Any, Literal

import numpy as np
import shapely
import shapely.ops

from shorefast.drawing.page import Box, Page, Points

Seen = Literal["behind", "front"]
_POSES: Mapping[str, Mapping[str, Any]] = tomllib.loads(
    resources.files("shorefast.drawing").joinpath("signals.toml").read_text(encoding="utf-8")
)
SIGNALS: tuple[str, ...] = tuple(_POSES)
"""The names of all signals."""
_WIDE, _HIGH = 118.0, 104.0
_HEAD, _HEAD_RADIUS = (0.0, 62.0), 10.5
_SHOULDER = (13.0, 45.0)
_HANGING = [[18.0, 27.0], [18.0, 9.0]]
_ON_HIP = [[33.0, 29.0], [14.0, 15.0]]
_TORSO = [(-13.0, 47.0), (13.0, 47.0), (10.0, 4.0), (-10.0, 4.0)]
_ARM, _HALO, _WAY = 4.8, 2.2, 1.7
"""Half the width of an arm, of the white round it, and of an arrow's shaft."""


def signal_width_pt(high_pt: float) -> float:
    """How wide a figure of a height is. [pt]"""
    return high_pt * _WIDE / _HIGH


def draw_signal(
    page: Page, name: str, corner: tuple[float, float], high_pt: float, seen: Seen
) -> Box:
    """Paint one signal and give back the paper it takes.

    Parameters
    ----------
    name : str
        One of ``SIGNALS``.
    corner, high_pt : (left, top), float
        Upper left corner and height of the figure. [pt]
    seen : "behind" or "front"
        From where the reader sees the one who gives it; what is to starboard seen from
        behind is on the other hand from the front.
    """
    pose = _POSES[name]
    scale = high_pt / _HIGH
    left, top = corner
    box = Box(left, top, left + signal_width_pt(high_pt), top + high_pt)
    side = 1.0 if seen == "behind" else -1.0

    def put(points: Any) -> Points:
        row = np.asarray(points, float)
        x = box.left + scale * (_WIDE / 2 + side * row[:, 0])
        return np.column_stack((x, box.bottom - scale * row[:, 1]))

    def fill(shape: shapely.Geometry, kind: str) -> None:
        for part in shapely.get_parts(shape):
            page.rows(put(shapely.get_coordinates(part.exterior)), kind, closed=True)

    fill(shapely.Polygon(_TORSO).buffer(3.0, quad_segs=3), "solid")
    fill(shapely.Point(_HEAD).buffer(_HEAD_RADIUS), "solid")
    if seen == "front":
        _face(fill)
    for hand, mirror in (("left", -1.0), ("right", 1.0)):
        _arm(fill, pose, hand, mirror)
    for way in pose.get("ways", ()):
        fill(_way(way), "solid")
    return box


def _face(fill: Any) -> None:
    fill(shapely.Point(_HEAD).buffer(_HEAD_RADIUS - 2.6), "paper")
    for x in (-3.2, 3.2):
        fill(shapely.Point(x, _HEAD[1] + 1.2).buffer(1.5), "solid")


def _arm(fill: Any, pose: Mapping[str, Any], which: str, mirror: float) -> None:
    """One arm with its hand: white round it, so that it shows on the body too."""
    told = pose.get(which)
    bends = told if isinstance(told, list) else _ON_HIP if told == "hip" else _HANGING
    if not isinstance(told, list):
        bends = [[mirror * x, y] for x, y in bends]
    row = [(mirror * _SHOULDER[0], _SHOULDER[1]), *map(tuple, bends)]
    arm = shapely.LineString(row).buffer(_ARM, quad_segs=4)
    kind = pose.get(f"{which}_hand", "none")
    shape = shapely.union_all([arm, *_hand(row[-2], row[-1], kind)])
    if isinstance(told, list):
        fill(_outer(shape.buffer(_HALO, quad_segs=3)), "paper")
    fill(_outer(shape), "solid")


def _outer(shape: shapely.Geometry) -> shapely.Geometry:
    return shapely.multipolygons([shapely.Polygon(p.exterior) for p in shapely.get_parts(shape)])


def _hand(elbow: Sequence[float], wrist: Sequence[float], kind: str) -> list[shapely.Geometry]:
    """A fist, an open hand, a palm turned down, a pointing finger, spread fingers."""
    ahead = math.atan2(wrist[1] - elbow[1], wrist[0] - elbow[0])

    def out(far: float, turn: float, wide: float) -> shapely.Geometry:
        angle = ahead + turn
        end = (wrist[0] + far * math.cos(angle), wrist[1] + far * math.sin(angle))
        return shapely.LineString([wrist, end]).buffer(wide, quad_segs=3)

    if kind == "fist":
        return [shapely.Point(wrist).buffer(7.6)]
    if kind == "flat":
        return [out(10.0, 0.0, 4.3), out(8.0, 0.95, 2.0)]
    if kind == "palm":
        return [out(8.5, 0.0, 3.4)]
    if kind == "finger":
        return [shapely.Point(wrist).buffer(5.2), out(14.0, 0.0, 2.1)]
    if kind == "fingers":
        spread = (-0.95, -0.42, 0.0, 0.42, 1.05)
        return [shapely.Point(wrist).buffer(7.0), *(out(22.0, turn, 2.1) for turn in spread)]
    return []


def _way(way: Mapping[str, Any]) -> shapely.Geometry:
    """An arrow along a bent line, or round a ring (middle, half its width, half its height)."""
    if "ring" in way:
        x, y, wide, high = way["ring"]
        turn = np.linspace(-0.35 * math.pi, 1.4 * math.pi, 40)
        row = np.column_stack((x + wide * np.cos(turn), y + high * np.sin(turn)))
    else:
        row = _bent(np.asarray(way["curve"], float))
    heads = [_arrow_head(row)] + ([_arrow_head(row[::-1])] if way.get("both") else [])
    line = shapely.LineString(row)
    start = 5.0 if way.get("both") else 0.0
    shaft = shapely.ops.substring(line, start, line.length - 5.0)
    return shapely.union_all([shaft.buffer(_WAY, cap_style="flat"), *heads])


def _bent(corners: Points) -> Points:
    """A smooth line through two points, or drawn by four as a cubic curve."""
    if len(corners) == 2:
        return corners
    t = np.linspace(0.0, 1.0, 25)[:, None]
    share = np.hstack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3])
    curve: Points = share @ corners
    return curve


def _arrow_head(row: Points) -> shapely.Geometry:
    step = row[-1] - row[-2]
    ahead = step / math.hypot(*step.tolist())
    right = np.array((ahead[1], -ahead[0]))
    back = row[-1] - 9.0 * ahead
    return shapely.Polygon([row[-1] + 1.0 * ahead, back + 5.4 * right, back - 5.4 * right])
