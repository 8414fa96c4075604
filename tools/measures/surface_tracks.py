"""Real soundings with the track each belongs to, from a folder of open data."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import median_filter

from shorefast.bay import Frame, Soundings

Floats = NDArray[np.float64]
SHIP_GAP_M = 5000.0
LEGS = 12
FALSE_SHARE = 0.2
STRIP_SPACINGS = 4.0
LINE_EVERY = {"firth_of_lorn_200m.tif": 5, "public_release_survey_2m_utm.bag": 12}
KEPT = Path(__file__).parents[2] / "tests" / "files" / "bay" / "tracks"
LOGS = (
    "short_sail_depth_2_to_81m.txt",
    "passage_2h30_depth_wind.log",
    "moored_28min_then_out.txt",
)
FJORD = (slice(354, 590), slice(354, 590))
CELLS = ("US5HA24M", "US5BOSCD")
S57 = "RETURN_PRIMITIVES=OFF,LNAM_REFS=ON,SPLIT_MULTIPOINT=ON,ADD_SOUNDG_DEPTH=ON"


class Tracks(NamedTuple):
    """Soundings and the number of the track each is of."""

    name: str
    soundings: Soundings
    track: NDArray[np.int64]


def _in_plane(lat_deg: Floats, lon_deg: Floats, level_m: Floats) -> Soundings:
    lon = np.where(lon_deg > 180.0, lon_deg - 360.0, lon_deg)
    frame = Frame(float(np.median(lat_deg)), float(np.median(lon)))
    east, north = frame.to_plane(lat_deg, lon)
    return Soundings(east, north, level_m, np.full(level_m.size, np.nan))


def _steps_m(soundings: Soundings) -> Floats:
    east, north = soundings.east_m, soundings.north_m
    return np.hypot(np.diff(east, prepend=east[0]), np.diff(north, prepend=north[0]))


def ship_tracks(path: Path) -> Tracks:
    """Ship soundings in the order taken; a step over 5 km begins a new track."""
    rows = np.genfromtxt(path, delimiter=",", names=True)
    soundings = _in_plane(rows["latitude"], rows["longitude"], rows["bathymetry_m"])
    return Tracks("ship-tracks", soundings, np.cumsum(_steps_m(soundings) > SHIP_GAP_M))


def _degrees(value: str, side: str) -> float:
    whole = float(value) // 100.0
    return (whole + (float(value) - 100.0 * whole) / 60.0) * (-1.0 if side in "SW" else 1.0)


def _fixes(path: Path) -> Iterator[tuple[float, float, float]]:
    """Latitude, longitude, level under the transducer of every depth sentence."""
    here: tuple[float, float] | None = None
    for raw in path.read_bytes().splitlines():
        parts = raw.decode("latin-1").split("*")[0].split(",")
        kind = parts[0][-3:]
        try:
            if kind in ("RMC", "GLL"):
                a, b, c, d = parts[3:7] if kind == "RMC" else parts[1:5]
                here = (_degrees(a, b), _degrees(c, d))
            elif kind in ("DPT", "DBT") and here is not None:
                yield (*here, -float(parts[1] if kind == "DPT" else parts[3]))
        except (ValueError, IndexError):
            continue


def log_legs(path: Path) -> Tracks:
    """A log, one depth (the median) a fix, cut into twelve legs of equal length.

    A depth more than a fifth off the running median of nine is a lost bottom or a
    false echo and is left out, as a reader of logs would.
    """
    rows = np.array(list(_fixes(path)))
    fix = np.cumsum(np.any(np.diff(rows[:, :2], axis=0, prepend=np.nan) != 0.0, axis=1)) - 1
    first = np.flatnonzero(np.diff(fix, prepend=-1))
    level = np.array([np.median(part) for part in np.split(rows[:, 2], first[1:])])
    usual = median_filter(level, 9)
    first = first[np.abs(level - usual) < FALSE_SHARE * np.abs(usual)]
    level = level[np.abs(level - usual) < FALSE_SHARE * np.abs(usual)]
    soundings = _in_plane(rows[first, 0], rows[first, 1], level)
    way = np.cumsum(_steps_m(soundings))
    legs = np.minimum((way / way[-1] * LEGS).astype(np.int64), LEGS - 1)
    return Tracks(path.stem.split("_")[0], soundings, legs)


def chart_strips(path: Path) -> Tracks:
    """Soundings of a chart cell; strips four spacings wide stand for tracks."""
    import pyogrio
    import shapely

    os.environ["OGR_S57_OPTIONS"] = S57
    names, _, shapes, fields = pyogrio.raw.read(path, layer="SOUNDG")
    places = shapely.get_coordinates(shapely.from_wkb(shapes))
    depth = np.asarray(fields[list(names["fields"]).index("DEPTH")], np.float64)
    soundings = _in_plane(places[:, 1], places[:, 0], -depth)
    area_m2 = np.ptp(soundings.east_m) * np.ptp(soundings.north_m)
    strip_m = STRIP_SPACINGS * np.sqrt(area_m2 / depth.size)
    return Tracks(path.stem, soundings, np.floor(soundings.north_m / strip_m).astype(np.int64))


def grid_lines(path: Path, every: int) -> Tracks:
    """Every so many rows of a surveyed grid, each row a track; a corner of a large one."""
    import rasterio

    with rasterio.open(path) as grid:
        level, to_plane = grid.read(1).astype(float)[:1200, :700], grid.transform
    told = (level < 1e5) & (level > 0.5 if path.suffix == ".tif" else level > -1e5)
    row, column = np.nonzero(told & (np.arange(level.shape[0]) % every == 0)[:, None])
    east, north = to_plane.a * column, to_plane.e * row
    deep = level[row, column] * (-1.0 if path.suffix == ".tif" else 1.0)
    return Tracks(path.stem, Soundings(east, north, deep, np.full(deep.size, np.nan)), row)


def tracks_in(folder: Path) -> Iterator[Tracks]:
    """Every data set of the folder that is there."""
    for name in LOGS:
        if (folder / "nmea0183" / name).exists():
            yield log_legs(folder / "nmea0183" / name)
    for cell in CELLS:
        for path in sorted((folder / "s57").rglob(f"{cell}.000")):
            yield chart_strips(path)
    for name, every in LINE_EVERY.items():
        if (folder / "bathymetry" / name).exists():
            yield grid_lines(folder / "bathymetry" / name, every)
    ships = folder / "bathymetry" / "baja_ship_soundings.csv.xz"
    if ships.exists():
        yield ship_tracks(ships)
    howe = folder / "bathymetry" / "howe_sound_fraser_150m_curvilinear.nc"
    if howe.exists():
        yield curved_lines(howe)


def curved_lines(path: Path) -> Tracks:
    """Every fifth row of a grid that follows the shore: a fjord, its land left out."""
    import netCDF4

    with netCDF4.Dataset(path) as grid:
        names = ("nav_lat", "nav_lon", "Bathymetry")
        lat, lon, depth = (np.ma.filled(grid[name][:], 0.0)[FJORD].astype(float) for name in names)
    row = np.arange(depth.shape[0])[:, None] + np.zeros(depth.shape, np.int64)
    told = (depth > 0.0) & (row % 5 == 0)
    return Tracks("howe_sound", _in_plane(lat[told], lon[told], -depth[told]), row[told])


def kept_tracks() -> Iterator[Tracks]:
    """The data sets kept with the tests, cut from free ones."""
    for path in sorted(KEPT.glob("*.csv.xz")):
        rows = np.genfromtxt(path, delimiter=",", names=True)
        unknown = np.full(rows.size, np.nan)
        soundings = Soundings(rows["east_m"], rows["north_m"], rows["level_m"], unknown)
        yield Tracks(path.name.split(".")[0], soundings, rows["track"].astype(np.int64))
