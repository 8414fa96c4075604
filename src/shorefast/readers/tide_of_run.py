"""The tide of soundings under way: any file a stay may name, read for the run's own hours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis
from shorefast.readers.depth_file import check_there
from shorefast.readers.stay_tide import TideTold, read_tide_told, water_of
from shorefast.readers.toml_file import TomlTable
from shorefast.weather import level_at

# Other years are a broken clock's.
_YEARS = (np.datetime64("1900", "Y"), np.datetime64("2099", "Y"))


@dataclass
class TideOfRun:
    """Height of the water at any moments, worked out when these are known.

    Attributes
    ----------
    told : TideTold
    said_by : str
        The file that tells it, for what it rests on.
    basis : Basis
        What the heights given so far rest on.
    """

    told: TideTold
    said_by: str
    basis: Basis = field(default_factory=Basis)

    def __call__(self, times_utc: NDArray[np.datetime64]) -> NDArray[np.float64]:
        """Heights above chart datum, NaN where the file has none. [m]

        Each year by itself: from year to year the parts of a predicted tide change.
        """
        height_m = np.full(times_utc.shape, np.nan)
        years = times_utc.astype("datetime64[Y]")
        for year in np.unique(years[(years >= _YEARS[0]) & (years <= _YEARS[1])]):
            within = years == year
            hours = (_moment(times_utc[within].min()), _moment(times_utc[within].max()))
            water = water_of(self.told, hours, self.said_by)
            self.basis |= water.basis
            height_m[within] = level_at(water, times_utc[within])
        return height_m

    def notes(self) -> Iterator[str]:
        """What was taken as true of the water and what was odd in its file."""
        yield from dict.fromkeys(one.said for one in self.basis.assumptions)
        yield from dict.fromkeys(f"{one.where}: {one.said}" for one in self.basis.findings)


def _moment(time_utc: Any) -> datetime:
    return datetime.fromisoformat(str(time_utc.astype("datetime64[s]"))).replace(tzinfo=UTC)


def read_tide_of_run(table: TomlTable, folder: Path) -> TideOfRun | float | None:
    """The ``tide`` of a ``[[depths]]`` table: a file, or a table as a stay's ``[tide]``.

    Returns
    -------
    TideOfRun, float or None
        A number where one level is told [m]; None where nothing is.

    Raises
    ------
    BadInput
        If the file is not there, or a key cannot be so.
    """
    tide = table.table_or_file("tide")
    if tide is None:
        return None

    def file_of(one: TomlTable) -> Path:
        path = folder / one.need_text("file")
        check_there(path, f"the tide of {one.where('file')}")
        return path

    told = read_tide_told(tide, file_of)
    return TideOfRun(told, table.name) if told.level_m is None else told.level_m
