"""The edge of a chart: ticks at round minutes of latitude and longitude, and their figures."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from shorefast.drawing.page import Page, Style
from shorefast.drawing.view import View

if TYPE_CHECKING:
    from shorefast.bay import Frame

EDGE_PT = 14.0
"""Paper the ticks and figures take round the frame. [pt]"""
_STEPS_MIN = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 120.0, 300.0)
_APART_PT = 95.0
_TICK_PT = 3.0
_ACROSS = Style("sans", "soft", 8.0, "middle")
_DOWN = Style("sans", "soft", 8.0, "end")


def draw_edge(page: Page, view: View, frame: Frame) -> None:
    """Ticks on all four sides; longitudes below, latitudes at the left."""
    box = view.frame
    corners = np.array([(box.left, box.bottom), (box.right, box.top)])
    lat, lon = frame.to_earth(*view.from_page(corners))
    page.begin("edge", "Latitude and longitude at the edge")
    lon_span = (float(lon[1]) - float(lon[0])) % 360.0
    for at_deg, said in _round(float(lon[0]), lon_span, box.width, 3, "EW"):
        x = view.one(*_plane(frame, float(lat[0]), at_deg))[0]
        _tick_across(page, view, x, said)
    for at_deg, said in _round(float(lat[0]), float(lat[1] - lat[0]), box.height, 2, "NS"):
        y = view.one(*_plane(frame, at_deg, float(lon[0])))[1]
        _tick_down(page, view, y, said)
    page.end()


def _plane(frame: Frame, lat_deg: float, lon_deg: float) -> tuple[float, float]:
    east, north = frame.to_plane(lat_deg, lon_deg)
    return float(east), float(north)


def _round(
    start_deg: float, span_deg: float, long_pt: float, width: int, sides: str
) -> list[tuple[float, str]]:
    """Round places along an edge and how each is said. [deg]"""
    fitting = (s for s in _STEPS_MIN if s / 60.0 * long_pt > _APART_PT * span_deg)
    step_deg = next(fitting, _STEPS_MIN[-1]) / 60.0
    first = math.ceil(start_deg / step_deg - 1e-9)
    last = math.floor((start_deg + span_deg) / step_deg + 1e-9)
    return [
        (number * step_deg, _said(number * step_deg, step_deg, width, sides))
        for number in range(first, last + 1)
    ]


def _said(at_deg: float, step_deg: float, width: int, sides: str) -> str:
    at_deg = (at_deg + 180.0) % 360.0 - 180.0 if width == 3 else at_deg
    digits = 2 if step_deg * 60.0 < 0.095 else 1 if step_deg * 60.0 < 0.95 else 0
    whole, rest = divmod(round(abs(at_deg) * 6000), 6000)
    minutes = f"{rest / 100:0{3 + digits if digits else 2}.{digits}f}"
    return f"{whole:0{width}d} {minutes} {sides[0] if at_deg >= 0.0 else sides[1]}"


def _tick_across(page: Page, view: View, x: float, said: str) -> None:
    box = view.frame
    if not box.left - 0.5 <= x <= box.right + 0.5:
        return
    page.line((x, box.bottom), (x, box.bottom + _TICK_PT), "frame")
    page.line((x, box.top), (x, box.top - _TICK_PT), "frame")
    half = _ACROSS.width_pt(said) / 2
    if box.left < x - half and x + half < box.right:
        page.text(x, box.bottom + _TICK_PT + 8.0, said, _ACROSS)


def _tick_down(page: Page, view: View, y: float, said: str) -> None:
    box = view.frame
    if not box.top - 0.5 <= y <= box.bottom + 0.5:
        return
    page.line((box.left, y), (box.left - _TICK_PT, y), "frame")
    page.line((box.right, y), (box.right + _TICK_PT, y), "frame")
    whole, minutes = said.split(" ", 1)
    if box.top + 9.0 < y < box.bottom - 9.0:
        page.text(box.left - _TICK_PT - 1.5, y - 1.5, whole, _DOWN)
        page.text(box.left - _TICK_PT - 1.5, y + 7.5, minutes, _DOWN)
