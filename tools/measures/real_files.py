"""Our numbers of real files beside those of the general libraries that read them directly."""

from __future__ import annotations

import lzma
from collections.abc import Callable, Iterable
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

import numpy as np
from measures.figure import Figure, measured, missing
from measures.real_tides import beside_library_m, beside_observed_m
from measures.real_told import told_of
from numpy.typing import NDArray

from shorefast.readers import Told, read_depths, read_shapes

Floats = NDArray[np.float64]
XARRAY_THERE = find_spec("xarray") is not None
_RASTERS = (".tif", ".asc", ".bag")
_STATIONS, _OBSERVED = "harmonics_4stations.json", "noaa_9447130_water_level_6min_201501.json"


class Direct(NamedTuple):
    """What a general library reads of a file: places, and levels up. [deg, m]"""

    lat_deg: Floats
    lon_deg: Floats
    level_m: Floats


def _out_by(direct: Direct, path: Path) -> tuple[float, float]:
    """The greatest difference of least, greatest and mean level, and of their places. [m]

    The place is the middle of all, each weighed by its level, so that a grid upside down
    or half a cell aside is found out. A different count is as bad as it gets.
    """
    read = read_depths(path, Told(**told_of(path)))
    ours = Direct(read.lat_deg, read.lon_deg, read.level_m)
    if direct.level_m.size != ours.level_m.size:
        return float("inf"), float("inf")
    off_m = np.subtract(_figures(direct), _figures(ours))
    return float(np.abs(off_m[:3]).max()), float(np.abs(off_m[3:]).max())


def _figures(one: Direct) -> Floats:
    level_m = one.level_m
    share = level_m - level_m.min() + 1.0
    lat_deg = np.average(one.lat_deg, weights=share)
    lon_deg = np.average(one.lon_deg % 360.0, weights=share)
    # a minute of latitude is a mile; metres of longitude at that latitude
    north_m = 60.0 * 1852.0 * lat_deg
    east_m = 60.0 * 1852.0 * np.cos(np.radians(lat_deg)) * lon_deg
    return np.array([level_m.min(), level_m.max(), level_m.mean(), north_m, east_m])


def _raster(path: Path) -> tuple[float, float]:
    """A raster by rasterio, its nodes in the middle of their cells."""
    import rasterio
    from pyproj import Transformer

    told = Told(**told_of(path))
    with rasterio.open(path) as raster:
        band = raster.read(1).astype(float)
        lost = {raster.nodata, told.no_data} - {None}
        there = ~np.isin(band, [float(one) for one in lost if one is not None])
        rows, columns = np.nonzero(there)
        x, y = raster.transform * (columns + 0.5, rows + 0.5)
        turn = Transformer.from_crs(told.crs or raster.crs.to_wkt(), "EPSG:4326", always_xy=True)
    lon, lat = turn.transform(x, y)
    return _out_by(Direct(lat, lon, _up(band[there], told)), path)


def _up(numbers: Floats, told: Told) -> Floats:
    return numbers if told.depth == "up" else -numbers


def _netcdf(path: Path) -> tuple[float, float]:
    """A NetCDF grid by xarray; its land is 0, as its origin says."""
    import xarray

    told = Told(**told_of(path))
    with xarray.open_dataset(path) as opened:
        (name,) = (one for one in opened.data_vars if str(one).lower().startswith("bathy"))
        columns = (opened[one].values.astype(float) for one in ("nav_lat", "nav_lon", name))
        lat, lon, numbers = columns
    wet = numbers != 0.0
    return _out_by(Direct(lat[wet], lon[wet], _up(numbers[wet], told)), path)


def _rows(path: Path) -> tuple[float, float]:
    """Rows of longitude, latitude, level by the standard library and numpy."""
    told = Told(**told_of(path))
    with lzma.open(path, "rt", encoding="utf-8") as opened:
        lon, lat, numbers = np.loadtxt(opened, delimiter=",", skiprows=1).T
    return _out_by(Direct(lat, lon, _up(numbers, told)), path)


def _shapes(path: Path) -> tuple[float, ...]:
    """How many features we take more or fewer than pyogrio counts."""
    import pyogrio

    there = int(pyogrio.read_info(path)["features"])
    return (float(abs(there - len(read_shapes(path).features))),)


def real_numbers(folder: Path) -> list[Figure]:
    """Every file of a folder beside a library read directly; what is not there is not.

    Returns
    -------
    figures : greatest differences of depths and water levels [m], and of counts of shapes
    """
    beds = sorted((folder / "bathymetry").glob("*"))
    rasters = [one for one in beds if one.suffix in _RASTERS and "no_usable" not in one.name]
    figures = [
        *_beds("rasterio", rasters, _raster),
        *_beds("numpy", _ending(beds, ".xz"), _rows),
        *_beds("xarray", _ending(beds, ".nc"), _netcdf if XARRAY_THERE else None),
    ]
    odd = _worst(sorted((folder / "coastline").glob("*.g*")), _shapes)
    figures.append(measured("real-shapes-beside-pyogrio", odd[0], "features", "< 1"))
    return figures + _tides(folder / "tide")


def _beds(
    library: str, paths: list[Path], out_by: Callable[[Path], tuple[float, ...]] | None
) -> list[Figure]:
    """Depths and places beside a library; not measured where it is not there."""
    goals = {f"real-depths-beside-{library}": "< 0.001", f"real-places-beside-{library}": "< 0.1"}
    if out_by is None:
        return [missing(name, "m", goal) for name, goal in goals.items()]
    worst = _worst(paths, out_by)
    rows = zip(goals.items(), worst, strict=True)
    return [measured(name, value, "m", goal) for (name, goal), value in rows]


def _ending(paths: Iterable[Path], suffix: str) -> list[Path]:
    return [one for one in paths if one.suffix == suffix]


def _tides(folder: Path) -> list[Figure]:
    """Predicted beside utide, and beside the water of a month."""
    stations, observed = folder / _STATIONS, folder / _OBSERVED
    if not (stations.is_file() and observed.is_file()):
        return []
    ours_m, theirs_m = beside_observed_m(stations, observed, "Seattle")
    return [
        measured("real-tides-beside-utide", beside_library_m(stations), "m", "< 0.03"),
        measured("real-tide-off-the-water", ours_m, "m", "< 0.15", ("utide's fit", theirs_m)),
    ]


def _worst(paths: list[Path], out_by: Callable[[Path], tuple[float, ...]]) -> list[float]:
    """The greatest of each of the differences over some files; NaN without any."""
    found = []
    for path in paths:
        found.append(out_by(path))
        print(f"{path.name}: out by {', '.join(f'{one:g}' for one in found[-1])}", flush=True)
    return np.max(found, axis=0).tolist() if found else [float("nan")] * 2
