"""A grid of depths as a file gives it, and where a place lies in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame, between_nodes, roughness_m

Floats = NDArray[np.float64]
Locate = Callable[[Floats, Floats], tuple[Floats, Floats]]


@dataclass(frozen=True)
class NodeGrid:
    """Levels on a file's own nodes.

    Attributes
    ----------
    level_m : array, shape (row, column)
        Up from chart datum; NaN unknown. [m]
    locate : function
        Latitudes and longitudes in, fractional row and column out; NaN outside.
    spacing_m : float
        Between nodes. [m]
    told_m : array, shape (row, column), optional
        What the file itself says a node may be out by; NaN where it does not say. [m]
    """

    level_m: Floats
    locate: Locate
    spacing_m: float
    told_m: Floats | None = None

    @cached_property
    def rough_m(self) -> Floats:
        """How rough the bed is round each node. [m]"""
        return roughness_m(self.level_m)

    def at(self, lat_deg: Floats, lon_deg: Floats) -> tuple[Floats, Floats]:
        """Level and its standard deviation at places [m]; NaN unknown."""
        row, column = self.locate(lat_deg, lon_deg)
        level, deviation = between_nodes(self.level_m, self.rough_m, row, column)
        if self.told_m is not None:
            told, _ = between_nodes(self.told_m, self.rough_m, row, column)
            deviation = np.hypot(deviation, np.nan_to_num(told))
        return level, deviation


def node_spacing_m(lat_deg: Floats, lon_deg: Floats) -> float:
    """Mean distance from a first node to its neighbours, given after it. [m]"""
    middle = Frame(float(lat_deg[0]), float(lon_deg[0]) % 360.0)
    east, north = middle.to_plane(lat_deg, lon_deg)
    return float(np.hypot(east[1:] - east[0], north[1:] - north[0]).mean())
