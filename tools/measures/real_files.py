"""Our numbers of real files beside those of the general libraries that read them directly."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from measures.figure import Figure, measured
from numpy.typing import NDArray

from shorefast.readers import Told, read_depths, read_shapes

Floats = NDArray[np.float64]
Span = tuple[float, float, int]


def _raster(path: Path, told: Told) -> tuple[Span, Span]:
    """Least level, greatest level and count of a raster: by rasterio, and by our reader."""
    import rasterio

    with rasterio.open(path) as raster:
        band = raster.read(1).astype(float)
        lost = {raster.nodata, told.no_data} - {None}
    numbers = band[~np.isin(band, [float(one) for one in lost if one is not None])]
    level = numbers if told.depth == "up" else -numbers
    ours = read_depths(path, told).level_m
    return _span(level), _span(ours)


def _span(level_m: Floats) -> Span:
    return float(level_m.min()), float(level_m.max()), int(level_m.size)


def _out_by(direct: Span, ours: Span) -> float:
    """The greatest difference of the depths [m]; a different count is as bad as it gets."""
    if direct[2] != ours[2]:
        return float("inf")
    return max(abs(direct[0] - ours[0]), abs(direct[1] - ours[1]))


def _shapes(path: Path) -> int:
    """How many features we take more or fewer than pyogrio counts."""
    import pyogrio

    return abs(int(pyogrio.read_info(path)["features"]) - len(read_shapes(path).features))


_UP = Told(depth="up", crs="EPSG:4326")
_RASTERS: dict[str, Told] = {
    "firth_of_lorn_200m.tif": Told(depth="down", no_data=-1.0),
    "public_release_survey_2m_utm.bag": Told(depth="up"),
    **{f"gebco_{name}_15s.asc": _UP for name in
       ("corsica_west", "ikaria_coast", "lipari_vulcano", "samos_strait")},
}  # fmt: skip


def real_numbers(folder: Path) -> list[Figure]:
    """Depths and shapes of a folder's files beside rasterio and pyogrio; what is not there is not.

    Returns
    -------
    figures : greatest difference of depths [m], and of counts of shapes
    """
    rasters = {
        path: told
        for name, told in _RASTERS.items()
        if (path := folder / "bathymetry" / name).is_file()
    }
    shapes = sorted((folder / "coastline").glob("*.g*"))
    worst_m = _worst(rasters, lambda path: _out_by(*_raster(path, rasters[path])))
    odd = _worst(shapes, lambda path: float(_shapes(path)))
    return [
        measured("real-depths-beside-rasterio", worst_m, "m", "< 0.001"),
        measured("real-shapes-beside-pyogrio", odd, "features", "< 1"),
    ]


def _worst(paths: dict[Path, Told] | list[Path], out_by: Callable[[Path], float]) -> float:
    found = []
    for path in paths:
        found.append(out_by(path))
        print(f"{path.name}: out by {found[-1]:g}", flush=True)
    return max(found, default=float("nan"))
