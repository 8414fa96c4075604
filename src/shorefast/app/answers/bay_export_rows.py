"""The layers of a bay as GeoPackage and GeoJSON, its soundings in rows."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from shorefast.app.answers.bay_export_layers import Layer
from shorefast.bay import Bay

_WRITTEN_UTC = "2000-01-01T00:00:00Z"
"""The time of writing in a format that wants one: never now."""
_DIGITS = 8  # of a degree: a millimetre


def write_gpkg(path: Path, layers: Sequence[Layer]) -> None:
    """Every layer a table of one GeoPackage, in longitude and latitude."""
    import pyogrio
    import shapely

    path.unlink(missing_ok=True)
    before = pyogrio.get_gdal_config_option("OGR_CURRENT_DATE")
    pyogrio.set_gdal_config_options({"OGR_CURRENT_DATE": _WRITTEN_UTC})
    try:
        for number, layer in enumerate(layers):
            pyogrio.raw.write(
                path,
                shapely.to_wkb(layer.shapes),
                [_column(values) for values in layer.columns.values()],
                list(layer.columns),
                layer=layer.name,
                driver="GPKG",
                geometry_type=layer.kind,
                crs="EPSG:4326",
                append=number > 0,
            )
    finally:
        pyogrio.set_gdal_config_options({"OGR_CURRENT_DATE": before})


def _column(values: Sequence[Any]) -> Any:
    if all(isinstance(value, float | int) for value in values):
        return np.array(values, float)
    return np.array(values, object)


def write_geojson(path: Path, layers: Sequence[Layer]) -> None:
    """All layers in one collection; each feature says its layer."""
    features = [
        {"type": "Feature", "properties": {"layer": layer.name, **_said(layer, place)}, "geometry":
         _rounded(shape)}
        for layer in layers
        for place, shape in enumerate(layer.shapes)
    ]  # fmt: skip
    tree = {"type": "FeatureCollection", "features": features}
    path.write_text(json.dumps(tree, ensure_ascii=False, allow_nan=False) + "\n", encoding="utf-8")


def _said(layer: Layer, place: int) -> dict[str, Any]:
    said = {name: values[place] for name, values in layer.columns.items()}
    lost = [name for name, value in said.items() if isinstance(value, float) and math.isnan(value)]
    return {**said, **dict.fromkeys(lost)}


def _rounded(shape: Any) -> dict[str, Any]:
    import shapely

    even = shapely.transform(shape, lambda at: np.round(at, _DIGITS))
    drawn: dict[str, Any] = json.loads(shapely.to_geojson(even))
    return drawn


def write_soundings(path: Path, bay: Bay) -> None:
    """Every sounding the bed is drawn from, charted depths, one a row."""
    lat, lon = bay.frame.to_earth(bay.soundings.east_m, bay.soundings.north_m)
    columns = (lon, lat, 0.0 - bay.soundings.level_m, bay.soundings.deviation_m)
    rows = np.column_stack([np.asarray(column, float) for column in columns])
    with path.open("w", encoding="utf-8", newline="\n") as out:
        out.write("lon_deg,lat_deg,depth_m,deviation_m\n")
        out.writelines(map(_row, rows.tolist()))


def _row(row: Sequence[float]) -> str:
    """One sounding; a deviation that nobody told is left blank."""
    lon_deg, lat_deg, depth_m, deviation_m = row
    told = "" if math.isnan(deviation_m) else f"{deviation_m:.3f}"
    return f"{lon_deg:.8f},{lat_deg:.8f},{depth_m:.3f},{told}\n"
