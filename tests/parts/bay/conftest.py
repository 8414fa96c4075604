"""Beds that are known, and soundings taken of them."""

from collections.abc import Callable

import numpy as np
import pytest

from shorefast.bay import Soundings

Sound = Callable[..., Soundings]


def slope(east_m: np.ndarray, north_m: np.ndarray) -> np.ndarray:
    """A bed that falls away to the north at 1 in 2.5, with low ridges."""
    return -2.0 - 0.4 * north_m + 0.25 * np.sin(east_m / 11.0) * np.sin(north_m / 13.0)


@pytest.fixture
def sound() -> Sound:
    """Sound a bed every few metres, with a seeded error."""

    def take(bed=slope, step_m=6.0, side_m=90.0, error_m=0.0, keep=None) -> Soundings:
        draw = np.random.default_rng(7)
        line = np.arange(0.0, side_m + 0.1, step_m)
        east, north = (part.ravel() for part in np.meshgrid(line, line))
        east = east + draw.uniform(-0.3, 0.3, east.size) * step_m
        north = north + draw.uniform(-0.3, 0.3, north.size) * step_m
        if keep is not None:
            kept = keep(east, north)
            east, north = east[kept], north[kept]
        level = bed(east, north) + draw.normal(0.0, 1.0, east.size) * error_m
        return Soundings(east, north, level, np.full(east.size, np.nan))

    return take
