"""Any file of depths, told apart by what is in it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depths import DepthsRead, Told
from shorefast.readers.soundings_csv import read_soundings_csv
from shorefast.readers.track_told import Sailed

RASTERS = (".tif", ".tiff", ".asc", ".bag", ".grd", ".img")
NETCDF = (".nc", ".nc4", ".cdf")
LOGS = (".nmea", ".log")
_HEAD_BYTES = 512
_TIMED = (
    "its rows have times, yet no height of the water was told: its depths are taken as charted"
    " ones; if they count from the surface of the moment, give a tide or a level"
)


def is_chart(path: Path) -> bool:
    """Whether a file is named as an S-57 cell, an update of one, or a catalogue is."""
    return len(path.suffix) == 4 and path.suffix[1:].isdigit()


def check_there(path: Path, wanted: str = "a file of depths") -> None:
    """Raise unless there is a file with something in it.

    Raises
    ------
    BadInput
        If there is no such file, or it is a folder.
    Unreadable
        If it is empty.
    """
    if path.is_dir():
        raise BadInput(str(path), "a folder", f"{wanted} wanted", "Name the file in it.")
    if not path.is_file():
        raise BadInput(str(path), "no such file", f"{wanted} wanted", "Correct the path.")
    if path.stat().st_size == 0:
        raise Unreadable(path.name, "it is empty", f"{wanted} wanted", "Name another file.")


def _head(path: Path) -> bytes:
    with path.open("rb") as opened:
        return opened.read(_HEAD_BYTES)


def is_under_way(path: Path, *, timed: bool = False) -> bool:
    """Whether a file is a log or track of soundings taken under way.

    timed : rows of soundings with a time count too: the height of the water is told.
    """
    head, suffix = _head(path), path.suffix.lower()
    if suffix == ".gpx" or suffix in LOGS or (head[:1] in (b"$", b"!") and b"," in head[:20]):
        return True
    first = head.split(b"\n", 1)[0].lower()
    return timed and suffix not in (*RASTERS, *NETCDF) and b"time_utc" in first


def read_under_way(
    path: Path,
    told: Told,
    sailed: Sailed,
    frame: Frame | None = None,
    counted_from: str = "surface",
) -> DepthsRead:
    """Read soundings taken under way, reduced to chart datum where the water is told.

    Parameters
    ----------
    As ``nmea_depths.read_log``, ``track_gpx.read_gpx`` and ``track_csv.read_track_csv``;
    ``counted_from`` is for a GPX track, which never says.

    Raises
    ------
    BadInput, Unreadable
        As these do.
    """
    if path.suffix.lower() == ".gpx":
        from shorefast.readers.track_gpx import read_gpx

        return read_gpx(path, told, sailed, frame, counted_from)
    if path.suffix.lower() in LOGS or _head(path)[:1] in (b"$", b"!"):
        from shorefast.readers.nmea_depths import read_log

        return read_log(path, told, sailed, frame)
    from shorefast.readers.track_csv import read_track_csv

    return read_track_csv(path, told, sailed, frame)


def read_depths(path: Path, told: Told, frame: Frame | None = None) -> DepthsRead:
    """Read the depths of one file, whatever kind it is.

    Parameters
    ----------
    path : Path
    told : Told
        What the file does not say of itself.
    frame : Frame, optional
        The bay's plane, where the file counts in its metres.

    Raises
    ------
    BadInput, Unreadable
        As the readers of each kind do.
    """
    check_there(path)
    head, suffix = _head(path), path.suffix.lower()
    if is_chart(path):
        from shorefast.readers.chart_file import read_chart

        return read_chart(path, told).depths
    if is_under_way(path):
        return read_under_way(path, told, Sailed(as_it_was=True), frame)
    if suffix in NETCDF or head[:3] == b"CDF":
        from shorefast.readers.grid_netcdf import read_netcdf_grid

        return read_netcdf_grid(path, told)
    if suffix in RASTERS or head[:4] in (b"II*\0", b"MM\0*", b"II+\0"):
        from shorefast.readers.grid_raster import read_raster

        return read_raster(path, told, frame)
    read = read_soundings_csv(path, told, frame)
    if is_under_way(path, timed=True):
        return replace(read, notes=(*read.notes, _TIMED))
    return read
