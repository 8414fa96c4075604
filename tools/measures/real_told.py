"""What the origin of each real file says of it that the file does not say itself."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

KINDS = (
    "bathymetry",
    "s57",
    "coastline",
    "nmea0183",
    "gnss_static",
    "gpx",
    "tide",
    "forecast",
    "wind",
)
"""Folders of real files, in the order they are told of."""

_GEBCO = {"depth": "up", "crs": "EPSG:4326"}
_BAY: dict[str, dict[str, Any]] = {
    "firth_of_lorn": {"depth": "down", "no_data": -1.0},
    "gebco_": _GEBCO,
    "howe_sound": {"depth": "down"},
    "baja_ship": {"depth": "up"},
    "public_release": {"depth": "up"},
    "bag_20x20m": {"depth": "down"},
}
_AIR = {
    "arome": (60.7, 5.0),
    "beijing": (39.9, 116.4),
    "london": (51.5, -0.12),
    "nam_lambert": (41.28, -71.59),
    "island_azores": (39.09, -28.03),
    "ship_antarctic": (-67.4, 160.0),
}
_TIDES: dict[str, dict[str, Any]] = {
    "harmonics_4stations": {"station": "Bergen", "unit": "m", "datum": "CD"},
    "water_level_6min": {"unit": "m", "utc_offset_h": 0.0, "datum": "MLLW"},
    "harcon_datums": {"datum": "MLLW"},
}
NEIGHBOURS = {
    "ais_and_gps_moored": (52.842278, 5.70582),
    "ais_heavy_own_ship": (53.180218, 5.428397),
}
"""Logs of ships about, and where the receiver lies. [deg]"""
JANUARY_2015, SUMMER = datetime(2015, 1, 10, tzinfo=UTC), datetime(2026, 7, 1, tzinfo=UTC)


def real_files_of(folder: Path) -> Iterator[tuple[str, Path]]:
    """Every file a reader may be handed, with the kind of folder it stands in."""
    for kind in KINDS:
        for path in sorted((folder / kind).rglob("*")):
            # an update is read with its cell; what else lies beside a cell is for people
            beside = kind == "s57" and path.suffix != ".000"
            if path.is_file() and not beside:
                yield kind, path


def _of(told: dict[str, Any], path: Path) -> Any:
    return next((said for key, said in told.items() if key in path.name), None)


def told_of(path: Path) -> dict[str, Any]:
    """What must be told of a file of depths, as ``Told`` has it."""
    return dict(_of(_BAY, path) or {})


def told_words(path: Path) -> list[str]:
    """The same as words of the command line."""
    said = told_of(path).items()
    return [word for key, value in said for word in (f"--{key.replace('_', '-')}", f"{value}")]


def place_of(path: Path) -> str:
    """A place that a forecast or record of the wind covers, as the command line has it."""
    lat_deg, lon_deg = _of(_AIR, path) or (50.0, 0.0)
    return f"{lat_deg:g},{lon_deg:g}"


def told_tide(path: Path) -> dict[str, Any]:
    """What must be told of a tide file, as ``TideAsked`` has it."""
    return dict(_of(_TIDES, path) or {})


def begins_of(path: Path) -> datetime:
    """A moment its heights cover; a summer's day where they are predicted for any."""
    return JANUARY_2015 if "2015" in path.name else SUMMER
