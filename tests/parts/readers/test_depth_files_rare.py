"""Rarer troubles of depth and shape files, word for word."""

import json
from pathlib import Path

import numpy as np
import pytest

from shorefast.bay import Frame
from shorefast.errors import BadInput, ShorefastError, Unreadable
from shorefast.readers.depth_file import check_there, read_depths
from shorefast.readers.depths import Told
from shorefast.readers.grid_values import check_size
from shorefast.readers.shore_geojson import read_shapes
from shorefast.readers.soundings_csv import to_earth

FILES = Path(__file__).parents[2] / "files" / "bay"
SHAPES = "GeoJSON with lines or polygons wanted"


def _sentence(kind: type[ShorefastError], ask, *given) -> str:
    with pytest.raises(kind) as refused:
        ask(*given)
    return refused.value.sentence


def _grid(path: Path, names: tuple[str, str], **said) -> Path:
    import netCDF4

    with netCDF4.Dataset(path, "w") as out:
        for name in names:
            out.createDimension(name, 4)
            out.createVariable(name, "f8", (name,))[:] = 1000.0 * np.arange(4)
        depth = out.createVariable("depth", "f4", names)
        depth.setncatts({"positive": "down", **said})
        depth[:] = 5.0 + np.arange(16.0).reshape(4, 4)
    return path


def test_a_grid_too_large_or_too_small_is_refused():
    assert _sentence(Unreadable, check_size, "g.tif", 10_000, 4_000) == (
        "g.tif: 10000 x 4000 nodes, at most 30 million are read. "
        "Cut the grid to the waters asked about."
    )
    assert _sentence(Unreadable, check_size, "g.tif", 1, 40) == (
        "g.tif: 1 x 40 nodes, at least 2 x 2 wanted. Name another grid."
    )


def test_a_raster_whose_cells_have_no_size_is_refused(tmp_path):
    path = tmp_path / "g.asc"
    path.write_text("ncols 3\nnrows 3\nxllcorner 5\nyllcorner 6\ncellsize 0\n" + "1 2 3\n" * 3)
    told = Told("down", crs="EPSG:32629")
    assert _sentence(Unreadable, read_depths, path, told) == (
        "g.asc: its cells have no size, a raster of depths wanted. Export it again."
    )


def test_a_raster_that_only_points_to_another_file_is_not_followed(tmp_path):
    (tmp_path / "g.tif").write_text(
        '<VRTDataset rasterXSize="3" rasterYSize="3"><VRTRasterBand dataType="Float32" band="1">'
        "<SimpleSource><SourceFilename>other.tif</SourceFilename></SimpleSource>"
        "</VRTRasterBand></VRTDataset>"
    )
    assert _sentence(Unreadable, read_depths, tmp_path / "g.tif", Told("down")) == (
        "g.tif: GDAL cannot read it, a raster of depths wanted. Fetch or export it again."
    )


def test_places_outside_the_coordinates_told_are_refused():
    far = np.array([1e9])
    assert _sentence(BadInput, to_earth, "s.csv", far, far, "EPSG:32632") == (
        "s.csv: places like 1e+09, 1e+09, outside EPSG:32632. "
        "Say other coordinates (--crs, or crs in bay.toml)."
    )


def test_a_netcdf_in_metres_of_unknown_coordinates_is_asked_about(tmp_path):
    path = _grid(tmp_path / "g.nc", ("y", "x"))
    assert _sentence(BadInput, read_depths, path, Told()) == (
        "g.nc: no latitude and longitude in it, nor does it say in which coordinates it is. "
        'Say so (--crs, or crs = "EPSG:..." in bay.toml).'
    )


def test_a_netcdf_in_metres_is_read_with_the_coordinates_told(tmp_path):
    path = _grid(tmp_path / "g.nc", ("y", "x"))
    read = read_depths(path, Told(crs="+proj=aeqd +lat_0=60 +lon_0=5 +datum=WGS84"))
    assert (read.lat_deg[0], read.lon_deg[0]) == pytest.approx((60.0, 5.0), abs=1e-9)
    # A kilometre between nodes.
    assert read.grid.spacing_m == pytest.approx(1000.0, rel=1e-3)
    level, _ = read.grid.at(read.lat_deg, read.lon_deg)
    assert level == pytest.approx(read.level_m, abs=1e-3)


def test_a_folder_named_as_a_file_is_refused(tmp_path):
    assert _sentence(BadInput, check_there, tmp_path) == (
        f"{tmp_path}: a folder, a file of depths wanted. Name the file in it."
    )


def test_land_in_new_zealand_metres_lands_where_its_degrees_do():
    frame = Frame(-45.34, 167.01)
    areas = read_shapes(FILES / "doubtful_sound.geojson", frame).of("Polygon")
    # The piece was cut to 0.04 degrees of longitude: 3.1 km at 45.3 south.
    assert max(abs(part) for one in areas for part in one.bounds) < 3_200.0


@pytest.mark.parametrize(
    ("name", "text", "kind", "sentence"),
    [
        ("s.geojson", " ", Unreadable, f"s.geojson: it is empty, {SHAPES}. Name another file."),
        (
            "s.geojson",
            json.dumps({"type": "Point", "coordinates": [1, 2], "frame": "bay metres"}),
            BadInput,
            "s.geojson: coordinates in bay metres, without a bay nobody knows of what place. "
            "Name the bay folder instead.",
        ),
        ("s.gpkg", "no", Unreadable, f"s.gpkg: GDAL cannot read it, {SHAPES}. Export it again."),
        (
            "s.geojson",
            "[" * 100_000,
            Unreadable,
            f"s.geojson: broken JSON (nested too deep), {SHAPES}. Export it again.",
        ),
    ],
)
def test_shapes_that_cannot_be_read_are_answered(tmp_path, name, text, kind, sentence):
    (tmp_path / name).write_text(text)
    assert _sentence(kind, read_shapes, tmp_path / name) == sentence


def test_a_grid_of_another_shape_than_its_places_is_refused(tmp_path):
    """As a record of minutes with one latitude each, and a spectrum beside it."""
    import netCDF4

    path = tmp_path / "record.cdf"
    with netCDF4.Dataset(path, "w") as out:
        out.createDimension("time", 5)
        out.createDimension("band", 3)
        for name in ("lat", "lon"):
            out.createVariable(name, "f8", ("time",))[:] = 10.0
        out.createVariable("spectrum", "f4", ("time", "band"))[:] = 1.0
    with pytest.raises(Unreadable) as said:
        read_depths(path, Told(depth="down"))
    assert str(said.value) == (
        "record.cdf: 'spectrum' has another shape than its places, one depth a node wanted. "
        "Export it again."
    )


def test_a_netcdf_whose_names_are_no_text_is_refused(tmp_path):
    import netCDF4

    path = tmp_path / "words.nc"
    with netCDF4.Dataset(path, "w", format="NETCDF3_CLASSIC") as out:
        for name in ("lat", "lon"):
            out.createDimension(name, 4)
            out.createVariable(name, "f8", (name,))[:] = np.arange(4)
        out.createVariable("elevation", "f4", ("lat", "lon"))[:] = -5.0
    path.write_bytes(path.read_bytes().replace(b"elevation", b"elevati\xf6n"))
    assert _sentence(Unreadable, read_depths, path, Told(depth="up")) == (
        "words.nc: NetCDF cannot read it (damaged or cut short), a NetCDF grid of depths wanted. "
        "Fetch or export it again."
    )


def test_a_column_of_deviations_is_believed_but_for_what_is_told(tmp_path):
    path = tmp_path / "t.csv"
    path.write_text(
        "lon_deg,lat_deg,depth_m,deviation_ft\n5,60,7,2\n5,60.1,8,\n5,60.2,9,-1\n5,60.3,x,1\n"
    )
    found = read_depths(path, Told()).deviation_m
    assert found == pytest.approx([0.6096, np.nan, np.nan], nan_ok=True)
    assert read_depths(path, Told(deviation_m=0.3)).deviation_m == pytest.approx([0.3] * 3)
