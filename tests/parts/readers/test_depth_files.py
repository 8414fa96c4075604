"""Files of depths, told apart, and which way each of them counts."""

import lzma
import warnings
from pathlib import Path

import numpy as np
import pytest

from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depth_file import read_depths
from shorefast.readers.depths import Told

FILES = Path(__file__).parents[2] / "files" / "bay"
WHICH_WAY = (
    "do not say whether depths count down or up. Say depth down if 5 means five metres of water, "
    'or up if -5 does (--depth down, or depth = "down" in bay.toml).'
)


def _written(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def _raster(path: Path, levels: np.ndarray, crs: str | None = "EPSG:32629", **more) -> Path:
    import rasterio
    from rasterio.transform import from_origin

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with rasterio.open(
            path, "w", driver="GTiff", width=levels.shape[1], height=levels.shape[0], count=1,
            dtype="float32", crs=crs, transform=from_origin(696000.0, 6278000.0, 5.0, 5.0), **more,
        ) as out:  # fmt: skip
            out.write(levels.astype("float32"), 1)
    return path


def _netcdf(path: Path, depth, lat, lon, **said) -> Path:
    import netCDF4

    with netCDF4.Dataset(path, "w") as out:
        for name, values in (("lat", lat), ("lon", lon)):
            out.createDimension(name, len(values))
            axis = out.createVariable(name, "f8", (name,))
            axis.units = "degrees_north" if name == "lat" else "degrees_east"
            axis[:] = values
        grid = out.createVariable("depth", "f4", ("lat", "lon"), fill_value=-999.0)
        grid.setncatts(said)
        grid[:] = depth
    return path


@pytest.mark.parametrize(
    "text",
    [
        "lon_deg,lat_deg,depth_m\n5.0,60.0,4.5\n5.1,60.1,-0.5\n",
        "depth_m;lat_deg;lon_deg\n4,5;60,0;5,0\n-0,5;60,1;5,1\n",
        "# from the tender\nlon_deg\tlat_deg\tdepth_m\n\n5.0\t60.0\t4.5\n5.1\t60.1\t-0.5\n",
        "longitude,latitude,depth_ft\n365.0,60.0,14.763779528\n365.1,60.1,-1.640419948\n",
        "lon,lat,elevation_m\n5.0,60.0,-4.5\n5.1,60.1,0.5\n",
    ],
)
def test_rows_of_many_forms_say_the_same(tmp_path, text):
    read = read_depths(_written(tmp_path, "s.csv", text), Told())
    assert read.level_m == pytest.approx([-4.5, 0.5])
    assert read.lat_deg == pytest.approx([60.0, 60.1])
    assert read.lon_deg == pytest.approx([5.0, 5.1])


def test_a_slip_of_the_pen_in_one_row_is_left_out(tmp_path):
    rows = "\n".join(f"5.{k},60.{k},{k}" for k in range(1, 9))
    path = _written(tmp_path, "s.csv", f"lon_deg,lat_deg,depth_m\n{rows}\n5.0,600.1,4\n")
    read = read_depths(path, Told())
    assert read.left_out == (("no place on earth", 1),)
    assert read.level_m.size == 8


def test_bare_rows_are_longitude_latitude_depth(tmp_path):
    path = _written(tmp_path, "s.xyz", "5.0 60.0 4.5\n5.1  60.1\t-0.5\n")
    assert read_depths(path, Told("down")).level_m == pytest.approx([-4.5, 0.5])


def test_ship_tracks_counted_round_the_earth_are_read():
    read = read_depths(FILES / "ship_tracks_baja.csv.xz", Told("up"))
    # First row of the file: 245.00891, 27.49555, -636.0.
    assert read.level_m.size == 400
    assert (read.lon_deg[0], read.lat_deg[0], read.level_m[0]) == pytest.approx(
        (245.00891 - 360.0, 27.49555, -636.0)
    )


def test_places_in_other_metres_are_turned_with_the_coordinates_told(tmp_path):
    path = _written(tmp_path, "s.csv", "easting,northing,depth_m\n500000,6651411.19,3\n" * 1)
    read = read_depths(path, Told(crs="EPSG:32632"))
    # The middle meridian of zone 32 is 9 east.
    assert read.lon_deg[0] == pytest.approx(9.0, abs=1e-9)
    assert read.lat_deg[0] == pytest.approx(60.0, abs=1e-4)


def test_land_without_a_mark_is_left_out_of_a_raster(tmp_path):
    depth = np.add.outer(np.arange(20.0), np.arange(20.0)) + 1.0
    depth[:, :6] = -1.0
    read = read_depths(_raster(tmp_path / "g.tif", depth), Told("down"))
    assert read.left_out == (("land (all exactly -1)", 120),)
    assert read.notes == ("30 % of its nodes carry exactly -1: taken as land, no depth there",)
    assert read.level_m.max() == -7.0


def test_a_raster_says_its_own_depths_at_its_own_nodes(tmp_path):
    depth = np.add.outer(np.arange(20.0), 2.0 * np.arange(20.0)) + 1.0
    read = read_depths(_raster(tmp_path / "g.tif", depth), Told("down"))
    level, _ = read.grid.at(read.lat_deg, read.lon_deg)
    assert level == pytest.approx(read.level_m, abs=1e-6)
    assert read.grid.spacing_m == pytest.approx(5.0, rel=0.002)


def test_a_number_told_to_be_no_data_is_left_out(tmp_path):
    depth = np.full((12, 12), 6.0)
    depth[3, 4] = 77.0
    read = read_depths(_raster(tmp_path / "g.tif", depth), Told("down", no_data=77.0))
    assert read.left_out == (("no data, as told", 1),)


def test_a_netcdf_that_says_positive_down_needs_no_telling(tmp_path):
    lat, lon = 60.0 + np.arange(8) * 1e-3, 365.0 + np.arange(9) * 1e-3
    depth = 5.0 + np.add.outer(np.arange(8.0), np.arange(9.0))
    read = read_depths(_netcdf(tmp_path / "g.nc", depth, lat, lon, positive="down"), Told())
    assert read.level_m.min() == -20.0
    level, deviation = read.grid.at(np.array([60.0035]), np.array([5.0025]))
    assert level[0] == pytest.approx(-(5.0 + 3.5 + 2.5), abs=1e-4)
    assert deviation[0] > 0.0


def test_a_netcdf_of_altitudes_counts_up(tmp_path):
    lat, lon = 60.0 - np.arange(8) * 1e-3, 5.0 + np.arange(9) * 1e-3
    up = -5.0 - np.add.outer(np.arange(8.0), np.arange(9.0))
    path = _netcdf(tmp_path / "g.nc", up, lat, lon, standard_name="altitude")
    level, _ = read_depths(path, Told()).grid.at(np.array([59.999]), np.array([5.002]))
    assert level[0] == pytest.approx(-8.0, abs=1e-4)


def test_a_curved_grid_of_a_fjord_is_asked_by_its_own_nodes():
    read = read_depths(FILES / "howe_sound_curved.nc", Told("down"))
    assert read.kind == "NetCDF grid, curved"
    assert read.left_out[0][0] == "land (all exactly 0)"
    level, _ = read.grid.at(read.lat_deg, read.lon_deg)
    # Places are kept in single precision, some 0.5 m, on slopes up to 45 degrees.
    assert level == pytest.approx(read.level_m, abs=0.6)


def test_between_four_nodes_of_a_curved_grid_lies_their_mean():
    import netCDF4

    with netCDF4.Dataset(FILES / "howe_sound_curved.nc") as opened:
        lat, lon, depth = (
            np.asarray(opened[name][10:12, 20:22], float)
            for name in ("nav_lat", "nav_lon", "Bathymetry")
        )
    assert depth.min() > 0.0
    read = read_depths(FILES / "howe_sound_curved.nc", Told("down"))
    level, _ = read.grid.at(np.array([lat.mean()]), np.array([lon.mean()]))
    assert level[0] == pytest.approx(-depth.mean(), abs=0.6)


def test_outside_a_curved_grid_nothing_is_known():
    read = read_depths(FILES / "howe_sound_curved.nc", Told("down"))
    assert np.isnan(read.grid.at(np.array([48.0]), np.array([-123.2]))[0]).all()


def test_a_coarse_grid_of_land_and_sea_keeps_heights_as_heights():
    read = read_depths(FILES / "samos_strait_15s.asc", Told("up", crs="EPSG:4326"))
    assert read.level_m.size == 225
    assert read.level_m.min() < 0.0 < read.level_m.max()
    # 15 arc-seconds: 463 m of latitude, 366 m of longitude at 37.7 north.
    assert read.grid.spacing_m == pytest.approx((463 + 366) / 2, rel=0.01)


def test_a_bag_with_its_coordinates_told_is_read():
    read = read_depths(FILES / "no_usable_crs.bag", Told("down", crs="EPSG:32610"))
    assert read.kind == "BAG grid"
    assert read.level_m.size == 100


SAMOS, BAG, HOWE = "samos_strait_15s.asc", "no_usable_crs.bag", "howe_sound_curved.nc"
UNUSABLE = {
    "nobody says which way a grid counts": (
        HOWE, Told(), BadInput, f"{HOWE}: its numbers {WHICH_WAY}",
    ),
    "nobody says which way rows count": (
        "ship_tracks_baja.csv.xz", Told(), BadInput,
        f"ship_tracks_baja.csv.xz: 'bathymetry_m' rows {WHICH_WAY}",
    ),
    "told the wrong way": (
        HOWE, Told("up"), BadInput,
        f"{HOWE}: all 1053 depths stand above chart datum when counted up, so there would be no "
        "water at all. Say depth down, if that is how the file counts.",
    ),
    "raster in degrees without coordinates": (
        SAMOS, Told("up"), BadInput,
        f"{SAMOS}: its places run 26.9875 to 27.05 and 37.6583 to 37.7208, it does not say in "
        'which coordinates. Say so (--crs, or crs = "EPSG:..." in bay.toml). '
        "These look like degrees: EPSG:4326.",
    ),
    "raster in metres without coordinates": (
        BAG, Told(), BadInput,
        f"{BAG}: its places run 12344.1 to 12364.1 and 22122.1 to 22142.1, it does not say in "
        'which coordinates. Say so (--crs, or crs = "EPSG:..." in bay.toml).',
    ),
    "coordinates nobody knows": (
        SAMOS, Told("up", crs="EPSG:999999"), BadInput,
        f"{SAMOS}: coordinates 'EPSG:999999', not known. Give a name like EPSG:32629.",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("file", "told", "kind", "sentence"), UNUSABLE.values(), ids=UNUSABLE)
def test_a_real_file_that_does_not_say_enough_is_asked_about(file, told, kind, sentence):
    with pytest.raises(kind) as refused:
        read_depths(FILES / file, told)
    assert refused.value.sentence == sentence


WRITTEN = {
    "empty": ("s.csv", b"", Unreadable,
              "s.csv: it is empty, a file of depths wanted. Name another file."),
    "a track": ("t.gpx", b"<gpx/>", Unreadable, "t.gpx: no track point in it "
                "(points: 0 of a route, 0 single ones), a GPX track with depths wanted. "
                "Export it again as GPX with depths, or "
                "give CSV with time_utc,lat_deg,lon_deg,depth_m."),
    "a log": ("l.txt", b"$SDDBT,7.8,f,2.4,M,1.3,F*0D\n", Unreadable,
              "l.txt: no position in 1 sentences, positions (RMC, GGA or GLL) and depths "
              "(DPT, DBT or DBS) wanted. Record both in one log."),
    "no text": ("s.csv", b"lon\0lat\0", Unreadable,
                "s.csv: it is not text, rows of soundings wanted. Name the columns in the first "
                "row, or give bare rows of longitude latitude depth."),
    "two numbers a row": ("s.xyz", b"5 60\n", Unreadable,
                          "s.xyz, line 1: '5 60', columns lon_deg,lat_deg,depth_m or "
                          "east_m,north_m,depth_m wanted. Name the columns in the first row, or "
                          "give bare rows of longitude latitude depth."),
    "damaged packing": ("s.csv.xz", lzma.compress(b"5 60 3\n" * 99)[:60], Unreadable,
                        "s.csv.xz: the packed file is damaged. Fetch or pack it again."),
    "metres of no known bay": ("s.csv", b"east_m,north_m,depth_m\n1,2,3\n", BadInput,
                               "s.csv: columns in metres east and north, without a bay nobody "
                               "knows of what place. Name the bay folder instead, or say which "
                               "coordinates these are (--crs)."),
    "no raster": ("g.tif", b"II*\0rubbish", Unreadable,
                  "g.tif: GDAL cannot read it, a raster of depths wanted. "
                  "Fetch or export it again."),
    "no NetCDF": ("g.nc", b"\x89HDF\r\n\x1a\nrubbish", Unreadable,
                  "g.nc: NetCDF cannot read it (damaged or cut short), a NetCDF grid of depths "
                  "wanted. Fetch or export it again."),
}  # fmt: skip


@pytest.mark.parametrize(("name", "raw", "kind", "sentence"), WRITTEN.values(), ids=WRITTEN)
def test_a_file_that_is_no_depths_is_answered_with_a_way_out(tmp_path, name, raw, kind, sentence):
    (tmp_path / name).write_bytes(raw)
    with pytest.raises(kind) as refused:
        read_depths(tmp_path / name, Told("down"))
    assert refused.value.sentence == sentence


def test_a_raster_cut_short_is_unreadable(tmp_path):
    path = _raster(tmp_path / "g.tif", np.random.default_rng(1).uniform(1, 9, (200, 200)))
    path.write_bytes(path.read_bytes()[:40_000])
    with pytest.raises(Unreadable) as refused:
        read_depths(path, Told("down"))
    assert refused.value.sentence == (
        "g.tif: GDAL cannot read it to the end (is it cut short?), a raster of depths wanted. "
        "Fetch or export it again."
    )


def test_a_netcdf_without_a_grid_is_unreadable(tmp_path):
    import netCDF4

    with netCDF4.Dataset(tmp_path / "g.nc", "w") as out:
        out.createDimension("time", 3)
        out.createVariable("wind", "f4", ("time",))
    with pytest.raises(Unreadable) as refused:
        read_depths(tmp_path / "g.nc", Told("down"))
    assert refused.value.sentence == (
        "g.nc: it holds wind, a grid of depths wanted. "
        "Name the file that holds one (variable depth, bathymetry or elevation)."
    )


def test_a_grid_of_no_data_alone_is_unreadable(tmp_path):
    path = _raster(tmp_path / "g.tif", np.full((5, 5), 7.0), nodata=7.0)
    with pytest.raises(Unreadable) as refused:
        read_depths(path, Told("down"))
    assert refused.value.sentence == (
        "g.tif: none of its 25 nodes holds a depth. Name another grid."
    )


def test_a_way_that_is_neither_down_nor_up_is_refused():
    with pytest.raises(BadInput) as refused:
        Told("sideways")
    assert refused.value.sentence == (
        "Depth: 'sideways', down or up wanted. Say which way depths count."
    )


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(BadInput) as refused:
        read_depths(tmp_path / "none.csv", Told())
    assert refused.value.sentence == (
        f"{tmp_path / 'none.csv'}: no such file, a file of depths wanted. Correct the path."
    )
