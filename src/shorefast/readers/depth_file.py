"""Any file of depths, told apart by what is in it."""

from __future__ import annotations

from pathlib import Path

from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depths import DepthsRead, Told
from shorefast.readers.soundings_csv import read_soundings_csv

RASTERS = (".tif", ".tiff", ".asc", ".bag", ".grd", ".img")
NETCDF = (".nc", ".nc4", ".cdf")
_LATER = {
    ".gpx": "a GPX track",
    ".nmea": "an NMEA log",
    ".log": "an NMEA log",
}


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


def _refuse_later(path: Path, head: bytes) -> None:
    kind = _LATER.get(path.suffix.lower())
    if kind is None and head[:1] in (b"$", b"!") and b"," in head[:20]:
        kind = "an NMEA log"
    if kind is not None:
        raise Unreadable(
            path.name,
            f"{kind}",
            "this version does not read those",
            "Give its soundings as CSV with lon_deg,lat_deg,depth_m, or a grid as GeoTIFF "
            "or NetCDF.",
        )


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
    with path.open("rb") as opened:
        head = opened.read(512)
    suffix = path.suffix.lower()
    if is_chart(path):
        from shorefast.readers.chart_file import read_chart

        return read_chart(path, told).depths
    _refuse_later(path, head)
    if suffix in NETCDF or head[:3] == b"CDF":
        from shorefast.readers.grid_netcdf import read_netcdf_grid

        return read_netcdf_grid(path, told)
    if suffix in RASTERS or head[:4] in (b"II*\0", b"MM\0*", b"II+\0"):
        from shorefast.readers.grid_raster import read_raster

        return read_raster(path, told)
    return read_soundings_csv(path, told, frame)
