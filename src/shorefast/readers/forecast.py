"""One door for every kind of forecast: what a file is, its first bytes tell."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from shorefast.basis import Basis, Finding
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.forecast_at_place import MOST_MPS, ForecastAtPlace, LeftOut, counted
from shorefast.weather import Wind, joined

__all__ = ["ForecastAtPlace", "LeftOut", "read_forecast", "read_forecasts"]

_NETCDF = (b"CDF\x01", b"CDF\x02", b"CDF\x05", b"\x89HDF")
_WANTED = "GRIB, NetCDF, JSON or CSV wanted"


def _wind_csv(path: Path, lat_deg: float, lon_deg: float) -> ForecastAtPlace:
    from shorefast.readers.wind_csv import read_wind_csv

    wind = read_wind_csv(path)
    said = Finding(path.name, "it names no place; it is taken as told for the place asked for")
    wind = Wind(**{**vars(wind), "basis": wind.basis | Basis(findings=(said,))})
    return ForecastAtPlace(wind, lat_deg, lon_deg, float("nan"), "wind CSV", counted(wind))


def read_forecast(path: Path, lat_deg: float, lon_deg: float) -> ForecastAtPlace:
    """The wind a forecast file gives for a place, at the file's own times.

    Parameters
    ----------
    path : Path
        GRIB (1 or 2), CF NetCDF, a point forecast in JSON, or a wind CSV.
    lat_deg, lon_deg : float
        The place; the nearest grid point is taken, nothing is interpolated.

    Raises
    ------
    Unreadable
        If the file is empty, broken, or none of these.
    BadInput
        If it is not there, does not cover the place, or a value in it cannot be so.
    """
    if path.is_dir():
        raise BadInput(str(path), "a folder", "a forecast wanted", "Name the file in it.")
    if not path.is_file():
        raise BadInput(str(path), "no such file", "a forecast wanted", "Correct the path.")
    read = _by_kind(path, lat_deg, lon_deg)
    _check_possible(read.wind, path.name)
    return read


def _check_possible(wind: Wind, name: str) -> None:
    for what, speeds in (("wind", wind.wind_mps), ("gust", wind.gust_mps)):
        wrong = (speeds < 0.0) | (speeds > MOST_MPS)
        if wrong.any():
            raise Unreadable(
                name,
                f"a {what} of {speeds[wrong][0]:g} m/s",
                f"0 to {MOST_MPS:g} wanted",
                "Fetch the file again; this value cannot be so.",
            )


def _by_kind(path: Path, lat_deg: float, lon_deg: float) -> ForecastAtPlace:
    with path.open("rb") as file:
        start = file.read(4096)
    if not start.strip():
        raise Unreadable(path.name, "it is empty", _WANTED, "Fetch the file again.")
    if start.startswith(_NETCDF):
        from shorefast.readers.forecast_netcdf import read_forecast_netcdf

        return read_forecast_netcdf(path, lat_deg, lon_deg)
    if b"GRIB" in start:
        from shorefast.readers.forecast_grib import read_forecast_grib

        return read_forecast_grib(path, lat_deg, lon_deg)
    if start.lstrip(b"\xef\xbb\xbf \t\r\n")[:1] in (b"{", b"["):
        from shorefast.readers.forecast_json import read_forecast_json

        return read_forecast_json(path, lat_deg, lon_deg)
    if b"\x00" in start:
        raise Unreadable(path.name, "it is none of the kinds known", _WANTED, "Fetch it as one.")
    return _wind_csv(path, lat_deg, lon_deg)


def read_forecasts(
    paths: Sequence[Path], lat_deg: float, lon_deg: float
) -> tuple[tuple[ForecastAtPlace, ...], Wind]:
    """Every file as ``read_forecast`` has it, and the one wind they make together.

    Files that complete each other become one forecast; another forecast brings its
    members, numbered on. Files of different times are read between their own by
    straight lines; a single file keeps its times.
    """
    read = tuple(read_forecast(path, lat_deg, lon_deg) for path in paths)
    return read, joined([one.wind for one in read])
