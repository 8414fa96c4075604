"""The ground round a bay from grids of elevation, and what is wrong with some."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.high_ground import read_high_ground
from shorefast.readers.toml_file import parse_toml
from shorefast.weather import skyline

BAY_FILES = Path(__file__).parents[2] / "files" / "bay"
FRAME = Frame(-47.5, 120.0)
# half a degree of nodes every 0.002 degrees (220 m north, 150 m east) round the bay
LON, LAT = 119.8 + 0.002 * np.arange(201), -47.3 - 0.002 * np.arange(201)
ACROSS, UP = np.meshgrid(LON, LAT)


def ridge_m(scale=1.0):
    """A ridge of 600 m to the west of 119.96 east, sea elsewhere."""
    return np.where(ACROSS < 119.96, 600.0 * scale, 0.0)


def ascii_grid(path, numbers, mark=None):
    rows = [
        f"ncols {numbers.shape[1]}", f"nrows {numbers.shape[0]}",
        f"xllcenter {LON[0]:.6f}", f"yllcenter {LAT[-1]:.6f}", "cellsize 0.002",
    ]  # fmt: skip
    rows += [] if mark is None else [f"NODATA_value {mark:g}"]
    filled = np.where(np.isnan(numbers), -1.0 if mark is None else mark, numbers)
    rows += [" ".join(f"{one:g}" for one in row) for row in filled]
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return path


def read(folder, more="", file="hills.asc", crs='crs = "EPSG:4326"\n'):
    text = f'[elevation]\nfile = "{file}"\n{crs}{more}'
    table = parse_toml(text, "bay.toml")
    found = read_high_ground(table, folder, FRAME)
    table.refuse_unknown()
    return found


def west(found):
    sky = skyline(found.ground, 0.0, 0.0)
    return math.degrees(sky.angle_rad[54]), sky.distance_m[54], sky.height_m[54]


def test_a_bay_without_elevations_has_none():
    assert read_high_ground(parse_toml("a = 1", "bay.toml"), None, FRAME).ground is None


def test_a_ridge_in_the_grid_stands_where_it_does(tmp_path):
    ascii_grid(tmp_path / "hills.asc", ridge_m())
    found = read(tmp_path, 'datum = "mean sea level"\n')
    angle_deg, off_m, height_m = west(found)
    # 0.041 degrees of longitude at 47.5 south: 3.09 km; the slope is one node wide
    assert off_m == pytest.approx(3090.0, abs=220.0)
    assert height_m == pytest.approx(600.0, abs=20.0)
    assert angle_deg == pytest.approx(math.degrees(math.atan(600.0 / 3150.0)), abs=0.5)
    assert [(one.name, one.value, one.said_by) for one in found.basis.inputs] == [
        ("elevation", "a height every 187 m, in metres, up to 600 m", "hills.asc")
    ]
    assert found.basis.findings == ()


def test_without_a_datum_its_heights_are_taken_from_chart_datum_and_that_is_said(tmp_path):
    ascii_grid(tmp_path / "hills.asc", ridge_m())
    assert [one.said for one in read(tmp_path).basis.findings] == [
        "nobody says what its heights count from: taken as chart datum"
    ]
    lifted = read(tmp_path, 'datum = "geoid"\ndatum_offset_m = 2.5\n')
    assert np.nanmax(lifted.ground.height_m) == pytest.approx(602.5)


def test_heights_in_feet_are_told_or_said_by_the_file(tmp_path):
    ascii_grid(tmp_path / "hills.asc", ridge_m(1.0 / 0.3048))
    # 600 m is 1968.5 ft; the file has six digits
    found = read(tmp_path, 'unit = "ft"\n')
    assert np.nanmax(found.ground.height_m) == pytest.approx(600.0, abs=0.01)
    assert found.basis.inputs[0].value == "a height every 187 m, in feet, up to 600 m"
    raster(tmp_path / "hills.tif", ridge_m(1.0 / 0.3048), unit="ft")
    said = read(tmp_path, file="hills.tif", crs="")
    assert np.nanmax(said.ground.height_m) == pytest.approx(600.0, abs=0.01)


def raster(path, numbers, unit=None, band=None, crs="EPSG:4326"):
    import rasterio
    from rasterio.transform import Affine

    at = Affine(0.002, 0.0, LON[0] - 0.001, 0.0, -0.002, LAT[0] + 0.001)
    more = {"dtype": "float32", "count": 1, "nodata": -32768.0, "transform": at, "crs": crs}
    rows, columns = numbers.shape
    with rasterio.open(path, "w", driver="GTiff", height=rows, width=columns, **more) as opened:
        opened.write(np.where(np.isnan(numbers), -32768.0, numbers).astype("float32"), 1)
        if unit:
            opened.units = (unit,)
        if band:
            opened.set_band_description(1, band)


def netcdf(path, numbers, name="elevation", others=(), **said):
    """A grid of heights; others beside it hold a number no ground has, and count down."""
    import netCDF4

    with netCDF4.Dataset(path, "w") as opened:
        for side, axis, unit in (("lat", LAT, "degrees_north"), ("lon", LON, "degrees_east")):
            opened.createDimension(side, axis.size)
            one = opened.createVariable(side, "f8", (side,))
            one.units, one[:] = unit, axis
        for other in others:
            opened.createVariable(other, "f4", ("lat", "lon"))[:] = 99_999.0
            opened[other].setncatts({"positive": "down"} if other == "depth" else {})
        height = opened.createVariable(name, "f4", ("lat", "lon"), fill_value=-32768.0)
        height[:] = np.ma.masked_invalid(numbers)
        height.setncatts(said)


def shifted(path):
    import netCDF4

    with netCDF4.Dataset(path, "w") as opened:
        opened.createDimension("time", 5)
        opened.createDimension("band", 3)
        for name in ("lat", "lon"):
            opened.createVariable(name, "f8", ("time",))[:] = 10.0
        opened.createVariable("elevation", "f4", ("time", "band"))[:] = 1.0


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("elevation", {}),
        ("z", {}),
        ("anything", {"standard_name": "surface_altitude"}),
        ("ground", {"positive": "up"}),
    ],
)
def test_of_depths_and_heights_in_one_netcdf_the_heights_are_taken(tmp_path, name, said):
    netcdf(tmp_path / "hills.nc", ridge_m(), name, ("depth",), **said)
    found = read(tmp_path, file="hills.nc", crs="")
    assert np.nanmax(found.ground.height_m) == pytest.approx(600.0)


def test_a_netcdf_of_depths_alone_is_no_ground(tmp_path):
    netcdf(tmp_path / "deep.nc", ridge_m(), "depth")
    with pytest.raises(BadInput) as caught:
        read(tmp_path, file="deep.nc", crs="")
    assert str(caught.value) == (
        "deep.nc: its numbers count down, heights count up. Name a grid of heights."
    )


# The real grid of a fjord, depths counting down, none of which it says.
def test_a_netcdf_of_the_bed_is_not_taken_for_hills():
    with pytest.raises(Unreadable) as caught:
        read(BAY_FILES, file="howe_sound_curved.nc", crs="")
    assert str(caught.value) == (
        "howe_sound_curved.nc: it holds Bathymetry, nav_lat, nav_lon, a grid of heights wanted."
        " Name the file that holds one (variable elevation, height or altitude)."
    )


def test_all_three_kinds_of_grid_say_the_same(tmp_path):
    ascii_grid(tmp_path / "hills.asc", ridge_m())
    raster(tmp_path / "hills.tif", ridge_m())
    netcdf(tmp_path / "hills.nc", ridge_m(), units="m")
    one = read(tmp_path).ground.height_m
    for file in ("hills.tif", "hills.nc"):
        other = read(tmp_path, file=file, crs="").ground.height_m
        np.testing.assert_allclose(other, one, atol=0.5)


@pytest.mark.parametrize("mark", ["declared", "told"])
def test_no_data_is_unknown_and_counted(tmp_path, mark):
    numbers = ridge_m()
    numbers[ACROSS > 120.0] = np.nan
    if mark == "declared":
        ascii_grid(tmp_path / "hills.asc", numbers, -9999.0)
        found = read(tmp_path, 'datum = "MSL"\n')
    else:
        ascii_grid(tmp_path / "hills.asc", numbers)
        found = read(tmp_path, 'datum = "MSL"\nno_data = -1\n')
    sky = skyline(found.ground, 0.0, 0.0)
    assert np.isnan(sky.angle_rad[18]) and np.isfinite(sky.angle_rad[54])
    assert [one.said for one in found.basis.findings] == [
        "50% of the ground within 10 km, sea without heights included, is not in it: unknown"
    ]


REFUSED = [
    ('file = "none.asc"', "{folder}/none.asc: no such file, the heights of bay.toml, line 2,"
     " [elevation] file wanted. Correct the path."),
    ('file = "hills.asc"\nunit = "fathoms"', "bay.toml, line 3, [elevation] unit: 'fathoms', one of"
     " m, ft wanted. Correct it."),
    ('file = "hills.asc"', "hills.asc: its places run 119.799 to 120.201 and -47.701 to -47.299, it"
     ' does not say in which coordinates. Say so (--crs, or crs = "EPSG:..." in bay.toml). These'
     " look like degrees: EPSG:4326."),
    ('file = "hills.csv"', "hills.csv: no grid by its name, .tif, .tiff, .asc, .bag, .grd, .img,"
     " .nc, .nc4, .cdf wanted. Name a grid of heights."),
    ('file = "marked.asc"\ncrs = "EPSG:4326"', "marked.asc: 40401 nodes carry -9999, no ground lies"
     " so, and the file names no number for no data. Say no_data = -9999 in [elevation]."),
    ('file = "feet.asc"\ncrs = "EPSG:4326"', "feet.asc: a height of 12000 m, no ground is so high."
     ' Say unit = "ft" in [elevation] if they are feet, or which number is no_data.'),
    ('file = "depth.tif"', "depth.tif: its numbers count down, heights count up. Name a grid of"
     " heights."),
    ('file = "away.tif"', "away.tif: no height of it lies round the bay, ground within 10 km of the"
     " bay's origin wanted. Correct lat_deg and lon_deg, or name the grid of these hills."),
    ('file = "hills.asc"\nheight = 3', "bay.toml, line 3, [elevation] height: height is not known"
     " here. Take it out."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sentence"), REFUSED)
def test_what_is_wrong_with_elevations_is_answered(tmp_path, text, sentence):
    ascii_grid(tmp_path / "hills.asc", ridge_m())
    (tmp_path / "hills.csv").write_text("1,2,3\n", encoding="utf-8")
    ascii_grid(tmp_path / "marked.asc", np.full(ACROSS.shape, -9999.0))
    ascii_grid(tmp_path / "feet.asc", ridge_m(20.0))
    raster(tmp_path / "depth.tif", ridge_m(), band="depth")
    raster(tmp_path / "away.tif", ridge_m(), crs="EPSG:32633")
    crs = 'crs = "EPSG:4326"\n' if "height = 3" in text else ""
    table = parse_toml(f"[elevation]\n{text}\n{crs}", "bay.toml")
    with pytest.raises(BadInput) as caught:
        read_high_ground(table, tmp_path, FRAME)
        table.refuse_unknown()
    assert str(caught.value) == sentence.format(folder=tmp_path)


def test_a_grid_of_no_data_alone_and_broken_grids_are_unreadable(tmp_path):
    raster(tmp_path / "void.tif", np.full(ACROSS.shape, np.nan))
    (tmp_path / "cut.tif").write_bytes((tmp_path / "void.tif").read_bytes()[:200])
    (tmp_path / "not.nc").write_bytes(b"CDF\x01 and no more")
    (tmp_path / "words.nc").write_text("no grid")
    netcdf(tmp_path / "two.nc", ridge_m(), others=("rain", "snow"), name="wind")
    shifted(tmp_path / "odd.nc")
    for file, sentence in (
        ("void.tif", "void.tif: none of its 40401 nodes holds a height. Name another grid."),
        (
            "cut.tif",
            "cut.tif: GDAL cannot read it, a raster of heights wanted. Fetch or export it again.",
        ),
        (
            "not.nc",
            "not.nc: it is cut short, a NetCDF grid of heights wanted. Fetch the file again.",
        ),
        (
            "words.nc",
            "words.nc: NetCDF cannot read it (damaged or cut short), a NetCDF grid of heights"
            " wanted. Fetch or export it again.",
        ),
        (
            "two.nc",
            "two.nc: it holds lat, lon, rain, snow, wind, a grid of heights wanted. Name the file"
            " that holds one (variable elevation, height or altitude).",
        ),
        (
            "odd.nc",
            "odd.nc: 'elevation' has another shape than its places, one height a node wanted."
            " Export it again.",
        ),
    ):
        with pytest.raises(Unreadable) as caught:
            read(tmp_path, file=file, crs="")
        assert str(caught.value) == sentence


def test_a_fine_grid_is_turned_as_truly_as_node_by_node(tmp_path):
    import rasterio
    from pyproj import Transformer
    from rasterio.transform import Affine

    # a plane slope in metres of a zone, whose height anywhere is known
    turn = Transformer.from_crs("EPSG:4326", "EPSG:32750", always_xy=True)
    x0, y0 = turn.transform(FRAME.lon_deg, FRAME.lat_deg)
    column, row = np.meshgrid(np.arange(900), np.arange(900))
    at = Affine(25.0, 0.0, x0 - 11_250.0, 0.0, -25.0, y0 + 11_250.0)
    x, y = at.c + 25.0 * (column + 0.5), at.f - 25.0 * (row + 0.5)
    height_m = 500.0 + 0.03 * (x - x0) + 0.02 * (y - y0)
    more = {"dtype": "float64", "count": 1, "crs": "EPSG:32750", "transform": at}
    path = tmp_path / "slope.tif"
    with rasterio.open(path, "w", driver="GTiff", height=900, width=900, **more) as opened:
        opened.write(height_m, 1)
    ground = read(tmp_path, file="slope.tif", crs="").ground
    along_m = ground.west_m + ground.step_m * np.arange(ground.height_m.shape[0])
    east, north = np.meshgrid(along_m, along_m)
    lat, lon = FRAME.to_earth(east.ravel(), north.ravel())
    px, py = turn.transform(lon, lat)
    expected_m = (500.0 + 0.03 * (px - x0) + 0.02 * (py - y0)).reshape(east.shape)
    np.testing.assert_allclose(ground.height_m, expected_m, atol=0.001)


@pytest.mark.parametrize("seed", range(30))
@pytest.mark.parametrize("file", ["hills.asc", "hills.tif", "hills.nc"])
def test_a_damaged_grid_is_read_or_refused_with_a_reason(tmp_path, file, seed):
    rng = np.random.default_rng(seed)
    if file.endswith("asc"):
        ascii_grid(tmp_path / file, ridge_m(), -9999.0)
    elif file.endswith("tif"):
        raster(tmp_path / file, ridge_m())
    else:
        netcdf(tmp_path / file, ridge_m())
    raw = bytearray((tmp_path / file).read_bytes())
    most = 400 if seed % 2 else len(raw)
    for at in rng.integers(0, most, rng.integers(1, 6)):
        raw[at] = rng.integers(0, 256)
    cut = rng.integers(100, len(raw)) if seed % 3 == 0 else len(raw)
    (tmp_path / file).write_bytes(bytes(raw[:cut]))
    try:
        found = read(tmp_path, file=file)
    except (BadInput, Unreadable) as refused_so:
        assert str(refused_so).startswith(file)
    else:
        assert np.isfinite(found.ground.height_m).any()
