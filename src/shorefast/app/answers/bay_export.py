"""A bay written out: layers, depths as a raster, soundings in rows, and a plan.

The same bay gives the same bytes: where a format wants a time of writing, it is given
the first second of the year 2000.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shorefast.app.answers.bay_export_layers import Layer, layers_of
from shorefast.app.answers.bay_export_plan import PaletteName, write_plan
from shorefast.app.answers.bay_export_raster import write_raster
from shorefast.app.answers.bay_export_rows import write_geojson, write_gpkg, write_soundings
from shorefast.bay import Bay


@dataclass(frozen=True)
class Exported:
    """One file that was written: what it holds, and what was left out of it and why."""

    path: Path
    holds: dict[str, int]
    crs: str
    left_out: tuple[tuple[str, int], ...] = ()

    def keys(self) -> dict[str, Any]:
        """As it stands in the answer."""
        rows = [{"why": why, "count": count} for why, count in self.left_out]
        return {"file": self.path.name, "holds": self.holds, "crs": self.crs, "left_out": rows}


def write_bay(out: Path, bay: Bay, palette: PaletteName = "day") -> tuple[Exported, ...]:
    """Write all files of a bay into a folder that is there.

    Parameters
    ----------
    out : Path
        ``bay.gpkg``, ``bay.geojson``, ``depth.tif``, ``soundings.csv``, ``plan.svg``,
        ``plan.pdf`` and ``plan.png`` are written anew in it.
    palette : "day", "night" or "print"
        Of the plan.
    """
    layers = layers_of(bay)
    sounded = bay.soundings.level_m.size
    drawn = tuple(layer for layer in layers if layer.name != "soundings")
    known, unknown = write_raster(out / "depth.tif", bay)
    write_soundings(out / "soundings.csv", bay)
    plans = write_plan(out, bay, palette)
    too_many = (("soundings stand in soundings.csv and bay.gpkg", sounded),) if sounded else ()
    nowhere = (("nodes where the bed is unknown hold -9999", unknown),) if unknown else ()
    return (
        _written(write_gpkg, out / "bay.gpkg", layers),
        _written(write_geojson, out / "bay.geojson", drawn, too_many),
        Exported(out / "depth.tif", {"nodes": known}, "plane of the bay", nowhere),
        Exported(out / "soundings.csv", {"soundings": sounded}, "EPSG:4326"),
        *(Exported(path, {"pages": 1}, "plane of the bay") for path in plans),
    )


def _written(
    write: Callable[[Path, Sequence[Layer]], None],
    path: Path,
    layers: Sequence[Layer],
    left_out: tuple[tuple[str, int], ...] = (),
) -> Exported:
    write(path, layers)
    return Exported(path, {one.name: len(one.shapes) for one in layers}, "EPSG:4326", left_out)
