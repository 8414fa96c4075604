"""The drawn bed as a raster of two bands: charted depth and its standard deviation."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from shorefast.bay import Bay, Frame

NO_DATA = -9999.0


def plane_crs(frame: Frame) -> str:
    """The bay's own plane as PROJ names it: what ``bay.frame`` turns places by."""
    return (
        f"+proj=aeqd +lat_0={frame.lat_deg!r} +lon_0={frame.lon_deg!r} "
        "+x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs"
    )


def write_raster(path: Path, bay: Bay) -> tuple[int, int]:
    """Write the surface, a cell round each of its nodes, north up.

    Band 1 is charted depth (down positive), band 2 its standard deviation; unknown is
    -9999 in both, and the file says so.

    Returns
    -------
    known, unknown : int
        How many nodes hold a depth, and how many none.
    """
    import rasterio

    grid = bay.surface.grid
    rows, columns = grid.level_m.shape
    half_m = 0.5 * grid.step_m
    north_m = grid.south_m + grid.step_m * (rows - 1) + half_m
    known = np.isfinite(grid.level_m)
    bands = [_band(0.0 - grid.level_m, known), _band(grid.deviation_m, known)]
    with rasterio.open(
        path, "w", driver="GTiff", width=columns, height=rows, count=2, dtype="float32",
        crs=plane_crs(bay.frame), nodata=NO_DATA, compress="deflate", predictor=3,
        transform=rasterio.Affine(
            grid.step_m, 0.0, grid.west_m - half_m, 0.0, -grid.step_m, north_m
        ),
    ) as out:  # fmt: skip
        for number, values in enumerate(bands, start=1):
            out.write(values, number)
        out.set_band_description(1, "charted depth, metres, down positive")
        out.set_band_description(2, "standard deviation of the depth, metres")
        out.units = ("m", "m")
        out.update_tags(chart_datum=bay.chart_datum or "unknown", name=bay.name)
    return int(known.sum()), int(known.size - known.sum())


def _band(
    values: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    known: np.ndarray[tuple[int, ...], np.dtype[np.bool_]],
) -> np.ndarray[tuple[int, ...], np.dtype[np.float32]]:
    return np.where(known & np.isfinite(values), values, NO_DATA)[::-1].astype(np.float32)
