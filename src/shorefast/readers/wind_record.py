"""A recorder's own wind, second by second or minute by minute: NetCDF, or a log of NMEA 0183."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np

from shorefast.basis import Finding
from shorefast.errors import Unreadable
from shorefast.readers.netcdf_whole import check_whole
from shorefast.readers.nmea_fields import number, seconds_of_day
from shorefast.readers.nmea_sentence import checksum
from shorefast.weather import WindRecord

_SPEEDS = ("wind_speed", "wspd_arith_mean")
_FROM = ("wind_direction", "wind_from_direction", "wdir_vec_mean")
_NETCDF = (b"CDF\x01", b"CDF\x02", b"\x89HDF")
_WANTED = "Wanted speed and direction of the wind against time."
_KNOT_MPS = 1852.0 / 3600.0
_UNIT_MPS = {b"N": _KNOT_MPS, b"M": 1.0, b"K": 1.0 / 3.6}
_DAY_S = 86_400.0


def read_wind_record(path: Path) -> tuple[WindRecord, tuple[Finding, ...]]:
    """Read a recorder's wind.

    A NetCDF file of minutes' means; or an NMEA 0183 log with MWV sentences relative to the
    bow, turned by the heading told last, each between the times told before and after it.

    Raises
    ------
    Unreadable
        Where there is no wind in it, or no two times.
    """
    with path.open("rb") as opened:
        head = opened.read(4)
    if head in _NETCDF:
        check_whole(path, _WANTED)
        return _from_netcdf(path)
    with path.open("rb") as opened:
        return _from_log(opened, path.name)


def _from_netcdf(path: Path) -> tuple[WindRecord, tuple[Finding, ...]]:
    import netCDF4

    with netCDF4.Dataset(path) as dataset:
        dataset.set_auto_mask(False)
        speed, way = (
            next((dataset.variables[name] for name in names if name in dataset.variables), None)
            for names in (_SPEEDS, _FROM)
        )
        when = dataset.variables.get("time_offset", dataset.variables.get("time"))
        if speed is None or way is None or when is None:
            raise Unreadable(path.name, "no recorded wind in it", "", _WANTED)
        t_s = np.asarray(when[:], float) * (60.0 if _unit(when).startswith("minute") else 1.0)
        wind, blow = _known(speed), np.radians(_known(way))
    lost = int(np.isnan(wind + blow).sum())
    said = (Finding(path.name, f"{lost} of {wind.size} values are missing"),) if lost else ()
    return WindRecord(t_s, wind, blow, float(np.median(np.diff(t_s)))), said


def _unit(variable: Any) -> str:
    return str(getattr(variable, "units", ""))


def _known(variable: Any) -> np.ndarray:
    """Values, NaN where the file says they are missing or they are no wind."""
    values = np.asarray(variable[:], float)
    return np.where((values < 0.0) | (values > 1e3), np.nan, values)


def _from_log(lines: Iterable[bytes], name: str) -> tuple[WindRecord, tuple[Finding, ...]]:
    clock, told, wrong = _heard(lines)
    if len(clock) < 2 or not told:
        raise Unreadable(name, "no wind against time in it", "", _WANTED)
    at, seconds = np.array(clock).T
    # a time of day falls at midnight
    seconds = seconds + _DAY_S * np.cumsum(np.diff(seconds, prepend=seconds[0]) < -0.5 * _DAY_S)
    line, wind, blow = np.array(told).T
    inside = (line >= at[0]) & (line <= at[-1])
    t_s = np.interp(line[inside], at, seconds)
    rising = np.concatenate([[True], np.diff(t_s) > 0.0])
    said = (Finding(name, f"{wrong} sentences with a wrong checksum left out"),) if wrong else ()
    record = WindRecord(t_s[rising], wind[inside][rising], blow[inside][rising], 1.0)
    return record, said


def _heard(
    lines: Iterable[bytes],
) -> tuple[list[tuple[float, float]], list[tuple[float, float, float]], int]:
    """Times by line; wind by line, turned by the heading; how many checksums were wrong."""
    clock: list[tuple[float, float]] = []
    told: list[tuple[float, float, float]] = []
    heading_rad, wrong = math.nan, 0
    for k, raw in enumerate(lines):
        body, star, rest = raw.strip().lstrip(b"$").partition(b"*")
        if not star or rest[:2].upper() != b"%02X" % checksum(body):
            wrong += bool(star)
            continue
        part = body.split(b",")
        kind = part[0][2:5]
        if kind == b"HDG" and len(part) > 1:
            heading_rad = math.radians(number(part[1]))
        elif kind == b"MWV" and len(part) > 4 and part[2] == b"R":
            speed = number(part[3]) * _UNIT_MPS.get(part[4], math.nan)
            told.append((float(k), speed, math.radians(number(part[1])) + heading_rad))
        elif (seconds := _time(kind, part)) is not None:
            clock.append((float(k), seconds))
    return clock, told, wrong


def _time(kind: bytes, part: list[bytes]) -> float | None:
    place = {b"RMC": 1, b"GGA": 1, b"GLL": 5, b"ZDA": 1}.get(kind)
    if place is None or place >= len(part):
        return None
    seconds = seconds_of_day(part[place])
    return seconds if math.isfinite(seconds) else None
