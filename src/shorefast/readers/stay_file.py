"""A stay file: which boat, bay, forecast and tide, which hours, which lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding, Input
from shorefast.errors import BadInput
from shorefast.readers.bay_folder import read_bay
from shorefast.readers.boat_file import read_boat
from shorefast.readers.forecast import read_forecasts
from shorefast.readers.stay_parts import (
    read_current,
    read_lie,
    read_neighbours,
    read_proof,
    read_wash,
    read_waves,
)
from shorefast.readers.stay_people import read_people, read_watch, read_water
from shorefast.readers.stay_tide import TideTold, read_tide_told, water_of
from shorefast.readers.text_file import read_text
from shorefast.readers.toml_file import TomlTable, parse_toml
from shorefast.stay import Current, Person, ProofGiven, Stay, Wash, Waves
from shorefast.weather import WaterLevel, Wind

ACCEPTED_SHARE = 0.05
_LONGEST = timedelta(days=31)
_YEARS = (1900, 2200)
_FROM_HERE = "Correct the path; it counts from the stay file's folder."


@dataclass(frozen=True)
class _Told:
    """All that the stay file itself tells."""

    boat: Path
    bay: Path
    from_utc: datetime
    until_utc: datetime
    accepted_share: float | None
    forecasts: tuple[Path, ...]
    tide: TideTold
    current: Current | None
    proof: ProofGiven | None
    waves: Waves | None
    wash: Wash | None
    people: tuple[Person, ...]
    water_k: float | None
    watch_each_s: float | None


def read_stay(path: Path) -> Stay:
    """Everything a judgement needs, from a stay file and the files it names.

    Paths in it count from its own folder. Whether its parts fit together is for
    ``stay.check``.

    Parameters
    ----------
    path : Path

    Raises
    ------
    BadInput
        If a key is missing, unknown or has a value that cannot be, or a file
        named in it is not there.
    Unreadable
        If it is no TOML, or a file named in it cannot be read.
    """
    table = parse_toml(read_text(path, "a stay file"), path.name)
    told = _told(table, path.parent)
    boat, bay = read_boat(told.boat), read_bay(told.bay)
    lie = read_lie(table, bay.frame)
    neighbours, heard = read_neighbours(table, bay.frame, path.parent)
    table.refuse_unknown()
    _, wind = read_forecasts(told.forecasts, bay.frame.lat_deg, bay.frame.lon_deg)
    water = water_of(told.tide, (told.from_utc, told.until_utc), path.name)
    share = ACCEPTED_SHARE if told.accepted_share is None else told.accepted_share
    return Stay(
        name=bay.name,
        boat=boat,
        bay=bay,
        wind=wind,
        water=water,
        from_utc=told.from_utc,
        until_utc=told.until_utc,
        accepted_share=share,
        proof=told.proof,
        current=told.current,
        lie=lie,
        basis=boat.basis
        | bay.basis
        | wind.basis
        | water.basis
        | _basis(told, share, path.name)
        | Basis(findings=(*heard, *_cover(told, wind, water))),
        waves=told.waves,
        wash=told.wash,
        neighbours=neighbours,
        people=told.people,
        water_k=told.water_k,
        watch_each_s=told.watch_each_s,
    )


def _told(table: TomlTable, folder: Path) -> _Told:
    boat, bay = _file(table, "boat", folder, "a boat file"), _folder(table, "bay", folder)
    from_utc, until_utc = _hours(table)
    return _Told(
        boat=boat,
        bay=bay,
        from_utc=from_utc,
        until_utc=until_utc,
        accepted_share=_share(table),
        forecasts=_forecasts(table, folder),
        tide=read_tide_told(
            table.need_table("tide"),
            lambda tide: _file(tide, "file", folder, "a tide table"),
        ),
        current=read_current(table),
        proof=read_proof(table),
        waves=read_waves(table),
        wash=read_wash(table),
        people=read_people(table),
        water_k=read_water(table),
        watch_each_s=read_watch(table),
    )


def _file(table: TomlTable, key: str, folder: Path, wanted: str) -> Path:
    named = table.need_text(key)
    if not (folder / named).is_file():
        raise BadInput(table.where(key), f"no file '{named}'", f"{wanted} wanted", _FROM_HERE)
    return folder / named


def _folder(table: TomlTable, key: str, folder: Path) -> Path:
    named = table.need_text(key)
    if not (folder / named).is_dir():
        raise BadInput(table.where(key), f"no folder '{named}'", "a bay folder wanted", _FROM_HERE)
    return folder / named


def _hours(table: TomlTable) -> tuple[datetime, datetime]:
    from_utc, until_utc = table.need_moment("from_utc"), table.need_moment("until_utc")
    for key, moment in (("from_utc", from_utc), ("until_utc", until_utc)):
        if not _YEARS[0] <= moment.year <= _YEARS[1]:
            raise BadInput(
                table.where(key),
                f"the year {moment.year}",
                f"{_YEARS[0]} to {_YEARS[1]} wanted",
                "Correct it.",
            )
    if until_utc <= from_utc:
        raise BadInput(
            table.where("until_utc"),
            f"{until_utc:%Y-%m-%d %H:%M} UTC",
            f"the stay begins {from_utc:%Y-%m-%d %H:%M} UTC",
            "Give an end after the beginning.",
        )
    if until_utc - from_utc > _LONGEST:
        raise BadInput(
            table.where("until_utc"),
            f"a stay of {(until_utc - from_utc).days} days",
            f"at most {_LONGEST.days} days wanted",
            "Correct it.",
        )
    return from_utc, until_utc


def _share(table: TomlTable) -> float | None:
    share = table.number("accepted_share")
    if share is not None and not 0.0 <= share < 1.0:
        raise BadInput(
            table.where("accepted_share"),
            f"{share:g}",
            "a share from 0 to less than 1 wanted",
            "Write five members in a hundred as 0.05.",
        )
    return share


def _forecasts(table: TomlTable, folder: Path) -> tuple[Path, ...]:
    forecasts = table.tables("forecast")
    if not forecasts:
        raise BadInput(
            table.where(), "no forecast", "a wind wanted", 'Add [[forecast]] with file = "...".'
        )
    return tuple(_file(forecast, "file", folder, "a forecast") for forecast in forecasts)


def _cover(told: _Told, wind: Wind, water: WaterLevel) -> tuple[Finding, ...]:
    """Says where the forecast or the tide table does not reach over the whole stay."""
    forecast = " and ".join(path.name for path in told.forecasts)
    found = [*_gaps(forecast, "wind", wind.time_utc, told)]
    if told.tide.file is not None:
        found += _gaps(told.tide.file.name, "water level", water.time_utc, told)
    return tuple(found)


def _gaps(
    file: str, what: str, times_utc: NDArray[np.datetime64], told: _Told
) -> Iterator[Finding]:
    first, last = (moment.astype("datetime64[s]").item() for moment in times_utc[[0, -1]])
    first, last = first.replace(tzinfo=UTC), last.replace(tzinfo=UTC)
    if first > told.from_utc:
        said = f"begins {first:%Y-%m-%d %H:%M} UTC, the stay {told.from_utc:%Y-%m-%d %H:%M} UTC"
        yield Finding(file, f"it {said}: the {what} is unknown before")
    if last < told.until_utc:
        said = f"ends {last:%Y-%m-%d %H:%M} UTC, the stay {told.until_utc:%Y-%m-%d %H:%M} UTC"
        yield Finding(file, f"it {said}: the {what} is unknown after")


def _basis(told: _Told, share: float, said_by: str) -> Basis:
    hours = f"{told.from_utc:%Y-%m-%d %H:%M} to {told.until_utc:%Y-%m-%d %H:%M} UTC"
    by = "default" if told.accepted_share is None else said_by
    return Basis(
        inputs=(Input("hours", hours, said_by), Input("accepted share", f"{share:g}", by)),
        assumptions=(
            Assumption(
                f"An hour is past a limit when more than {share * 100:g} % of the members are.",
                "A smaller share makes her leave earlier, a larger one later.",
            ),
        ),
    )
