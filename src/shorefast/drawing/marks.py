"""Small signs of the sheet: anchor, north arrow, scale, wind arrow, rock, point ashore."""

from __future__ import annotations

import math

import numpy as np

from shorefast.drawing.page import Box, Page, Points, Style

_SMALL = Style("sans", "ink", 8.0, "middle")


def turned(points: Points, direction: tuple[float, float], at: tuple[float, float]) -> Points:
    """Points drawn for 'ahead is up', turned so that ahead is the given unit step."""
    ahead = np.array(direction)
    right = np.array((-ahead[1], ahead[0]))
    moved: Points = points[:, :1] * right + points[:, 1:] * ahead + np.array(at)
    return moved


def anchor(page: Page, at: tuple[float, float], toward: tuple[float, float], kind: str) -> None:
    """An anchor where it lies: shank along the chain, arms biting away from it."""
    shank = np.array([(0.0, 0.0), (0.0, 8.0)])
    stock = np.array([(-2.6, 6.2), (2.6, 6.2)])
    bend = np.linspace(-1.15, 1.15, 9)
    arms = np.column_stack((5.2 * np.sin(bend), 5.4 - 5.4 * np.cos(bend) - 0.2))
    barbs = [
        np.array([(side * 3.2, 1.8), arms[-1] * (side, 1.0), (side * 5.2, 5.6)])
        for side in (-1.0, 1.0)
    ]
    for row in (shank, stock, arms, *barbs):
        page.rows(turned(row, toward, at), kind)
    eye = turned(np.array([(0.0, 9.1)]), toward, at)[0]
    page.ring((float(eye[0]), float(eye[1])), 1.1, kind)


def north_arrow(page: Page, middle: tuple[float, float], north: tuple[float, float]) -> None:
    """A slim two-sided needle and an N at its tip, in a square of 34 points."""
    needle = np.array([(0.0, 10.0), (2.7, -9.0), (0.0, -6.2), (-2.7, -9.0)])
    page.rows(turned(needle, north, middle), "outline", closed=True)
    half = np.array([(0.0, 10.0), (2.7, -9.0), (0.0, -6.2)])
    page.rows(turned(half, north, middle), "solid", closed=True)
    x, y = middle[0] + 14.2 * north[0], middle[1] + 14.2 * north[1]
    page.text(x, y + 2.9, "N", Style("medium", "ink", 9.0, "middle"))


def scale_bar(page: Page, box: Box, length_m: float, scale: float) -> None:
    """A bar of a round length with its ends and middle named."""
    left, base = box.left + 8.0, box.bottom - 4.0
    wide = length_m * scale
    page.line((left, base), (left + wide, base), "frame")
    for share in (0.0, 0.5, 1.0):
        x = left + share * wide
        page.line((x, base - 2.2), (x, base + 2.2), "frame")
        said = f"{share * length_m:g}" + (" m" if share == 1.0 else "")
        if share == 0.5 and wide < 44.0:
            continue
        page.text(x, base - 4.6, said, _SMALL)


def round_length_m(scale: float, about_pt: float) -> float:
    """The round length whose bar comes nearest to a width on paper. [m]"""
    steps = [digit * 10.0**power for power in range(-1, 4) for digit in (1, 2, 5)]
    return min(steps, key=lambda step: abs(math.log(step * scale / about_pt)))


def wind_arrow(
    page: Page, middle: tuple[float, float], toward: tuple[float, float], long_pt: float = 13.0
) -> None:
    """An arrow flying with the wind."""
    half = long_pt / 2
    shaft = np.array([(0.0, -half), (0.0, half)])
    head = np.array([(-2.3, half - 4.0), (0.0, half), (2.3, half - 4.0)])
    page.rows(turned(shaft, toward, middle), "arrow")
    page.rows(turned(head, toward, middle), "arrow")


def rock(page: Page, at: tuple[float, float]) -> None:
    """The paper chart's cross in a dotted ring."""
    x, y = at
    page.ring(at, 5.2, "dotted")
    page.line((x - 2.6, y), (x + 2.6, y), "outline")
    page.line((x, y - 2.6), (x, y + 2.6), "outline")


def point_ashore(page: Page, at: tuple[float, float], *, gives: bool) -> None:
    """A ring where a line is made fast."""
    page.ring(at, 2.5, "panel")
    page.ring(at, 2.5, "give-line" if gives else "outline")
