"""What the numbers of a grid mean: no data, land without a mark, which way they count."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import Unreadable
from shorefast.readers.depths import DEEPEST_M, Tally, Told, ask_which_way, levels_from

Floats = NDArray[np.float64]

LAND_SHARE = 0.02
CELLS_MOST = 30_000_000


def check_size(name: str, rows: int, columns: int, least: int = 2) -> None:
    """Raise Unreadable where a grid is too large to hold, or too small to lie in.

    Raises
    ------
    Unreadable
        More than 30 million nodes, or fewer than ``least`` either way.
    """
    if rows * columns > CELLS_MOST:
        raise Unreadable(
            name,
            f"{rows} x {columns} nodes",
            "at most 30 million are read",
            "Cut the grid to the waters asked about.",
        )
    if rows < least or columns < least:
        raise Unreadable(
            name,
            f"{rows} x {columns} nodes",
            f"at least {least} x {least} wanted",
            "Name another grid.",
        )


def meant_levels(
    name: str, numbers: Floats, told: Told, way: str | None, tally: Tally
) -> tuple[Floats, tuple[str, ...]]:
    """Levels up from chart datum, NaN where there is no depth, and what was noticed.

    Parameters
    ----------
    numbers : array, shape (row, column)
        As the file gives them, its own no-data marks already NaN.
    way : str or None
        "down" or "up" where the file itself says so.

    Raises
    ------
    BadInput
        If nobody says which way they count, or all of them would stand dry.
    Unreadable
        If no node holds a depth.
    """
    way = told.depth or way
    if way is None:
        raise ask_which_way(name, "its numbers")
    level = numbers.astype(np.float64, copy=True)
    marks = [] if told.no_data is None else [told.no_data]
    tally.add("no data", name, int(np.isnan(level).sum()))
    _drop(level, np.isin(level, marks), "no data, as told", name, tally)
    _drop(level, np.abs(level) > DEEPEST_M, "deeper or higher than any sea", name, tally)
    notes = _drop_land(level, way, name, tally)
    known = np.isfinite(level)
    if not known.any():
        raise Unreadable(
            name, f"none of its {level.size} nodes holds a depth", "", "Name another grid."
        )
    level[known] = levels_from(name, level[known], way, told.datum_offset_m)
    return level, notes


def _drop(level: Floats, found: NDArray[np.bool_], why: str, name: str, tally: Tally) -> None:
    tally.add(why, name, int(found.sum()))
    level[found] = np.nan


def _drop_land(level: Floats, way: str, name: str, tally: Tally) -> tuple[str, ...]:
    """Leave out the one number at or above datum that much of the grid carries."""
    dry = level[(level <= 0.0) if way == "down" else (level >= 0.0)]
    if not dry.size:
        return ()
    values, counts = np.unique(dry, return_counts=True)
    most = int(np.argmax(counts))
    value, count = float(values[most]), int(counts[most])
    if count < max(LAND_SHARE * level.size, 4):
        return ()
    _drop(level, level == value, f"land (all exactly {value:g})", name, tally)
    share = 100.0 * count / level.size
    return (f"{share:.0f} % of its nodes carry exactly {value:g}: taken as land, no depth there",)
