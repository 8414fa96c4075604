"""Depth grids as rasters: GeoTIFF, ESRI ASCII, BAG, whatever GDAL reads."""

from __future__ import annotations

import warnings
from mmap import ACCESS_READ, mmap
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.bag_refined import damaged, read_refined
from shorefast.readers.depths import DepthsRead, Tally, Told, check_places, east_of_greenwich
from shorefast.readers.grid_values import check_size, meant_levels
from shorefast.readers.hdf5_whole import check_bag
from shorefast.readers.node_grid import Locate, NodeGrid, node_spacing_m
from shorefast.readers.soundings_csv import to_earth

Floats = NDArray[np.float64]

_KINDS = {"GTiff": "GeoTIFF grid", "AAIGrid": "ESRI ASCII grid", "BAG": "BAG grid"}
# Only formats that hold their own numbers: others could send GDAL to further files or a network.
_DRIVERS = {
    b"II*\0": "GTiff", b"MM\0*": "GTiff", b"II+\0": "GTiff", b"MM\0+": "GTiff",
    b"\x89HDF": "BAG", b"ncol": "AAIGrid", b"nrow": "AAIGrid", b"DSAA": "GSAG",
    b"DSBB": "GSBG", b"DSRB": "GS7BG", b"EHFA": "HFA",
}  # fmt: skip
_UP = ("elevation", "height", "altitude")


def read_raster(path: Path, told: Told, frame: Frame | None = None) -> DepthsRead:
    """Read the first band of a raster as a grid of depths.

    A BAG counts up by its own format and brings each node's uncertainty in its second
    band; one of variable resolution gives its refined nodes, round the bay's origin
    where there is a ``frame``. Of other rasters the person must say which way they
    count, unless the band's name says it.

    Raises
    ------
    Unreadable
        If GDAL cannot read it to the end, it is too large, or holds no depth.
    BadInput
        If nobody says which coordinates it is in, or which way it counts.

    Source
    ------
    bag-format (elevation counts up).
    """
    numbers, uncertainty, about = open_raster(path)
    crs = told.crs or about["crs"]
    if crs is None:
        raise no_crs(path.name, about["bounds"])
    if about["transform"].is_degenerate:
        raise Unreadable(
            path.name, "its cells have no size", "a raster of depths wanted", "Export it again."
        )
    if about["refined"]:
        return read_refined(path, told, {**about, "crs": crs, "coarse": numbers}, frame)
    tally = Tally()
    level, notes = meant_levels(path.name, numbers, told, _way(about), tally)
    row, column = np.nonzero(np.isfinite(level))
    x, y = about["transform"] @ (column + 0.5, row + 0.5)
    lat, lon = to_earth(path.name, np.asarray(x), np.asarray(y), crs)
    check_places(path.name, lat, lon)
    deviation = uncertainty[row, column]
    if told.deviation_m is not None:
        deviation = np.full(lat.size, told.deviation_m)
    locate = raster_places(path.name, about["transform"], crs)
    spacing_m = raster_spacing_m(path.name, about, crs)
    grid = NodeGrid(level, locate, spacing_m, uncertainty)
    return DepthsRead(
        path.name, _KINDS.get(about["driver"], "grid"), lat, east_of_greenwich(lon),
        level[row, column], deviation, tally.rows(), crs, told.datum, grid, notes,
    )  # fmt: skip


def open_raster(
    path: Path, wanted: str = "a raster of depths wanted"
) -> tuple[Floats, Floats, dict[str, Any]]:
    """First band, uncertainty (NaN where the file has none), and what the file says."""
    import rasterio
    from rasterio.errors import NotGeoreferencedWarning, RasterioError, RasterioIOError

    check_bag(path, wanted)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", NotGeoreferencedWarning)
            with rasterio.open(path, driver=_driver(path)) as opened:
                # a single coarse cell may hold any number of refined nodes
                least = 1 if _is_refined(opened) else 2
                check_size(path.name, opened.height, opened.width, least)
                return _bands(opened)
    except (RasterioIOError, RasterioError, ValueError) as trouble:
        cut = "cut short" if "IReadBlock" in str(trouble) or "Read failed" in str(trouble) else ""
        raise Unreadable(
            path.name,
            f"GDAL cannot read it{' to the end (is it ' + cut + '?)' if cut else ''}",
            wanted,
            "Fetch or export it again.",
        ) from None


def _driver(path: Path) -> str:
    with path.open("rb") as opened:
        head = opened.read(4)
    found = _DRIVERS.get(head) or _DRIVERS.get(head.lower())
    if found is None:
        raise ValueError(path.name)
    return found


def _bands(opened: Any) -> tuple[Floats, Floats, dict[str, Any]]:
    first = opened.read(1, masked=True).astype(np.float64).filled(np.nan)
    uncertainty = np.full(first.shape, np.nan)
    if opened.count >= 2 and (opened.driver == "BAG" or _tells_doubt(opened.descriptions[1])):
        uncertainty = opened.read(2, masked=True).astype(np.float64).filled(np.nan)
    about = {
        "driver": opened.driver,
        "band": (opened.descriptions[0] or "").lower(),
        "crs": opened.crs.to_string() if opened.crs else None,
        "transform": opened.transform,
        "bounds": tuple(opened.bounds),
        "unit": (opened.units[0] or "").lower(),
        "refined": _is_refined(opened),
    }
    return first, uncertainty, about


def _is_refined(opened: Any) -> bool:
    """Whether a BAG is of variable resolution.

    GDAL's word for the refined cells themselves is missing where one of them is damaged;
    where all word of them is, yet their names stand in the file, no more can be read.
    """
    if opened.driver != "BAG" or "MIN_RESOLUTION_X" in opened.tags():
        return bool(opened.driver == "BAG")
    path = Path(opened.name)
    if _names_refined(path):
        raise damaged(path.name, "HDF5 cannot read its refined nodes")
    return False


def _names_refined(path: Path) -> bool:
    """Whether the names of refined nodes stand in a file, readable or not."""
    with path.open("rb") as opened, mmap(opened.fileno(), 0, access=ACCESS_READ) as whole:
        return any(whole.find(one) >= 0 for one in (b"varres_metadata", b"varres_refinements"))


def _tells_doubt(description: str | None) -> bool:
    return (description or "").lower().startswith("standard deviation")


def _way(about: dict[str, Any]) -> str | None:
    if about["driver"] == "BAG" or about["band"] in _UP:
        return "up"
    return "down" if about["band"] == "depth" or "down positive" in about["band"] else None


def no_crs(name: str, bounds: tuple[float, float, float, float]) -> BadInput:
    """The question to the person where a raster does not say its coordinates."""
    west, south, east, north = bounds
    degrees = abs(south) <= 90.0 and abs(north) <= 90.0 and -360.0 <= west < east <= 360.0
    hint = " These look like degrees: EPSG:4326." if degrees else ""
    return BadInput(
        name,
        f"its places run {west:g} to {east:g} and {south:g} to {north:g}",
        "it does not say in which coordinates",
        f'Say so (--crs, or crs = "EPSG:..." in bay.toml).{hint}',
    )


def raster_places(name: str, transform: Any, crs: str) -> Locate:
    """Where places lie among the nodes (pixel centres) of a raster."""
    back = ~transform

    def locate(lat_deg: Floats, lon_deg: Floats) -> tuple[Floats, Floats]:
        from pyproj import Transformer

        turn = Transformer.from_crs("EPSG:4326", crs, always_xy=True)
        x, y = turn.transform(lon_deg, lat_deg)
        x, y = np.asarray(x, float), np.asarray(y, float)
        if abs(transform.a) < 1.0 and abs(transform.c) <= 360.0:
            x = transform.c + (x - transform.c) % 360.0
        known = np.isfinite(x) & np.isfinite(y)
        column, row = back @ (np.where(known, x, 0.0), np.where(known, y, 0.0))
        return np.where(known, row - 0.5, np.nan), np.where(known, column - 0.5, np.nan)

    return locate


def raster_spacing_m(name: str, about: dict[str, Any], crs: str) -> float:
    """Mean distance between nodes at the middle of a raster. [m]"""
    west, south, east, north = about["bounds"]
    transform = about["transform"]
    x, y = 0.5 * (west + east), 0.5 * (south + north)
    beside = np.array([x, x + transform.a, x + transform.b])
    above = np.array([y, y + transform.d, y + transform.e])
    return node_spacing_m(*to_earth(name, beside, above, crs))
