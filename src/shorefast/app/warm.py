"""Run every compiled formula once, so that the first answer does not wait for it."""

from __future__ import annotations

import numpy as np

import shorefast.mooring
from shorefast.bay import Soundings, fit_surface


def _sound_a_slope() -> None:
    """A depth surface through a few soundings on a slope."""
    east, north = (part.ravel() for part in np.meshgrid(np.arange(6.0) * 5, np.arange(6.0) * 5))
    level = -2.0 - 0.3 * east + 0.1 * np.sin(north)
    surface = fit_surface(Soundings(east, north, level, np.full(east.size, 0.1)))
    surface.level_at(east, north)


def main() -> None:
    """Fill the cache of machine code."""
    _sound_a_slope()
    shorefast.mooring.warm()


if __name__ == "__main__":
    main()
