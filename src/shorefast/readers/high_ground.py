"""The ground round a bay from a grid of elevations, as heights in the bay's plane."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding, Input
from shorefast.bay import Frame, HighGround
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import FOOT_M
from shorefast.readers.depth_file import NETCDF, RASTERS, check_there
from shorefast.readers.depths import Told, check_places
from shorefast.readers.grid_netcdf import HEIGHTS, open_netcdf
from shorefast.readers.grid_raster import no_crs, open_raster, raster_places, raster_spacing_m
from shorefast.readers.grid_values import check_size
from shorefast.readers.node_grid import Locate, node_spacing_m
from shorefast.readers.soundings_csv import to_earth
from shorefast.readers.toml_file import TomlTable
from shorefast.weather import REACH_OF_GROUND_M

Floats = NDArray[np.float64]

UNITS = {"m": 1.0, "ft": FOOT_M}
_SAID_UNITS = {
    "m": "m", "meter": "m", "metre": "m", "meters": "m", "metres": "m",
    "ft": "ft", "foot": "ft", "feet": "ft", "us survey foot": "ft",
}  # fmt: skip
_STEP_LEAST_M = 20.0
_EVERY, _EVEN_M = 10, 500.0
_HIGHEST_M = 9_000.0
# lower lie only marks (-32768 and beyond), even in feet hardly a sea bed; and the usual mark
_LOWEST_M, _USUAL_MARK = -32_000.0, -9999.0


class GroundFile(NamedTuple):
    """A grid of heights as its file has it. [m]

    Attributes
    ----------
    spacing_m : float
        From one of its nodes to the next.
    unit : str
        "m" or "ft", what its numbers are.
    datum : str or None
        What they count from, where that is told.
    ground : HighGround
        The part of it round the bay, in metres.
    """

    crs: str
    spacing_m: float
    unit: str
    datum: str | None
    ground: HighGround


class GroundRead(NamedTuple):
    """The ground, None where no grid is named, and what was read."""

    file: GroundFile | None
    basis: Basis

    @property
    def ground(self) -> HighGround | None:
        """The heights in the bay's plane."""
        return None if self.file is None else self.file.ground


class _Grid(NamedTuple):
    numbers: Floats
    locate: Locate
    spacing_m: float
    unit: str
    way: str | None
    crs: str


def read_high_ground(table: TomlTable, folder: Path, frame: Frame) -> GroundRead:
    """The ``[elevation]`` table of bay.toml and the grid it names.

    The grid is read to ``REACH_OF_GROUND_M`` round the bay, straight lines between its
    nodes; where it is finer than 20 m, at every 20 m. Its no-data stays unknown.

    Raises
    ------
    BadInput
        If the file is missing, of another kind, counts down, or lies elsewhere.
    Unreadable
        If it cannot be read, or holds a height no ground has.
    """
    one = table.table("elevation")
    if one is None:
        return GroundRead(None, Basis())
    path = folder / one.need_text("file")
    unit = one.choice("unit", tuple(UNITS))
    datum = one.text("datum")
    offset_m = one.quantity("datum_offset", "length", least=-100.0, most=100.0) or 0.0
    told = Told(crs=one.text("crs"), no_data=one.number("no_data"))
    check_there(path, f"the heights of {one.where('file')}")
    grid = _opened(path, told)
    unit = unit or _SAID_UNITS.get(grid.unit, "m")
    ground = _round_bay(path.name, grid, frame, UNITS[unit], offset_m)
    file = GroundFile(grid.crs, grid.spacing_m, unit, datum, ground)
    return GroundRead(file, _basis(ground, unit, datum, grid))


def _opened(path: Path, told: Told) -> _Grid:
    suffix = path.suffix.lower()
    if suffix in NETCDF:
        found = _netcdf(path, told)
    elif suffix in RASTERS:
        found = _raster(path, told)
    else:
        raise BadInput(
            path.name,
            "no grid by its name",
            f"{', '.join((*RASTERS, *NETCDF))} wanted",
            "Name a grid of heights.",
        )
    if found.way == "down":
        raise BadInput(
            path.name, "its numbers count down", "heights count up", "Name a grid of heights."
        )
    return found._replace(numbers=_known(path.name, found.numbers, told.no_data))


def _netcdf(path: Path, told: Told) -> _Grid:
    numbers, lat, lon, about = open_netcdf(path, told, HEIGHTS)
    check_size(path.name, *numbers.shape)
    check_places(path.name, lat[np.isfinite(lat)], lon[np.isfinite(lat)])
    first = ((0, 0, 1), (0, 1, 0))
    spacing_m = node_spacing_m(lat[first], lon[first])
    return _Grid(numbers, about["locate"], spacing_m, about["unit"], about["way"], about["crs"])


def _raster(path: Path, told: Told) -> _Grid:
    numbers, _, about = open_raster(path, "a raster of heights wanted")
    check_size(path.name, *numbers.shape)
    crs = told.crs or about["crs"]
    if crs is None:
        raise no_crs(path.name, about["bounds"])
    if about["transform"].is_degenerate:
        raise Unreadable(
            path.name, "its cells have no size", "a raster of heights wanted", "Export it again."
        )
    west, south, east, north = about["bounds"]
    x, y = np.array([west, west, east, east]), np.array([south, north, south, north])
    check_places(path.name, *to_earth(path.name, x, y, crs))
    spacing_m = raster_spacing_m(path.name, about, crs)
    locate = raster_places(path.name, about["transform"], crs)
    return _Grid(numbers, locate, spacing_m, about["unit"], _way(about), crs)


def _way(about: dict[str, Any]) -> str | None:
    return "down" if about["band"] == "depth" else None


def _known(name: str, numbers: Floats, no_data: float | None) -> Floats:
    known = numbers if no_data is None else np.where(numbers == no_data, np.nan, numbers)
    odd = known[(known == _USUAL_MARK) | (known < _LOWEST_M)]
    if odd.size:
        raise BadInput(
            name,
            f"{odd.size} nodes carry {odd[0]:g}",
            "no ground lies so, and the file names no number for no data",
            f"Say no_data = {odd[0]:g} in [elevation].",
        )
    if not np.isfinite(known).any():
        raise Unreadable(
            name, f"none of its {known.size} nodes holds a height", "", "Name another grid."
        )
    return known


def _round_bay(name: str, grid: _Grid, frame: Frame, scale: float, offset_m: float) -> HighGround:
    step_m = max(grid.spacing_m, _STEP_LEAST_M)
    half = int(np.ceil(REACH_OF_GROUND_M / step_m))
    along_m: Floats = step_m * np.arange(-half, half + 1, dtype=np.float64)
    row, column = _located(grid.locate, frame, along_m)
    height_m = _between(grid.numbers, row, column) * scale + offset_m
    if not np.isfinite(height_m).any():
        raise BadInput(
            name,
            "no height of it lies round the bay",
            f"ground within {REACH_OF_GROUND_M / 1000:.0f} km of the bay's origin wanted",
            "Correct lat_deg and lon_deg, or name the grid of these hills.",
        )
    highest = float(np.nanmax(height_m))
    if highest > _HIGHEST_M:
        raise BadInput(
            name,
            f"a height of {highest:.0f} m",
            "no ground is so high",
            'Say unit = "ft" in [elevation] if they are feet, or which number is no_data.',
        )
    return HighGround(float(along_m[0]), float(along_m[0]), step_m, height_m, name)


def _located(locate: Locate, frame: Frame, along_m: Floats) -> tuple[Floats, Floats]:
    """Where even nodes of the plane lie in the file's grid, shape (row, column) each.

    One in ten is turned, the others lie between: over 500 m the earth bends by half
    a centimetre. Coarser nodes are turned each.
    """
    step_m = float(along_m[1] - along_m[0])
    every = _EVERY if step_m * _EVERY <= _EVEN_M else 1
    count = -(-(along_m.size - 1) // every) + 1
    turned_m = along_m[0] + every * step_m * np.arange(count)
    east, north = np.meshgrid(turned_m, turned_m)
    lat, lon = frame.to_earth(east.ravel(), north.ravel())
    row, column = (one.reshape(east.shape) for one in locate(lat, lon))
    if every == 1:
        return row, column
    at = np.arange(along_m.size) / every
    across, up = np.meshgrid(at, at)
    return _between(row, up, across), _between(column, up, across)


def _between(numbers: Floats, row: Floats, column: Floats) -> Floats:
    """Straight between four nodes; unknown where one of those that count is."""
    rows, columns = numbers.shape
    inside = (row >= 0.0) & (row <= rows - 1) & (column >= 0.0) & (column <= columns - 1)
    row, column = np.where(inside, row, 0.0), np.where(inside, column, 0.0)
    i = np.minimum(row.astype(np.int64), rows - 2)
    j = np.minimum(column.astype(np.int64), columns - 2)
    v, u = row - i, column - j
    total = np.zeros(row.shape)
    for di, share in ((0, 1.0 - v), (1, v)):
        for dj, across in ((0, 1.0 - u), (1, u)):
            weight = share * across
            total += np.where(weight > 1e-9, weight * numbers[i + di, j + dj], 0.0)
    return np.where(inside, total, np.nan)


def _basis(ground: HighGround, unit: str, datum: str | None, grid: _Grid) -> Basis:
    known = np.isfinite(ground.height_m)
    said = (
        f"a height every {grid.spacing_m:.0f} m, in {'feet' if unit == 'ft' else 'metres'}, up to"
        f" {np.nanmax(ground.height_m):.0f} m"
    )
    findings = []
    if not known.all():
        lost = f"{1.0 - known.mean():.0%} of the ground within 10 km, sea without heights included,"
        findings.append(Finding(ground.name, f"{lost} is not in it: unknown"))
    if datum is None:
        words = "nobody says what its heights count from: taken as chart datum"
        findings.append(Finding(ground.name, words))
    return Basis(inputs=(Input("elevation", said, ground.name),), findings=tuple(findings))
