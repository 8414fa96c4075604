"""Whole real chart cells from a folder outside, held against GDAL read directly.

Collected only where SHOREFAST_DATA names that folder (``make campaign DATA=FOLDER``).
"""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pyogrio
import pyogrio.raw
import pytest
import shapely

from shorefast.readers import Told, read_chart
from shorefast.readers.chart_cell import OPTIONS

__test__ = bool(os.environ.get("SHOREFAST_DATA"))

# Counts printed beside the cells: soundings, deepest, depth areas, contours, rocks, updates.
CELLS = {
    "US5HA24M": (4165, 107.8, 139, 166, 24, 0),
    "US5BOSCD": (1650, 19.2, 223, 327, 421, 5),
}


@pytest.mark.parametrize("cell", CELLS)
def test_a_real_cell_gives_what_gdal_reads_of_it(cell):
    path = Path(os.environ["SHOREFAST_DATA"]) / "s57" / cell / f"{cell}.000"
    chart = read_chart(path, Told())
    soundings, deepest, areas, contours, rocks, updates = CELLS[cell]
    assert chart.soundings == soundings
    assert -chart.part(0, soundings).level_m.min() == pytest.approx(deepest)
    taken = [chart.taken[one] for one in ("DEPARE", "DEPCNT", "UWTROC")]
    assert [*taken, chart.about["updates_applied"]] == [areas, contours, rocks, updates]
    pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": OPTIONS})
    try:
        about, _, wkb, columns = pyogrio.raw.read(path, layer="SOUNDG")
        layers = [str(name) for name, _ in pyogrio.list_layers(path)]
        counts = {name: len(pyogrio.raw.read(path, layer=name)[3][0]) for name in layers}
    finally:
        pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": None})
    depth = columns[list(about["fields"]).index("DEPTH")]
    part = chart.part(0, soundings)
    assert part.level_m == pytest.approx(-depth)
    at = shapely.get_coordinates(shapely.from_wkb(wkb))
    assert np.column_stack((part.lon_deg, part.lat_deg)) == pytest.approx(at)
    left_out = sum(count for _, count in chart.depths.left_out)
    objects = sum(count for name, count in counts.items() if name != "DSID")
    assert sum(chart.taken.values()) + left_out == objects
