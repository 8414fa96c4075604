"""Published numbers: which of our functions is asked, and what the page prints."""

from __future__ import annotations

import inspect
import math
import tomllib
from collections.abc import Mapping
from typing import Any

from shorefast.app.verification.calls import Call, Check
from shorefast.app.verification.calls_bay import BAY_CALLS
from shorefast.app.verification.calls_boat import BOAT_CALLS
from shorefast.app.verification.calls_lines import LINE_CALLS
from shorefast.app.verification.calls_loads import LOAD_CALLS
from shorefast.app.verification.calls_weather import WEATHER_CALLS
from shorefast.app.verification.fields import Fields
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import units_of

CALLS: Mapping[str, Call] = {
    **LINE_CALLS,
    **BOAT_CALLS,
    **LOAD_CALLS,
    **WEATHER_CALLS,
    **BAY_CALLS,
}
_KEYS = (
    "case",
    "field",
    "call",
    "arguments",
    "unit",
    "expected",
    "tolerance",
    "source",
    "reason",
)


def read_checks(text: str, name: str) -> tuple[Check, ...]:
    """The checks of one file of published numbers.

    Raises
    ------
    Unreadable
        If it is not TOML.
    BadInput
        If a check lacks something, or asks for what we do not compute.
    """
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise Unreadable(name, f"not TOML ({trouble})", "", "Correct that place.") from None
    return tuple(_check(fields) for fields in Fields(name, whole).objects("check", "check"))


def _check(fields: Fields) -> Check:
    fields.refuse_others(_KEYS)
    called = fields.word("call")
    if called not in CALLS:
        raise BadInput(
            f"{fields.where}, call",
            f"'{called}'",
            "it is not among what can be asked",
            f"Take one of: {', '.join(sorted(CALLS))}.",
        )
    call = CALLS[called]
    return Check(
        name=fields.word("case"),
        field=fields.word("field"),
        call=call,
        arguments=_arguments(fields, call),
        unit=_unit(fields, call),
        expected=fields.number("expected"),
        tolerance=fields.number("tolerance", least=0.0) if fields.has("tolerance") else math.nan,
        source=fields.word("source"),
        reason=fields.word("reason"),
    )


def _arguments(fields: Fields, call: Call) -> dict[str, Any]:
    arguments = dict(fields.inside("arguments").values)
    signature = inspect.signature(call.function)
    try:
        signature.bind(**arguments)
    except TypeError:
        raise BadInput(
            f"{fields.where}, arguments",
            ", ".join(arguments) or "none",
            f"{', '.join(signature.parameters)} wanted",
            "Correct them.",
        ) from None
    return arguments


def _unit(fields: Fields, call: Call) -> str:
    if not call.kind:
        return ""
    known = tuple(unit.name for unit in units_of(call.kind))
    return fields.choice("unit", known) if fields.has("unit") else known[0]
