"""A good file of every kind a skipper may hand in, and what reads it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any, Literal, NamedTuple

import numpy as np
from measures.commands import NOTCH

from shorefast.bay import Bounds, Frame
from shorefast.readers import (
    TideAsked,
    Told,
    parse_toml,
    read_boat,
    read_chart,
    read_depths,
    read_forecast,
    read_points_file,
    read_shapes,
    read_text,
    read_tide,
    read_tide_json,
)
from shorefast.readers.chart_in_bay import Charts
from shorefast.readers.depth_file import read_under_way
from shorefast.readers.neighbours_file import read_neighbour_file
from shorefast.readers.track_told import Sailed

FILES = Path(__file__).parents[2] / "tests" / "files"
COVE = NOTCH.parent / "stone_spur"
_LONGEST_TEXT = 20_000
_TEXTS = {".toml", ".csv", ".geojson", ".json", ".asc", ".log", ".gpx", ".txt"}
_DOWN, _UP = Told(depth="down"), Told(depth="up", crs="EPSG:4326")
_UTM = Told(depth="down", crs="EPSG:32602")
_SAILED = Sailed(0.5, transducer_m=0.6, keel_m=2.1, arm_m=(2.0, -0.5), day=date(2026, 7, 1))

Reader = Callable[[Path], object]


class Kind(NamedTuple):
    """A file's name and bytes, what reads it, whether it is of lines, what lies beside it."""

    name: str
    good: bytes
    read: Reader
    is_text: bool
    beside: Mapping[str, bytes]


def kinds() -> tuple[Kind, ...]:
    """Every kind in turn; the yacht's and the weather's, then the bay's."""
    return (*_plain(_of_the_stay()), *bay_kinds())


def bay_kinds() -> tuple[Kind, ...]:
    """Charts, grids, tracks, tides, points and neighbours."""
    made = tuple(
        Kind(name, good, read, Path(name).suffix in _TEXTS, {})
        for name, (good, read) in _made().items()
    )
    return (*_plain(_of_the_bay()), *_cells(), *made)


def _plain(files: Mapping[Path, Reader]) -> tuple[Kind, ...]:
    return tuple(
        Kind(path.name, _short(path), read, path.suffix in _TEXTS, {})
        for path, read in files.items()
    )


def _short(path: Path) -> bytes:
    """A file, or the first rows of a long table."""
    good = path.read_bytes()
    if path.suffix not in _TEXTS or len(good) < _LONGEST_TEXT:
        return good
    cut = good.rfind(b"\n", 0, _LONGEST_TEXT) + 1
    return good[:cut] if cut and path.suffix != ".json" else good


def _of_the_stay() -> dict[Path, Reader]:
    air = FILES / "forecasts"
    middle = partial(read_forecast, lat_deg=47.5, lon_deg=-40.0)
    north = partial(read_forecast, lat_deg=51.5, lon_deg=0.0)
    return {
        COVE / "boat.toml": read_boat,
        COVE / "stay.toml": lambda path: parse_toml(read_text(path, "a stay"), path.name),
        COVE / "tide.csv": read_tide,
        COVE / "wind.csv": middle,
        NOTCH / "forecast.nc": middle,
        air / "point_forecast.json": north,
        air / "gfs_wind_in_one_message.grib2": middle,
        air / "ensemble_gust_6h.grib1": north,
    }


def _of_the_bay() -> dict[Path, Reader]:
    bay, logs, tide = FILES / "bay", FILES / "logs", FILES / "tide"
    return {
        COVE / "bay" / "shore.geojson": read_shapes,
        COVE / "bay" / "soundings.csv": partial(read_depths, told=_DOWN),
        bay / "doubtful_sound.geojson": read_shapes,
        bay / "samos_strait_15s.asc": partial(read_depths, told=_UP),
        bay / "howe_sound_curved.nc": partial(read_depths, told=_DOWN),
        bay / "no_usable_crs.bag": partial(read_depths, told=_UTM),
        bay / "refined.bag": partial(read_depths, told=Told()),
        bay / "ship_tracks_baja.csv.xz": partial(read_depths, told=_UP),
        logs / "sail_without_date.log": _under_way,
        logs / "false_echoes_keel_offset.txt": partial(_under_way, checked=False),
        logs / "sentence_inside_sentence.log": _under_way,
        FILES / "ais" / "harbour_one_minute.log": _neighbours,
        tide / "seattle_hourly_201501.json": partial(
            _tide, unit="m", datum="MLLW", utc_offset_h=0.0
        ),
        tide / "seattle_in_feet.json": partial(_tide, datum="MLLW"),
        tide / "two_stations.json": partial(_tide, station="Bergen", unit="m"),
    }


def _cells() -> tuple[Kind, ...]:
    """A cell wounded beside its good update, and the other way round."""
    cell, update = ((FILES / "charts" / f"ZZ5COVE1.{end}").read_bytes() for end in ("000", "001"))
    return (
        Kind("cell.000", cell, _chart, False, {".001": update}),
        Kind("update.001", update, _chart, False, {".000": cell}),
    )


def _made() -> dict[str, tuple[bytes, Reader]]:
    """Files small enough to be written here."""
    return {
        "run.gpx": (_gpx(), _under_way),
        "run.csv": (_track(), _under_way),
        "bed.tif": (_tif(), partial(read_depths, told=_UP)),
        "even.nc": (_even_grid("NETCDF3_CLASSIC"), partial(read_depths, told=_UP)),
        "even_4.nc": (_even_grid("NETCDF4"), partial(read_depths, told=_UP)),
        "high_low.csv": (_high_low(), read_tide),
        "points.csv": (_point_rows(), _points),
        "points.geojson": (
            _features({"kind": "ring", "height_m": 2.0, "strength_kn": 20}),
            _points,
        ),
        "near.geojson": (
            _features({"length_m": 12.0, "beam_m": 4.0, "heading_deg": 80, "chain_out_m": 30}),
            _neighbours,
        ),
    }


def _chart(path: Path) -> object:
    """A chart with all that a bay takes of it."""
    read = read_chart(path.with_suffix(".000"), Told())
    at = np.array([read.bed.lat_deg, read.bed.lon_deg])
    frame = Frame(*(float(one) for one in at.mean(axis=1))) if at.size else Frame(0.0, 0.0)
    charts = Charts((read,), frame)
    found = charts.beds(), charts.dangers(), charts.land(), charts.findings("MLLW")
    return *found, charts.zones(Bounds(-2e3, -2e3, 2e3, 2e3))


def _under_way(path: Path, *, checked: bool = True) -> object:
    sailed = _SAILED if checked else Sailed(0.5, transducer_m=0.6, keel_m=2.1, checked=False)
    return read_under_way(path, Told(), sailed, None)


def _tide(path: Path, **told: Any) -> object:
    begins = datetime(2015, 1, 10, tzinfo=UTC)
    asked = TideAsked(begins, begins + timedelta(hours=24), "[tide]", **told)
    return read_tide_json(path, asked)


def _points(path: Path) -> object:
    return read_points_file(path, Frame(43.0, 16.0))


def _neighbours(path: Path) -> object:
    return read_neighbour_file(
        path, Frame(52.842278, 5.70582) if "log" in path.name else Frame(43.0, 16.0)
    )


def _run() -> list[tuple[datetime, float, float, float]]:
    """Moments, latitudes, longitudes and depths along a straight run."""
    begins = datetime(2026, 7, 1, 23, 59, 30, tzinfo=UTC)
    return [
        (begins + timedelta(seconds=2 * k), 43.0 + 2e-5 * k, 16.0 + 1e-5 * k, 9.0 + 0.1 * (k % 7))
        for k in range(60)
    ]


def _gpx() -> bytes:
    rows = "\n".join(
        f'<trkpt lat="{lat:.6f}" lon="{lon:.6f}"><time>{at:%Y-%m-%dT%H:%M:%SZ}</time>'
        f"<extensions><depth>{depth:.1f}</depth></extensions></trkpt>"
        for at, lat, lon, depth in _run()
    )
    return f'<gpx version="1.1">\n<trk><trkseg>\n{rows}\n</trkseg></trk>\n</gpx>\n'.encode()


def _track() -> bytes:
    rows = "".join(
        f"{at:%Y-%m-%dT%H:%M:%SZ},{lat:.6f},{lon:.6f},{depth:.1f},20\n"
        for at, lat, lon, depth in _run()
    )
    return f"time_utc,lat_deg,lon_deg,depth_m,heading_deg\n{rows}".encode()


def _high_low() -> bytes:
    begins = datetime(2026, 7, 1, 4, 12, tzinfo=UTC)
    rows = "".join(
        f"{begins + timedelta(hours=6.2 * k):%Y-%m-%dT%H:%MZ},{0.2 + 1.5 * (k % 2)},"
        f"{('low', 'high')[k % 2]}\n"
        for k in range(12)
    )
    return f"time_utc,height_m,kind\n{rows}".encode()


def _point_rows() -> bytes:
    rows = "".join(f"P{k},tree,43.000{k},16.000{k},{k}.5,{k + 5}\n" for k in range(1, 8))
    return f"name,kind,lat_deg,lon_deg,height_m,strength_kn\n{rows}".encode()


def _features(says: dict[str, Any]) -> bytes:
    found = [
        {
            "type": "Feature",
            "properties": {"name": f"N{k}", **says},
            "geometry": {"type": "Point", "coordinates": [16.0 + 1e-3 * k, 43.0]},
        }
        for k in range(5)
    ]
    return json.dumps({"type": "FeatureCollection", "features": found}, indent=1).encode()


def _tif() -> bytes:
    from rasterio.io import MemoryFile
    from rasterio.transform import from_origin

    bed = -np.add.outer(np.arange(24.0), np.arange(20.0)).astype(np.float32)
    with MemoryFile() as kept:
        with kept.open(
            driver="GTiff", width=20, height=24, count=1, dtype="float32", crs="EPSG:4326",
            transform=from_origin(16.0, 43.0, 1e-4, 1e-4), nodata=-9999.0, compress="deflate",
        ) as raster:  # fmt: skip
            raster.write(bed, 1)
        return bytes(kept.read())


def _even_grid(form: Literal["NETCDF3_CLASSIC", "NETCDF4"]) -> bytes:
    """A bed along parallels and meridians, with a second grid beside it."""
    import netCDF4

    kept = netCDF4.Dataset("even.nc", "w", format=form, memory=4096)
    for name, start, count in (("lat", 43.0, 24), ("lon", 16.0, 20)):
        kept.createDimension(name, count)
        kept.createVariable(name, "f8", (name,))[:] = start + 1e-3 * np.arange(count)
    for name in ("elevation", "other"):
        one = kept.createVariable(name, "f4", ("lat", "lon"), fill_value=-9999.0)
        one[:] = -np.add.outer(np.arange(24.0), np.arange(20.0))
        one.units = "m"
    return bytes(kept.close())
