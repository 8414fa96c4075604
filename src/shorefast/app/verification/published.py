"""Published numbers: which of our functions is asked, and what the page prints."""

from __future__ import annotations

import inspect
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shorefast.app.verification.calls import Call
from shorefast.app.verification.calls_bay import BAY_CALLS
from shorefast.app.verification.calls_boat import BOAT_CALLS
from shorefast.app.verification.calls_lines import LINE_CALLS
from shorefast.app.verification.calls_loads import LOAD_CALLS
from shorefast.app.verification.calls_weather import WEATHER_CALLS
from shorefast.errors import BadInput
from shorefast.quantities import from_si, units_of
from shorefast.readers.toml_file import TomlTable, parse_toml

CALLS: Mapping[str, Call] = {
    **LINE_CALLS,
    **BOAT_CALLS,
    **LOAD_CALLS,
    **WEATHER_CALLS,
    **BAY_CALLS,
}


@dataclass(frozen=True)
class Check:
    """One printed number and how to come to it.

    Attributes
    ----------
    name, field : str
        The case and the field of its row.
    call : Call
        What is asked.
    arguments : mapping
        In the printed units, as their names say.
    unit : str
        Unit of the printed number; empty where it has none.
    expected, tolerance : float
        In that unit; tolerance NaN where none is given.
    source, reason : str
        Where it is printed, and why the tolerance is what it is.
    """

    name: str
    field: str
    call: Call
    arguments: Mapping[str, Any]
    unit: str
    expected: float
    tolerance: float
    source: str
    reason: str


def read_checks(text: str, name: str) -> tuple[Check, ...]:
    """The checks of one file of published numbers.

    Raises
    ------
    Unreadable
        If it is not TOML.
    BadInput
        If a check lacks something, or asks for what we do not compute.
    """
    whole = parse_toml(text, name)
    tables = whole.tables("check")
    if not tables:
        raise BadInput(name, "no check in it", "[[check]] wanted", "Add one.")
    checks = tuple(_check(table) for table in tables)
    whole.refuse_unknown()
    return checks


def check_got(check: Check) -> float:
    """What our function says, in the printed unit.

    Raises
    ------
    ShorefastError
        If the function has no answer.
    """
    value = check.call.function(**check.arguments)
    return from_si(value, check.call.kind, check.unit) if check.unit else value


def _check(table: TomlTable) -> Check:
    called = table.need_text("call")
    if called not in CALLS:
        raise BadInput(
            table.where("call"),
            f"'{called}'",
            "it is not among what can be asked",
            f"Take one of: {', '.join(sorted(CALLS))}.",
        )
    call = CALLS[called]
    tolerance = table.number("tolerance")
    return Check(
        name=table.need_text("case"),
        field=table.need_text("field"),
        call=call,
        arguments=_arguments(table, call),
        unit=_unit(table, call),
        expected=_expected(table),
        tolerance=math.nan if tolerance is None else tolerance,
        source=table.need_text("source"),
        reason=table.need_text("reason"),
    )


def _arguments(table: TomlTable, call: Call) -> dict[str, Any]:
    inner = table.need_table("arguments")
    inner.taken.update(inner.values)
    arguments = dict(inner.values)
    signature = inspect.signature(call.function)
    try:
        signature.bind(**arguments)
    except TypeError:
        raise BadInput(
            table.where("arguments"),
            ", ".join(arguments) or "none",
            f"{', '.join(signature.parameters)} wanted",
            "Correct them.",
        ) from None
    return arguments


def _unit(table: TomlTable, call: Call) -> str:
    if not call.kind:
        return ""
    known = tuple(unit.name for unit in units_of(call.kind))
    return table.choice("unit", known) or known[0]


def _expected(table: TomlTable) -> float:
    expected = table.number("expected")
    if expected is None:
        raise BadInput(
            table.where(), "expected is missing", "a number wanted", "Add expected = ..."
        )
    return expected
