"""What the fields of a sentence say, as numbers; None where they say nothing or nonsense."""

from __future__ import annotations

import math
from datetime import date
from typing import NamedTuple

from shorefast.quantities import FOOT_M, KNOT_MPS
from shorefast.readers.nmea_sentence import Sentence

_FATHOM_M = 6 * FOOT_M
_SIGNS = {b"N": 1.0, b"S": -1.0, b"E": 1.0, b"W": -1.0}
_NONE = b""


class Fix(NamedTuple):
    """A position: seconds of the day, its date if told, place, speed and course, HDOP."""

    day_s: float
    date: int | None
    lat_deg: float
    lon_deg: float
    speed_mps: float
    course_rad: float
    hdop: float
    step_deg: float


class Depth(NamedTuple):
    """A depth, and what it counts from: "surface", "transducer" with the offset if told. [m]"""

    depth_m: float
    counted_from: str
    offset_m: float


def number(text: bytes) -> float:
    """A plain decimal number, NaN for anything else."""
    plain = text[1:] if text[:1] in (b"+", b"-") else text
    return float(text) if plain.replace(b".", b"", 1).isdigit() and len(plain) < 16 else math.nan


def _at(sentence: Sentence, place: int) -> bytes:
    return sentence.fields[place] if place < len(sentence.fields) else _NONE


def seconds_of_day(text: bytes) -> float:
    """``hhmmss.ss`` as seconds, NaN if it is no time; a leap second counts as the next."""
    if not text[:6].isdigit() or len(text) < 6 or text[6:7] not in (_NONE, b"."):
        return math.nan
    hours, minutes, seconds = int(text[:2]), int(text[2:4]), number(text[4:])
    if hours > 23 or minutes > 59 or not seconds < 61.0:
        return math.nan
    return hours * 3600.0 + minutes * 60.0 + seconds


def day_of(text: bytes) -> int | None:
    """``ddmmyy`` as a day's number; 80 to 99 are of the last century."""
    if len(text) != 6 or not text.isdigit():
        return None
    year = int(text[4:])
    return _day(year + (1900 if year >= 80 else 2000), int(text[2:4]), int(text[:2]))


def _day(year: int, month: int, day: int) -> int | None:
    try:
        return date(year, month, day).toordinal()
    except ValueError:
        return None


def _degrees(text: bytes, side: bytes, sides: bytes, most: float) -> float:
    """``dddmm.mmm`` and its letter as degrees, NaN if it is no place."""
    value = number(text)
    if len(side) != 1 or side not in sides or not value >= 0.0 or text[:1] in (b"+", b"-"):
        return math.nan
    whole = value // 100.0
    minutes = value - 100.0 * whole
    degrees = whole + minutes / 60.0
    return _SIGNS[side] * degrees if minutes < 60.0 and degrees <= most else math.nan


def _step(text: bytes) -> float:
    """What the last digit of a latitude is worth. [deg]"""
    return 10.0 ** -len(text.partition(b".")[2]) / 60.0


def _place(sentence: Sentence, first: int) -> tuple[float, float, float]:
    lat = _degrees(_at(sentence, first), _at(sentence, first + 1), b"NS", 90.0)
    lon = _degrees(_at(sentence, first + 2), _at(sentence, first + 3), b"EW", 180.0)
    return lat, lon, _step(_at(sentence, first))


def _bearing(text: bytes) -> float:
    value = number(text)
    return math.radians(value) if 0.0 <= value <= 360.0 else math.nan


def _signed(text: bytes, side: bytes) -> float:
    """An angle east (plus) or west of something, NaN where unsaid. [rad]"""
    value = number(text)
    if side not in (b"E", b"W") or not 0.0 <= value <= 180.0:
        return math.nan
    return math.radians(_SIGNS[side] * value)


def fix_of(sentence: Sentence) -> tuple[Fix | None, str]:
    """The position of an RMC, GGA or GLL, or why there is none.

    Source
    ------
    nmea-0183, RMC, GGA, GLL (from memory).
    """
    found = _FIXES[sentence.kind](sentence)
    if found is None:
        return None, "the receiver says it has no fix"
    if not (math.isfinite(found.lat_deg) and math.isfinite(found.lon_deg)):
        return None, "no position in the sentence"
    if not math.isfinite(found.day_s):
        return None, "no time in the sentence"
    return found, ""


def _rmc(sentence: Sentence) -> Fix | None:
    if _at(sentence, 1) != b"A" or _at(sentence, 11)[:1] in (b"N", b"E", b"S", b"M"):
        return None
    speed = number(_at(sentence, 6)) * KNOT_MPS
    when, day = seconds_of_day(_at(sentence, 0)), day_of(_at(sentence, 8))
    return Fix(
        when, day, *_place(sentence, 2)[:2], speed, _bearing(_at(sentence, 7)), math.nan,
        _step(_at(sentence, 2)),
    )  # fmt: skip


def _gga(sentence: Sentence) -> Fix | None:
    # 0 no fix, 6 dead reckoning, 7 by hand, 8 simulator
    if _at(sentence, 5) not in (b"1", b"2", b"3", b"4", b"5", b"9"):
        return None
    lat, lon, step = _place(sentence, 1)
    when, hdop = seconds_of_day(_at(sentence, 0)), number(_at(sentence, 7))
    return Fix(when, None, lat, lon, math.nan, math.nan, hdop, step)


def _gll(sentence: Sentence) -> Fix | None:
    if _at(sentence, 5) != b"A" or _at(sentence, 6)[:1] in (b"N", b"E", b"S", b"M"):
        return None
    lat, lon, step = _place(sentence, 0)
    return Fix(seconds_of_day(_at(sentence, 4)), None, lat, lon, math.nan, math.nan, math.nan, step)


_FIXES = {b"RMC": _rmc, b"GGA": _gga, b"GLL": _gll}


def dated(sentence: Sentence) -> tuple[float, int] | None:
    """Seconds of the day and its date from a ZDA that has both."""
    day, month, year = (number(_at(sentence, place)) for place in (1, 2, 3))
    when = seconds_of_day(_at(sentence, 0))
    if not all(math.isfinite(one) for one in (day, month, year, when)) or year < 1980:
        return None
    found = _day(int(year), int(month), int(day)) if year < 2100 else None
    return None if found is None else (when, found)


def depth_of(sentence: Sentence) -> Depth | None:
    """The depth of a DPT, DBT or DBS; metres if given, else feet or fathoms.

    Source
    ------
    nmea-0183, DPT (offset plus: to the waterline, minus: to the keel), DBT, DBS
    (from memory).
    """
    if sentence.kind == b"DPT":
        return _known(number(_at(sentence, 0)), "transducer", number(_at(sentence, 1)))
    return _known(
        _by_unit(sentence),
        "surface" if sentence.kind == b"DBS" else "transducer",
        math.nan,
    )


def _known(depth_m: float, counted_from: str, offset_m: float) -> Depth | None:
    return Depth(depth_m, counted_from, offset_m) if math.isfinite(depth_m) else None


def _by_unit(sentence: Sentence) -> float:
    for place, letter, size_m in ((2, b"M", 1.0), (0, b"f", FOOT_M), (4, b"F", _FATHOM_M)):
        value = number(_at(sentence, place))
        if math.isfinite(value) and _at(sentence, place + 1) == letter:
            return value * size_m
    return math.nan


def heading_of(sentence: Sentence) -> tuple[float, float]:
    """Heading and what must be added to make it true (NaN where unsaid). [rad]

    Source
    ------
    nmea-0183, HDT, HDG (variation and deviation, east plus), HDM (from memory).
    """
    heading = _bearing(_at(sentence, 0))
    if sentence.kind == b"HDT":
        return heading, 0.0
    if sentence.kind == b"HDM":
        return heading, math.nan
    deviation = _signed(_at(sentence, 1), _at(sentence, 2))
    deviation = 0.0 if math.isnan(deviation) else deviation
    return heading + deviation, _signed(_at(sentence, 3), _at(sentence, 4))


def variation_of(sentence: Sentence) -> float:
    """Magnetic variation an RMC tells, east plus, NaN where it does not. [rad]"""
    return _signed(_at(sentence, 9), _at(sentence, 10))


def course_of(sentence: Sentence) -> tuple[float, float]:
    """True course and speed over the ground of a VTG. [rad, m/s]"""
    true = _bearing(_at(sentence, 0)) if _at(sentence, 1) == b"T" else math.nan
    return true, number(_at(sentence, 4)) * KNOT_MPS
