"""The water's level from JSON: predicted from a station's constants, or as observed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from shorefast.basis import Assumption, Basis, Finding, Input
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import to_si
from shorefast.readers.tide_foreman import by_table, from_library, table_name
from shorefast.readers.tide_stations import Station, chosen, read_json, stations_of
from shorefast.weather import TideConstituent, WaterLevel, constituent, tide_from_constants

_STEP_S = 360
_MOST_M = 30.0


@dataclass(frozen=True)
class TideAsked:
    """What a stay tells of its tide file, and the hours it asks for.

    Attributes
    ----------
    unit : "m", "ft" or None
        Told only where the file does not say.
    datum : str or None
        Which of the file's datums the bay's depths are charted from.
    mean_level_m : float or None
        Of the mean water above chart datum, where the file names no datums.
    utc_offset_h : float or None
        How far the clock of an observed series is ahead of UTC. [h]
    where : str
        The place in the stay file, for messages.
    """

    from_utc: datetime
    until_utc: datetime
    where: str
    station: str | None = None
    unit: str | None = None
    datum: str | None = None
    mean_level_m: float | None = None
    utc_offset_h: float | None = None


def read_tide_json(path: Path, asked: TideAsked) -> tuple[WaterLevel, bool]:
    """The level over the hours asked for, and whether it was observed rather than predicted.

    Unit, chart datum and clock are read where the file says them and asked for where it
    does not; nothing is guessed from the numbers.

    Raises
    ------
    BadInput
        If station, unit, datum or clock are neither in the file nor told, or do not fit it.
    Unreadable
        If the file is empty, broken, or holds neither constants nor heights.
    """
    tree = read_json(path)
    if isinstance(tree, dict) and isinstance(tree.get("data"), list):
        return _observed(path.name, tree["data"], asked), True
    station = chosen(path.name, stations_of(path.name, tree), asked.station, asked.where)
    return _predicted(path.name, station, asked), False


def _unit(name: str, said: str | None, asked: TideAsked) -> str:
    if said is None and asked.unit is None:
        raise BadInput(
            asked.where,
            f"{name} does not say its unit",
            "metres or feet wanted",
            'Add unit = "m" or unit = "ft".',
        )
    if said is not None and asked.unit is not None and said != asked.unit:
        raise BadInput(
            asked.where,
            f"unit '{asked.unit}'",
            f"{name} itself says {said}",
            "Take the unit out: the file's own counts.",
        )
    return said or asked.unit or ""


def _mean_level(name: str, station: Station, asked: TideAsked, metre: float) -> tuple[float, str]:
    """Mean water above chart datum [m], and how that is known."""
    if asked.mean_level_m is not None:
        return asked.mean_level_m, "told in the stay file"
    datum = asked.datum or station.chart_datum
    known = ", ".join(sorted(station.datums)) or "none"
    if datum is None:
        raise BadInput(
            asked.where,
            f"{name} does not say which of its datums the chart has",
            f"one of {known} wanted",
            'Add datum = "...", or mean_level_m: the mean water above chart datum.',
        )
    lost = [one for one in (datum, "MSL") if one not in station.datums]
    if lost:
        raise BadInput(
            asked.where,
            f"no datum {lost[0]} in {name}",
            f"it has {known}",
            "Name another, or give mean_level_m: the mean water above chart datum.",
        )
    return (station.datums["MSL"] - station.datums[datum]) * metre, f"MSL above {datum}"


def _predicted(name: str, station: Station, asked: TideAsked) -> WaterLevel:
    metre = to_si(1.0, "length", _unit(name, station.unit, asked))
    mean_m, known_by = _mean_level(name, station, asked, metre)
    epoch, times = _hours(asked)
    parts, unknown, sums = _parts(station, metre, epoch)
    water = tide_from_constants(parts, mean_m, epoch, times)
    said = station.names[0] if station.names else "a station without a name"
    table = ", ".join(sorted(unknown))
    found = (Finding(name, f"parts of the tide not known here and left out: {table}"),)
    basis = Basis(
        inputs=(
            Input("tide", f"{said}, {len(parts)} constituents", name),
            Input("mean water", f"{mean_m:.2f} m above chart datum ({known_by})", name),
        ),
        assumptions=(
            Assumption(
                f"The water is the tide alone, predicted from the constants of {said} ({sums})",
                "Weather lifts or lowers it, often by 0.3 m; elsewhere in the fjord it comes later",
            ),
        ),
        findings=found if unknown else (),
    )
    return WaterLevel(times, water.height_m, turning=False, basis=water.basis | basis)


def _hours(asked: TideAsked) -> tuple[np.datetime64, np.ndarray[Any, np.dtype[np.datetime64]]]:
    """The year's beginning, and every six minutes from an hour before to an hour after."""
    first, last = asked.from_utc - timedelta(hours=1), asked.until_utc + timedelta(hours=1)
    ends = [np.datetime64(one.astimezone(UTC).replace(tzinfo=None), "s") for one in (first, last)]
    times = np.arange(ends[0], ends[1] + np.timedelta64(_STEP_S, "s"), np.timedelta64(_STEP_S, "s"))
    return np.datetime64(f"{asked.from_utc.year}-01-01T00:00:00", "s"), times


def _parts(
    station: Station, metre: float, epoch: np.datetime64
) -> tuple[list[TideConstituent], list[str], str]:
    """Every part worked out for the year, those not known, and by whose arguments."""
    middle = epoch + np.timedelta64(183, "D")
    table = by_table([part[0] for part in station.parts])
    found, unknown = [], []
    for name, amplitude, lag_deg in station.parts:
        constants = (amplitude * metre, math.radians(lag_deg))
        if table:
            found.append(constituent(table_name(name), *constants, epoch, middle))
            continue
        part = from_library(name, constants, station.lat_deg, epoch, middle)
        if part is None:
            unknown.append(f"{name} ({constants[0] * 100.0:.1f} cm)")
        else:
            found.append(part)
    return found, unknown, "arguments of the printed table" if table else "arguments by utide"


def _observed(name: str, rows: Sequence[Any], asked: TideAsked) -> WaterLevel:
    """Observed heights, numbers in quotes or not, with the time in ``t``, the height in ``v``."""
    metre = to_si(1.0, "length", _unit(name, None, asked))
    if asked.utc_offset_h is None:
        raise BadInput(
            asked.where,
            f"{name} does not say its clock",
            "its hours ahead of UTC wanted",
            "Add utc_offset_h = 0 where it counts in UTC.",
        )
    if asked.mean_level_m is not None or asked.station is not None:
        raise BadInput(
            asked.where,
            "station or mean_level_m",
            f"{name} holds one row of observed heights",
            "Take them out.",
        )
    if asked.datum is None:
        raise BadInput(
            asked.where,
            f"{name} does not say from which datum it counts",
            "heights above chart datum wanted",
            'Add datum = "..." with the name of chart datum if that is what it counts from.',
        )
    good = [row for row in rows if isinstance(row, dict)]
    times = [_moment(name, row, number) for number, row in enumerate(good, start=1)]
    heights = np.array([_height(name, row, metre, n) for n, row in enumerate(good, start=1)])
    _check_rows(name, times, heights)
    ahead = timedelta(hours=asked.utc_offset_h)
    moved = np.array([one - ahead for one in times], "datetime64[s]")
    lost = int(np.isnan(heights).sum())
    basis = Basis(
        inputs=(Input("tide", f"{len(good)} observed heights above {asked.datum}", name),),
        findings=(Finding(name, f"height unknown in {lost} of {len(good)} rows"),) if lost else (),
    )
    return WaterLevel(moved, heights, turning=False, basis=basis)


def _moment(name: str, row: Mapping[str, Any], number: int) -> datetime:
    try:
        value = datetime.fromisoformat(str(row.get("t")))
    except ValueError:
        raise Unreadable(
            f"{name}, height {number}",
            f"the time '{row.get('t')}'",
            "a time wanted, like 2015-01-31 06:12",
            "Export it again.",
        ) from None
    if value.tzinfo is not None:
        raise Unreadable(
            f"{name}, height {number}",
            f"the time '{row.get('t')}' with a zone of its own",
            "times without one wanted",
            "Export it again, or as CSV.",
        )
    return value


def _height(name: str, row: Mapping[str, Any], metre: float, number: int) -> float:
    text = str(row.get("v", "")).strip()
    if text.lower() in ("", "none", "nan", "null"):
        return math.nan
    try:
        value = float(text) * metre
    except ValueError:
        value = math.inf
    if not abs(value) <= _MOST_M:
        raise Unreadable(
            f"{name}, height {number}", f"'{text}'", "-30 to 30 m wanted", "Export it again."
        )
    return value


def _check_rows(name: str, times: Sequence[datetime], heights: np.ndarray[Any, Any]) -> None:
    if len(times) < 2 or np.isnan(heights).all():
        raise Unreadable(
            name, f"{len(times)} heights", "at least two wanted, one known", "Name another file."
        )
    for number, (before, now) in enumerate(pairwise(times), start=2):
        if now <= before:
            raise Unreadable(
                f"{name}, height {number}",
                f"{now:%Y-%m-%d %H:%M} after {before:%Y-%m-%d %H:%M}",
                "times rise",
                "Export it again.",
            )
