"""From the bay's metres to the plan's points: shore up, the bow pointing down the page."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.drawing.page import Box, Points


@dataclass(frozen=True)
class View:
    """How the plan is turned, scaled and shifted.

    Attributes
    ----------
    down_rad : float
        The bearing that points down the page: how she is meant to head.
    centre_east_m, centre_north_m : float
        What stands in the middle of the frame.
    scale : float
        Points to a metre.
    frame : Box
        Where it stands on the page. [pt]
    """

    down_rad: float
    centre_east_m: float
    centre_north_m: float
    scale: float
    frame: Box

    def to_page(self, east_m: NDArray[np.float64], north_m: NDArray[np.float64]) -> Points:
        """Places on the page, shape (..., 2). [pt]"""
        east = np.asarray(east_m, float) - self.centre_east_m
        north = np.asarray(north_m, float) - self.centre_north_m
        sine, cosine = math.sin(self.down_rad), math.cos(self.down_rad)
        x = (north * sine - east * cosine) * self.scale + self._middle[0]
        y = (east * sine + north * cosine) * self.scale + self._middle[1]
        return np.stack((x, y), axis=-1)

    def one(self, east_m: float, north_m: float) -> tuple[float, float]:
        """One place on the page. [pt]"""
        x, y = self.to_page(np.array(east_m), np.array(north_m)).tolist()
        return x, y

    def from_page(self, points: Points) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Metres east and north of places on the page, shape (..., 2)."""
        x = (points[..., 0] - self._middle[0]) / self.scale
        y = (points[..., 1] - self._middle[1]) / self.scale
        sine, cosine = math.sin(self.down_rad), math.cos(self.down_rad)
        return self.centre_east_m + y * sine - x * cosine, (
            self.centre_north_m + y * cosine + x * sine
        )

    def shape(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape of the bay's plane, on the page and cut to the frame."""
        moved = shapely.transform(shape, lambda xy: self.to_page(xy[:, 0], xy[:, 1]))
        frame = self.frame
        moved = moved if moved.is_valid else shapely.make_valid(moved)
        return shapely.clip_by_rect(moved, frame.left, frame.top, frame.right, frame.bottom)

    def bearing_on_page(self, bearing_rad: float) -> tuple[float, float]:
        """Which way a bearing points on the page, as a unit step (x, y down)."""
        off = bearing_rad - self.down_rad
        return -math.sin(off), math.cos(off)

    @property
    def _middle(self) -> tuple[float, float]:
        frame = self.frame
        return (frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2


def fitted_view(places_m: NDArray[np.float64], down_rad: float, frame: Box, margin: Box) -> View:
    """The view that shows all places with room about them.

    Parameters
    ----------
    places_m : array, shape (place, 2)
        East and north of all that must be seen.
    margin : Box
        Paper kept free inside the frame on each side (left, top, right, bottom). [pt]
    """
    flat = View(down_rad, 0.0, 0.0, 1.0, Box(0.0, 0.0, 0.0, 0.0))
    seen = flat.to_page(places_m[:, 0], places_m[:, 1])
    low, high = seen.min(axis=0), seen.max(axis=0)
    room = (
        frame.width - margin.left - margin.right,
        frame.height - margin.top - margin.bottom,
    )
    spans = np.maximum(high - low, 8.0)
    scale = float(min(room[0] / spans[0], room[1] / spans[1], 8.0))
    shift = (margin.left - margin.right, margin.top - margin.bottom)
    middle = (low + high) / 2 - np.array(shift) / (2 * scale)
    east, north = flat.from_page(middle)
    return View(down_rad, float(east), float(north), scale, frame)
