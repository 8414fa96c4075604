"""Soundings out of an NMEA 0183 log or a live feed, each with its place and moment."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame, at_moments, frozen, reachable, rising
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import KNOT_MPS
from shorefast.readers.depths import DepthsRead, Tally, Told
from shorefast.readers.nmea_fields import Depth, Fix
from shorefast.readers.nmea_log import (
    DEPTHS_IN_ORDER,
    FIXES_IN_ORDER,
    HEADINGS_IN_ORDER,
    Gathered,
    best,
    clock,
    gather,
)
from shorefast.readers.nmea_sentence import sentence_in
from shorefast.readers.track_depths import LOG, Noticed, Track, reduce_track
from shorefast.readers.track_told import Sailed, Sounded, frame_round, heading_at

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_MOST_BYTES = 400_000_000
_WANTED = "positions (RMC, GGA or GLL) and depths (DPT, DBT or DBS) wanted"
_OLD_S = 5.0
_MOVING_MPS = KNOT_MPS


class Fixes(NamedTuple):
    """Fixes that are believed, in order, shape (fix,)."""

    line: Floats
    t_s: Floats
    lat_deg: Floats
    lon_deg: Floats
    place_m: Floats
    has_date: bool


def read_log(path: Path, told: Told, sailed: Sailed, frame: Frame | None = None) -> DepthsRead:
    """Read a log kept under way and reduce its soundings to chart datum.

    Parameters
    ----------
    path : Path
    told : Told
        ``depth`` must not be "up"; ``deviation_m`` stands for one echo's.
    sailed : Sailed
        The boat, the water, the day where the log has none.
    frame : Frame, optional
        The bay's plane; else one round the log.

    Raises
    ------
    Unreadable
        If it is empty, holds no sentence, or no sounding in it can be believed.
    BadInput
        If the water, the day, or the transducer's depth must be told and is not.
    """
    if path.stat().st_size > _MOST_BYTES:
        raise Unreadable(
            path.name, f"{path.stat().st_size / 1e6:.0f} MB", "at most 400 MB", "Cut it smaller."
        )
    lines = path.read_bytes().replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n")
    gathered = gather(lines, path.name, checked=sailed.checked)
    _check_heard(gathered, sailed)
    return depths_of(gathered, told, sailed, frame)


def depths_of(
    gathered: Gathered,
    told: Told,
    sailed: Sailed,
    frame: Frame | None = None,
    tally: Tally | None = None,
) -> DepthsRead:
    """What has been gathered as soundings on chart datum; errors as of ``read_log``.

    What is left out is added to ``tally``.
    """
    tally = Tally() if tally is None else tally
    for why, count in gathered.tally.rows():
        tally.add(why, gathered.tally.first[why], count)
    fix_stream = best(gathered.fixes, FIXES_IN_ORDER)
    depth_stream = best(gathered.depths, DEPTHS_IN_ORDER)
    if fix_stream is None or depth_stream is None:
        raise _nothing(gathered, fix_stream is None)
    notes = _stream_notes(gathered, fix_stream, depth_stream)
    fixes = _believed(gathered, gathered.fixes[fix_stream], sailed, tally)
    sounded = _paired(gathered, depth_stream, fixes, sailed, tally)
    track = Track(gathered.name, LOG, sounded, fixes.has_date, gathered.asked)
    return reduce_track(track, told, sailed, frame, Noticed(tally, notes))


def _check_heard(gathered: Gathered, sailed: Sailed) -> None:
    heard = gathered.heard
    if not heard.total:
        raise Unreadable(
            gathered.name,
            "no sentence in it" if heard.unread else "it is empty",
            "an NMEA 0183 log wanted",
            "Name the log as the recorder kept it.",
        )
    if sailed.checked and heard.nearly_all_wrong:
        bad = heard.wrong + heard.bare
        raise Unreadable(
            gathered.name,
            f"{bad} of {heard.total} checksums are wrong or missing, so nothing in it is believed",
            "the recorder writes them wrong or the wire is bad",
            sailed.ways_out.bad_checksums,
        )


def _nothing(gathered: Gathered, no_fix: bool) -> Unreadable:
    heard = gathered.heard
    got = "no position" if no_fix else "no depth"
    why = [f"{count} times {why}" for why, count in gathered.tally.rows()]
    why += [f"{heard.wrong} with a wrong checksum"] if heard.wrong else []
    said = f" ({', '.join(why)})" if why else ""
    got = f"{got} in {heard.total} sentences{said}"
    return Unreadable(gathered.name, got, _WANTED, "Record both in one log.")


def _stream_notes(
    gathered: Gathered, fix_stream: tuple[bytes, bytes], depth_stream: tuple[bytes, bytes]
) -> list[str]:
    heard = gathered.heard
    notes = [f"positions from {_called(fix_stream)}, depths from {_called(depth_stream)}"]
    if heard.wrong + heard.bare:
        notes.append(
            f"{heard.wrong} of {heard.total} sentences with a wrong checksum, "
            f"{heard.bare} with none"
        )
    if heard.unread:
        notes.append(f"{heard.unread} lines are no sentence")
    return notes


def _called(stream: tuple[bytes, bytes]) -> str:
    return b"".join(stream).decode("ascii", errors="replace")


def _believed(
    gathered: Gathered, rows: list[tuple[int, Fix]], sailed: Sailed, tally: Tally
) -> Fixes:
    """The fixes less those of a clock or place that stood, went back or leapt."""
    when = clock(gathered, rows, None if sailed.day is None else sailed.day.toordinal())
    line = np.array([one for one, _ in rows], dtype=float)
    fix = np.array([one for _, one in rows], dtype=object).reshape(len(rows), -1)
    lat, lon = fix[:, 2].astype(float), fix[:, 3].astype(float)
    speed, hdop = fix[:, 4].astype(float), fix[:, 6].astype(float)
    rises = rising(when.t_s)
    went_back = np.append(False, np.diff(when.t_s) < 0.0)
    gap_s = np.clip(np.diff(when.t_s, prepend=when.t_s[:1]), 0.0, 60.0)
    still = frozen(np.column_stack((lat, lon)), went_back, speed * gap_s)
    same = np.isin(when.t_s, when.t_s[rises])
    reasons = {
        "fix: the receiver froze (place and clock stood)": still,
        "fix: time stamp repeated": ~rises & same & ~still,
        "fix: the clock went back or leapt": ~rises & ~same & ~still,
    }
    _count(gathered, reasons, line, tally)
    kept = np.flatnonzero(rises & ~still)
    kept = kept[_sailed_between(gathered, when.t_s, (lat, lon, line), kept, tally)]
    step_m = 111_000.0 * fix[:, 7].astype(float) / math.sqrt(12.0)
    scatter = sailed.doubts.position_m * np.fmax(np.nan_to_num(hdop, nan=1.0), 1.0)
    place = np.hypot(scatter, step_m)
    return Fixes(line[kept], when.t_s[kept], lat[kept], lon[kept], place[kept], when.has_date)


def _sailed_between(
    gathered: Gathered,
    t_s: Floats,
    place: tuple[Floats, Floats, Floats],
    kept: NDArray[np.int64],
    tally: Tally,
) -> Flags:
    lat, lon, line = (part[kept] for part in place)
    if not kept.size:
        return np.zeros(0, dtype=bool)
    east, north = frame_round(lat, lon).to_plane(lat, lon)
    good = reachable(t_s[kept], east, north)
    _count(gathered, {"fix: too far from the others to have sailed there": ~good}, line, tally)
    return good


def _count(gathered: Gathered, reasons: dict[str, Flags], line: Floats, tally: Tally) -> None:
    after, until = gathered.asked
    asked = (line > after) & (line <= (math.inf if until is None else until))
    for why, found in reasons.items():
        found = found & asked
        if found.any():
            first = int(line[int(np.flatnonzero(found)[0])])
            tally.add(why, gathered.where(first), int(found.sum()))


def _paired(
    gathered: Gathered, stream: tuple[bytes, bytes], fixes: Fixes, sailed: Sailed, tally: Tally
) -> Sounded:
    """Each depth with the position at its moment, as it stands among the fixes' lines."""
    rows = gathered.depths[stream]
    line = np.array([one for one, _ in rows], dtype=float)
    depth = _below_surface(gathered, stream, rows, sailed)
    stands = np.array([one.depth_m for _, one in rows]) > 0.0
    _count(gathered, {"depth 0: the sounder had no bottom": ~stands}, line, tally)
    t_s = np.interp(line, fixes.line, fixes.t_s) if fixes.line.size else np.full(line.size, np.nan)
    outside = (line < fixes.line[0]) | (line > fixes.line[-1]) if fixes.line.size else line >= 0.0
    t_s = np.where(outside, np.nan, t_s)
    values = np.stack((fixes.lat_deg, fixes.lon_deg, fixes.place_m))
    lat, lon, place = at_moments(t_s, fixes.t_s, values)
    located = np.isfinite(lat)
    _count(gathered, {"no fix at that moment": stands & ~located}, line, tally)
    heading, by_course = _headings(gathered, line, fixes, t_s)
    # she may go astern or sideways: the arm is known in length only
    arm = math.hypot(*(sailed.arm_m or (0.0, 0.0))) / math.sqrt(2.0)
    place = np.hypot(place, np.where(by_course & np.isfinite(heading), arm, 0.0))
    found = Sounded(line, t_s, lat, lon, depth, heading, place)
    return found.only(stands & located)


def _headings(gathered: Gathered, line: Floats, fixes: Fixes, t_s: Floats) -> tuple[Floats, Flags]:
    """True headings at those moments, and which are none of a compass but courses. [rad]

    Where no compass tells, her course while she moves; NaN where neither is known.
    """
    found = np.full(line.shape, math.nan)
    if not fixes.line.size:
        return found, np.zeros(line.shape, dtype=bool)
    stream = best(gathered.headings, HEADINGS_IN_ORDER)
    if stream is not None:
        rows = np.array(gathered.headings[stream])
        to_true = np.where(np.isnan(rows[:, 2]), gathered.variation_rad, rows[:, 2])
        at_s = np.interp(rows[:, 0], fixes.line, fixes.t_s)
        found = heading_at(t_s, at_s, rows[:, 1] + to_true, _OLD_S)
    course = np.array(gathered.courses).reshape(-1, 3)
    course = course[(course[:, 2] > _MOVING_MPS) & np.isfinite(course[:, 1])]
    at_s = np.interp(course[:, 0], fixes.line, fixes.t_s)
    by_course = np.isnan(found)
    return np.where(by_course, heading_at(t_s, at_s, course[:, 1], _OLD_S), found), by_course


def _below_surface(
    gathered: Gathered, stream: tuple[bytes, bytes], rows: list[tuple[int, Depth]], sailed: Sailed
) -> Floats:
    """Depths below the surface. [m]

    Source
    ------
    nmea-0183, DPT: an offset above 0 is to the waterline, below 0 to the keel (from memory).
    """
    depth = np.array([one.depth_m for _, one in rows])
    if rows and rows[0][1].counted_from == "surface":
        return depth
    offset = np.array([one.offset_m for _, one in rows])
    to_surface = np.where(offset > 0.0, offset, math.nan)
    if sailed.keel_m is not None:
        above_keel = sailed.keel_m + offset
        to_surface = np.where((offset < 0.0) & (above_keel > 0.0), above_keel, to_surface)
    if sailed.transducer_m is not None:
        to_surface = np.where(offset > 0.0, to_surface, sailed.transducer_m)
    unknown = ~np.isfinite(to_surface)
    if unknown.any():
        first = gathered.where(rows[int(np.flatnonzero(unknown)[0])][0])
        raise BadInput(
            first,
            f"{_called(stream)} counts from the transducer",
            "how deep that is under the water nobody told",
            "Give the boat with draught_m in [sounder].",
        )
    return depth + to_surface


def soundings_as_they_come(
    lines: Iterable[bytes | None], told: Told, sailed: Sailed, frame: Frame, *, batch: int = 50
) -> Iterator[DepthsRead]:
    """Soundings of a live feed, reduced, in batches as they can be judged.

    A sounding is judged when as many again have come after it, so that both sides are
    seen; each is given once. A batch of which none is believed is empty and says why.

    Parameters
    ----------
    lines : iterable of bytes
        The feed, a line at a time; see ``lines_of`` for one cut anywhere. None where it
        has fallen quiet: what came is then judged by what was before it alone.
    batch : int
        Depths in a batch. The last ones come when the feed ends.

    Raises
    ------
    BadInput
        As ``read_log``.
    """
    window, fresh = Gathered("feed"), 0
    for number, raw in enumerate(lines, start=1):
        if raw is None:
            window.asked = (window.asked[0], number)
            yield from _judged(window, told, sailed, frame)
            window.asked, fresh = (number, None), 0
            continue
        sentence = sentence_in(raw, number, window.heard, checked=sailed.checked)
        if sentence is None:
            continue
        window.take(sentence)
        fresh += sentence.kind in DEPTHS_IN_ORDER
        if fresh >= 2 * batch:
            until = _line_back(window, batch)
            window.asked = (window.asked[0], until)
            yield from _judged(window, told, sailed, frame)
            window.asked, fresh = (until, None), batch
            window.forget(_line_back(window, 2 * batch))
    window.asked = (window.asked[0], None)
    yield from _judged(window, told, sailed, frame)


def _line_back(window: Gathered, count: int) -> int:
    """The line before that of the depth so many from the last."""
    stream = best(window.depths, DEPTHS_IN_ORDER)
    rows = [] if stream is None else window.depths[stream]
    return rows[-min(count, len(rows))][0] - 1 if rows else 0


def _judged(window: Gathered, told: Told, sailed: Sailed, frame: Frame) -> Iterator[DepthsRead]:
    """The soundings of the window on the lines asked for, if there are any good or bad."""
    tally, none = Tally(), np.empty(0)
    try:
        yield depths_of(window, told, sailed, frame, tally)
    except Unreadable:
        if tally.counts:
            left_out = tally.rows()
            yield DepthsRead(window.name, LOG, none, none, none, none, left_out, "EPSG:4326", None)
    window.tally.counts.clear()
