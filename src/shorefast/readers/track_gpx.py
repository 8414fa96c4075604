"""Depths along the tracks of a GPX file: a depth in any extension, or heights on request.

Read piece by piece without entities: a document type in the file is refused, and so is
anything nested deeper or longer than a track can be.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from xml.parsers import expat

import numpy as np

from shorefast.bay import Frame
from shorefast.errors import Unreadable
from shorefast.readers.depths import DepthsRead, Tally, Told
from shorefast.readers.track_depths import Noticed, reduce_track
from shorefast.readers.track_rows import Rows, no_headings, track_of_rows
from shorefast.readers.track_told import Floats, Sailed, seconds_since_year_1

_MOST_BYTES = 200_000_000
_MOST_DEEP = 100
_LONGEST_TEXT = 100
# A receiver afloat may well say 20 m: our own choice.
_LAND_M = 20.0
_POINTS = ("trkpt", "rtept", "wpt")
_READ = ("ele", "time", "depth")
_WANTED = "a GPX track with depths wanted"
_OUT = "Export it again as GPX with depths, or give CSV with time_utc,lat_deg,lon_deg,depth_m."


class _Refused(Exception):
    """The file holds what no track needs."""


@dataclass
class _Points:
    """Track points as they are met; one row each: line, seconds, lat, lon, depth, height."""

    rows: list[tuple[int, float, float, float, float, float]] = field(default_factory=list)
    met: Counter[str] = field(default_factory=Counter)
    names: list[str] = field(default_factory=list)
    now: dict[str, float] = field(default_factory=dict)
    text: str = ""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        local = name.rpartition(":")[2].lower()
        self.names.append(local)
        self.text = ""
        if len(self.names) > _MOST_DEEP:
            raise _Refused(f"nested more than {_MOST_DEEP} deep")
        if local in _POINTS:
            self.met[local] += 1
            self.now = {side: _number(attributes.get(side, "")) for side in ("lat", "lon")}
        elif local == "gpx":
            self.met[local] += 1

    def data(self, text: str) -> None:
        """Some characters of the element now open."""
        if self.names and self.names[-1] in _READ and len(self.text) < _LONGEST_TEXT:
            self.text += text

    def end(self, line: int) -> None:
        """An element ends."""
        local = self.names.pop()
        if local in _READ and "trkpt" in self.names:
            said = self.text.strip()
            self.now[local] = _moment(said) if local == "time" else _number(said)
        elif local == "trkpt":
            parts = (self.now.get(key, math.nan) for key in ("time", "lat", "lon", "depth", "ele"))
            time, lat, lon, depth, height = parts
            self.rows.append((line, time, lat, lon, depth, height))
        self.text = ""


def _number(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        return math.nan
    return value if math.isfinite(value) else math.nan


def _moment(text: str) -> float:
    """Seconds since the year 1, NaN if it is no time; one that names no zone is UTC."""
    try:
        value = datetime.fromisoformat(text)
        value = value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)
    except (ValueError, OverflowError):
        return math.nan
    return seconds_since_year_1(value)


def _points(path: Path) -> _Points:
    found = _Points()
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def refuse(*_: object) -> None:
        raise _Refused("a document type or entity in it")

    parser.StartDoctypeDeclHandler = refuse
    parser.EntityDeclHandler = refuse
    parser.ExternalEntityRefHandler = None
    parser.StartElementHandler = found.start
    parser.CharacterDataHandler = found.data
    parser.EndElementHandler = lambda _: found.end(parser.CurrentLineNumber)
    try:
        with path.open("rb") as opened:
            parser.ParseFile(opened)
    except expat.ExpatError as trouble:
        why = f"line {trouble.lineno}: {expat.ErrorString(trouble.code)}"
    except (_Refused, ValueError, LookupError) as trouble:
        why = f"line {parser.CurrentLineNumber}: {trouble}"
    else:
        return found
    raise Unreadable(path.name, f"it cannot be read as GPX ({why})", _WANTED, _OUT)


def read_gpx(
    path: Path,
    told: Told,
    sailed: Sailed,
    frame: Frame | None = None,
    counted_from: str = "surface",
) -> DepthsRead:
    """Read the depths of a GPX file's tracks and reduce them to chart datum.

    Parameters
    ----------
    path : Path
    told : Told
        ``depth`` "up": the person says that the points' heights below 0 are depths.
    sailed : Sailed
        The boat and the water.
    frame : Frame, optional
        The bay's plane.
    counted_from : "surface", "transducer" or "keel"
        What the depths count from; a GPX file never says.

    Raises
    ------
    Unreadable
        If it is too large, no GPX, has no track, or no depth along one.
    BadInput
        If something must be told and is not.
    """
    if path.stat().st_size > _MOST_BYTES:
        raise Unreadable(
            path.name, f"{path.stat().st_size / 1e6:.0f} MB", "at most 200 MB", "Cut it smaller."
        )
    found = _points(path)
    table = np.array(found.rows, dtype=float).reshape(-1, 6)
    depth, heights = table[:, 4], table[:, 5]
    if told.depth == "up":
        depth = np.where(np.isfinite(depth), depth, -heights)
    if not np.isfinite(depth).any():
        raise _no_depth(path.name, found, heights, sailed.ways_out.only_heights)
    rows = Rows(
        table[:, 0], table[:, 1], table[:, 2], table[:, 3], depth,
        no_headings(len(table)),
    )  # fmt: skip
    tally = Tally()
    track = track_of_rows(path.name, "GPX track", rows, sailed, tally, counted_from)
    notes = [f"depths taken as under the {counted_from}: a GPX file does not say"]
    return reduce_track(track, replace(told, depth=None), sailed, frame, Noticed(tally, notes))


def _no_depth(name: str, found: _Points, height_m: Floats, way_out: str) -> Unreadable:
    count = len(found.rows)
    if not found.met["gpx"]:
        return Unreadable(name, "XML, but no GPX", _WANTED, _OUT)
    if not count:
        other = {"rtept": "of a route", "wpt": "single ones"}
        told = ", ".join(f"{found.met[key]} {word}" for key, word in other.items())
        return Unreadable(name, f"no track point in it (points: {told})", _WANTED, _OUT)
    known = height_m[np.isfinite(height_m)]
    if not known.size:
        return Unreadable(name, f"{count} track points without a depth", _WANTED, _OUT)
    heights = f"heights {known.min():.0f} to {known.max():.0f} m"
    middle = float(np.median(known))
    if middle < 0.0:
        got = f"{count} track points without a depth, {heights}"
        return Unreadable(name, got, _WANTED, way_out)
    land = ": a track on land" if middle > _LAND_M else ""
    return Unreadable(name, f"{count} track points without a depth, {heights}{land}", _WANTED, _OUT)
