"""A BAG of variable resolution: each refined node's level, doubt and place, beside GDAL's reading.

The files are written here after the format's description (Open Navigation Surface working
group, from memory): a compound a coarse cell, south first, and one row of refined nodes.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import netCDF4
import numpy as np
import pytest
import rasterio
from pyproj import Transformer

from shorefast.bay import Frame
from shorefast.errors import ShorefastError, Unreadable
from shorefast.readers import bag_refined, hdf5_whole
from shorefast.readers.depth_file import read_depths
from shorefast.readers.depths import Told

_CELL = np.dtype(
    [("index", "<u4"), ("dimensions_x", "<u4"), ("dimensions_y", "<u4")]
    + [(f"{what}_{axis}", "<f4") for what in ("resolution", "sw_corner") for axis in "xy"]
)
_NODE = np.dtype([("depth", "<f4"), ("depth_uncrt", "<f4")])
WEST, SOUTH, WIDE = 300_000.0, 6_700_000.0, 8.0
UTM = "EPSG:32632"
# Two coarse cells of four with nodes under them: 3 x 2 at 2.5 by 3 m, 4 x 4 at 2 m.
CELLS = {(0, 0): (0, 3, 2, 2.5, 3.0, 1.0, 2.0), (1, 1): (6, 4, 4, 2.0, 2.0, 1.0, 1.0)}
WANTED = "a BAG grid of depths wanted. Fetch the file again."


def _nodes(count: int) -> Any:
    nodes = np.zeros(count, _NODE)
    nodes["depth"], nodes["depth_uncrt"] = -1.0 - np.arange(count), 0.25 + 0.125 * np.arange(count)
    return nodes


def _write(
    path: Path, nodes: Any, cells: Any = CELLS, shape: Any = (2, 2), coarse: Any = None
) -> Path:
    """The words of the file by GDAL, in a coarse grid of its own; the numbers by netCDF."""
    rows, columns = shape
    overview = np.full(shape, -10.0, "f4") if coarse is None else coarse
    plain = path.with_name("plain.bag")
    places = {
        "crs": UTM,
        "transform": rasterio.Affine(WIDE, 0, WEST, 0, -WIDE, SOUTH + WIDE * rows),
    }
    size = {"height": rows, "width": columns, "count": 2, "dtype": "float32"}
    with rasterio.open(plain, "w", driver="BAG", nodata=1e6, **places, **size) as out:
        out.write(np.stack((overview, overview)))
    with netCDF4.Dataset(plain) as read:
        read.set_auto_mask(False)
        words = read["BAG_root"]["metadata"][:]
    table = np.zeros(shape, _CELL)
    for at, cell in cells.items():
        table[at] = cell
    with netCDF4.Dataset(path, "w") as out:
        root = out.createGroup("BAG_root")
        root.setncattr("Bag Version", "1.6.2")
        long = {"row": rows, "column": columns, "one": 1, "node": nodes.size, "sign": words.size}
        for dimension, size in long.items():
            root.createDimension(dimension, size)
        for name in ("elevation", "uncertainty"):
            root.createVariable(name, "f4", ("row", "column"), fill_value=1e6)[:] = overview[::-1]
        root.createVariable("metadata", "S1", ("sign",))[:] = words
        kinds = [root.createCompoundType(one, f"{i}") for i, one in enumerate((_CELL, _NODE))]
        root.createVariable("varres_metadata", kinds[0], ("row", "column"))[:] = table
        root.createVariable("varres_refinements", kinds[1], ("one", "node"))[0] = nodes
        for end in ("min", "max"):
            for axis in "xy":
                root["varres_metadata"].setncattr(f"{end}_resolution_{axis}", np.float32(2.0))
            for what in ("depth", "uncrt"):
                root["varres_refinements"].setncattr(f"{end}_{what}", np.float32(1.0))
    return path


def _in_metres(read: Any) -> Any:
    turn = Transformer.from_crs("EPSG:4326", UTM, always_xy=True)
    return np.column_stack((*turn.transform(read.lon_deg, read.lat_deg), read.level_m))


def test_every_refined_node_has_its_level_its_doubt_and_its_place(tmp_path):
    nodes = _nodes(22)
    nodes[3] = (1e6, 1e6)
    nodes[4]["depth_uncrt"] = 1e6
    coarse = np.array([[-10.0, -20.0], [-30.0, 1e6]], "f4")
    read = read_depths(_write(tmp_path / "vr.bag", nodes, coarse=coarse), Told(datum="MLLW"))
    assert read.kind == "BAG grid of variable resolution"
    assert read.datum == "MLLW"
    assert dict(read.left_out) == {"coarse nodes with nothing finer under them": 1, "no data": 1}
    # By hand: the first cell begins at its own corner and 1 m east, 2 m north of it.
    by_hand = [(1.0, 2.0, -1.0), (3.5, 2.0, -2.0), (6.0, 2.0, -3.0), (3.5, 5.0, -5.0)]
    by_hand += [(6.0, 5.0, -6.0)]
    by_hand += [(9.0 + 2 * i, 9.0 + 2 * j, -7.0 - 4 * j - i) for j in range(4) for i in range(4)]
    expected = np.array(by_hand) + np.array([WEST, SOUTH, 0.0])
    # Places come back through the earth: a tenth of a millimetre.
    assert _in_metres(read) == pytest.approx(expected, abs=1e-4)
    doubts = 0.25 + 0.125 * np.delete(np.arange(22), 3)
    doubts[3] = np.nan
    assert read.deviation_m == pytest.approx(doubts, nan_ok=True)


def test_gdal_gives_the_same_nodes_cell_by_cell(tmp_path):
    path = _write(tmp_path / "vr.bag", _nodes(22))
    read = read_depths(path, Told())
    theirs = []
    with rasterio.open(path, MODE="LIST_SUPERGRIDS") as listed:
        names = listed.subdatasets
    assert len(names) == 2
    for name in names:
        with rasterio.open(name) as cell:
            row, column = np.indices(cell.shape)
            x, y = cell.transform @ (column + 0.5, row + 0.5)
            both = zip((x, y, cell.read(1), cell.read(2)), range(4), strict=True)
            theirs.append(np.column_stack([part.ravel() for part, _ in both]))
    theirs = np.concatenate(theirs)
    theirs = theirs[np.argsort(-theirs[:, 2])]
    ours = np.column_stack((_in_metres(read), read.deviation_m))
    assert ours == pytest.approx(theirs, abs=1e-4)


def test_one_doubt_told_stands_for_those_of_the_file(tmp_path):
    told = Told(deviation_m=0.3, datum_offset_m=-0.5)
    read = read_depths(_write(tmp_path / "vr.bag", _nodes(22)), told)
    assert read.deviation_m == pytest.approx([0.3] * 22)
    assert read.level_m == pytest.approx(-1.5 - np.arange(22))


def test_a_single_coarse_cell_is_enough(tmp_path):
    one = {(0, 0): CELLS[0, 0]}
    read = read_depths(_write(tmp_path / "vr.bag", _nodes(6), one, (1, 1)), Told())
    assert read.level_m == pytest.approx([-1.0, -2.0, -3.0, -4.0, -5.0, -6.0])


def test_cells_out_of_order_and_many_readings_give_the_same(tmp_path, monkeypatch):
    cells = {(0, 0): (16, *CELLS[0, 0][1:]), (1, 1): (0, *CELLS[1, 1][1:])}
    monkeypatch.setattr(bag_refined, "_AT_ONCE", 5)
    read = read_depths(_write(tmp_path / "vr.bag", _nodes(22), cells), Told())
    assert read.level_m == pytest.approx(-1.0 - np.arange(22))
    assert _in_metres(read)[[0, 16], :2] - (WEST, SOUTH) == pytest.approx(
        np.array([[9.0, 9.0], [1.0, 2.0]]), abs=1e-4
    )


def test_of_a_bay_only_the_cells_round_its_origin_are_read(tmp_path, monkeypatch):
    path = _write(tmp_path / "vr.bag", _nodes(22))
    turn = Transformer.from_crs(UTM, "EPSG:4326", always_xy=True)
    lon, lat = turn.transform(WEST, SOUTH)
    monkeypatch.setattr(bag_refined, "NEAR_M", 10.0)
    read = read_depths(path, Told(), Frame(lat, lon))
    assert read.level_m.size == 6
    assert dict(read.left_out)["nodes farther than 0 km from the bay's origin"] == 16
    # In other waters the nearest cell is kept, so that the bay can say how far off it lies.
    assert read_depths(path, Told(), Frame(lat + 1.0, lon)).level_m.size == 16


def _sentence(path: Path) -> str:
    with pytest.raises(ShorefastError) as refused:
        read_depths(path, Told())
    assert refused.type is Unreadable
    return refused.value.sentence


@pytest.mark.parametrize(
    ("cells", "sentence"),
    [
        ({}, "vr.bag: no cell of it has refined nodes, a BAG grid of depths wanted. "
         "Name another grid."),
        ({(0, 0): (0, 5, 5, 2, 2, 1, 1)},
         f"vr.bag: a cell names more nodes than the 22 there are: it is damaged, {WANTED}"),
        ({(0, 0): (20, 3, 1, 2, 2, 1, 1)},
         f"vr.bag: a cell names more nodes than the 22 there are: it is damaged, {WANTED}"),
        ({(0, 0): (0, 2**31, 2**31, 2, 2, 1, 1)},
         f"vr.bag: a cell names more nodes than the 22 there are: it is damaged, {WANTED}"),
        ({(0, 0): (0, 3, 2, 2, 2, 1, 1), (0, 1): (5, 3, 2, 2, 2, 1, 1)},
         f"vr.bag: two of its cells name the same nodes: it is damaged, {WANTED}"),
        ({(0, 0): (0, 3, 2, 0, 2, 1, 1)},
         f"vr.bag: the nodes of a cell have no place: it is damaged, {WANTED}"),
        ({(0, 0): (0, 3, 2, 2, 2, np.nan, 1)},
         f"vr.bag: the nodes of a cell have no place: it is damaged, {WANTED}"),
    ],
)  # fmt: skip
def test_cells_that_cannot_be_are_refused(tmp_path, cells, sentence):
    assert _sentence(_write(tmp_path / "vr.bag", _nodes(22), cells)) == sentence


def test_nodes_without_a_depth_are_refused(tmp_path):
    nodes = _nodes(22)
    nodes["depth"] = 1e6
    assert _sentence(_write(tmp_path / "vr.bag", nodes)) == (
        "vr.bag: none of its 22 refined nodes holds a depth. Name another grid."
    )


def test_more_nodes_than_can_be_held_are_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(bag_refined, "CELLS_MOST", 21)
    assert _sentence(_write(tmp_path / "vr.bag", _nodes(22))) == (
        "vr.bag: 22 refined nodes, at most 30 million are read. "
        "Cut the grid to the waters asked about."
    )


def test_a_refined_table_of_another_shape_is_refused(tmp_path, monkeypatch):
    path = _write(tmp_path / "vr.bag", _nodes(22))
    about = {"coarse": np.zeros((3, 2)), "crs": UTM}
    with pytest.raises(Unreadable) as refused:
        bag_refined.read_refined(path, Told(), about)
    assert refused.value.sentence == (
        f"vr.bag: its coarse and refined grids have different shapes: it is damaged, {WANTED}"
    )


def test_a_bag_without_the_refined_nodes_it_speaks_of_is_refused(tmp_path):
    path = _write(tmp_path / "vr.bag", _nodes(22)).with_name("plain.bag")
    with pytest.raises(Unreadable) as refused:
        bag_refined.read_refined(path, Told(), {"coarse": np.zeros((2, 2)), "crs": UTM})
    assert refused.value.sentence == (
        f"plain.bag: HDF5 cannot read its refined nodes: it is damaged, {WANTED}"
    )


def test_a_damaged_bag_is_not_read_by_its_overview_instead(tmp_path):
    path = _write(tmp_path / "vr.bag", _nodes(22))
    whole = path.read_bytes()
    at = whole.index(b"min_resolution_x")
    # the name's checksum no longer fits: HDF5 gives up all of the table it belongs to
    path.write_bytes(whole[:at] + b"M" + whole[at + 1 :])
    assert _sentence(path) == (
        f"vr.bag: HDF5 cannot read its refined nodes: it is damaged, {WANTED}"
    )


def test_a_bag_that_breaks_gdal_breaks_nothing_else(tmp_path, monkeypatch):
    monkeypatch.setattr(hdf5_whole, "_TRY_BAG", "import os\nos.abort()")
    assert _sentence(_write(tmp_path / "vr.bag", _nodes(22))) == (
        "vr.bag: it is damaged: the HDF5 library breaks on it, a raster of depths wanted. "
        "Fetch the file again."
    )
