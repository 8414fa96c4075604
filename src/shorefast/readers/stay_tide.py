"""The ``[tide]`` of a stay file: a table, a station's constants, or one level."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path

import numpy as np

from shorefast.basis import Assumption, Basis, Input
from shorefast.errors import BadInput
from shorefast.readers.tide_csv import read_tide
from shorefast.readers.tide_json import TideAsked, read_tide_json
from shorefast.readers.toml_file import TomlTable
from shorefast.weather import WaterLevel, barometer_basis, barometer_rise_m, with_rise

_PRESSURES_HPA = (850.0, 1090.0)
Hours = tuple[datetime, datetime]
_ONLY_JSON = ("station", "unit", "datum", "mean_level_m", "utc_offset_h")


@dataclass(frozen=True)
class TideTold:
    """All that ``[tide]`` tells: a file or one level, and the weather's part.

    ``asked`` makes of the hours wanted what is asked of a tide file.
    """

    file: Path | None
    level_m: float | None
    asked: partial[TideAsked]
    surge_m: float | None
    pressure_pa: float | None


def read_tide_told(table: TomlTable, file_of: Callable[[TomlTable], Path]) -> TideTold:
    """Read ``[tide]``.

    Raises
    ------
    BadInput
        If neither or both of file and level are given, a key does not fit the kind of
        file, or a value cannot be.
    """
    level_m = table.quantity("level", "length", least=-30.0, most=30.0)
    if table.has("file") == (level_m is not None):
        raise BadInput(
            table.where(),
            "both file and level_m" if table.has("file") else "neither file nor level_m",
            "one of them wanted",
            "Give the file of a tide table, or one level above chart datum.",
        )
    file = file_of(table) if level_m is None else None
    surge_m, pressure_pa = _weather(table, level_m is not None)
    asked = partial(
        TideAsked,
        where=table.where(),
        station=table.text("station"),
        unit=table.choice("unit", ("m", "ft")),
        datum=table.text("datum"),
        mean_level_m=table.quantity("mean_level", "length", least=-30.0, most=30.0),
        utc_offset_h=_ahead_h(table),
    )
    _only_json(table, file)
    return TideTold(file, level_m, asked, surge_m, pressure_pa)


def _ahead_h(table: TomlTable) -> float | None:
    ahead_h = table.number("utc_offset_h")
    if ahead_h is not None and not -14.0 <= ahead_h <= 14.0:
        raise BadInput(
            table.where("utc_offset_h"), f"{ahead_h:g}", "-14 to 14 hours wanted", "Correct it."
        )
    return ahead_h


def _only_json(table: TomlTable, file: Path | None) -> None:
    if file is not None and file.suffix.lower() == ".json":
        return
    for key in _ONLY_JSON:
        if table.has(key):
            raise BadInput(
                table.where(key),
                key,
                "only a JSON file of a tide station has a use for it",
                "Take it out.",
            )


def _weather(table: TomlTable, level: bool) -> tuple[float | None, float | None]:
    """Surge [m] and pressure [Pa]: at most one of them, and none beside one level."""
    surge_m = table.quantity("surge", "length", least=-5.0, most=5.0)
    hpa = table.number("pressure_hpa")
    if hpa is not None and not _PRESSURES_HPA[0] <= hpa <= _PRESSURES_HPA[1]:
        raise BadInput(
            table.where("pressure_hpa"), f"{hpa:g}", "850 to 1090 hPa wanted", "Correct it."
        )
    if surge_m is not None and hpa is not None:
        raise BadInput(
            table.where("pressure_hpa"),
            "both surge and pressure_hpa",
            "one of them wanted",
            "Give the surge if it is forecast: the pressure is part of it.",
        )
    if level and (surge_m is not None or hpa is not None):
        raise BadInput(
            table.where(),
            "one level with surge or pressure",
            "a level told is the whole level",
            "Add the weather's part to it.",
        )
    return surge_m, None if hpa is None else 100.0 * hpa


def water_of(told: TideTold, hours: Hours, said_by: str) -> WaterLevel:
    """The water's level over some hours, the weather's part in it.

    Raises
    ------
    BadInput
        If an observed series is given a surge: it has the weather in it.
    """
    if told.file is None:
        return _one_level(told, hours, said_by)
    if told.file.suffix.lower() != ".json":
        return _with_weather(read_tide(told.file), told, said_by)
    asked = told.asked(*hours)
    water, observed = read_tide_json(told.file, asked)
    if observed and (told.surge_m is not None or told.pressure_pa is not None):
        raise BadInput(
            asked.where,
            "surge or pressure beside observed heights",
            "what was observed has the weather in it",
            "Take them out.",
        )
    return _with_weather(water, told, said_by)


def _with_weather(water: WaterLevel, told: TideTold, said_by: str) -> WaterLevel:
    if told.pressure_pa is not None:
        read = Input("air pressure", f"{told.pressure_pa / 100.0:g} hPa", said_by)
        basis = Basis(inputs=(read,)) | barometer_basis(told.pressure_pa)
        return with_rise(water, barometer_rise_m(told.pressure_pa), basis)
    if told.surge_m is not None:
        basis = Basis(
            inputs=(Input("surge", f"{told.surge_m:+.2f} m on the tide", said_by),),
            assumptions=(
                Assumption(
                    f"The weather moves the water by {told.surge_m:+.2f} m throughout.",
                    "A surge comes and goes within a day.",
                ),
            ),
        )
        return with_rise(water, told.surge_m, basis)
    return water


def _one_level(told: TideTold, hours: Hours, said_by: str) -> WaterLevel:
    level_m = told.level_m if told.level_m is not None else float("nan")
    return WaterLevel(
        time_utc=np.array([f"{end:%Y-%m-%dT%H:%M:%S}" for end in hours], "datetime64[s]"),
        height_m=np.full(2, level_m),
        turning=False,
        basis=Basis(
            inputs=(Input("water level", f"{level_m:g} m above chart datum", said_by),),
            assumptions=(
                Assumption(
                    "The water stays at one level throughout.",
                    "Where it rises or falls, lines tighten or slacken and the room changes.",
                ),
            ),
        ),
    )
