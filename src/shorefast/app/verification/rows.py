"""One line of the verification: what came out beside what should have."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Value = float | bool | str | None


@dataclass(frozen=True)
class Row:
    """One field of one case.

    Attributes
    ----------
    file, case, field : str
        Where it stands; units, signs and names are the case file's.
    got, expected : number, truth, word or None
        None: unknown, or nothing was expected.
    tolerance : float or None
        Largest difference that passes, in the field's unit.
    passed : bool or None
        None where there is nothing to hold it against.
    source : str
        Where the expected value comes from.
    """

    file: str
    case: str
    field: str
    got: Value
    expected: Value
    tolerance: float | None
    passed: bool | None
    source: str

    @property
    def keys(self) -> dict[str, Any]:
        """The row as the JSON answer has it."""
        return {
            "file": self.file,
            "case": self.case,
            "field": self.field,
            "got": self.got,
            "expected": self.expected,
            "tolerance": self.tolerance,
            "pass": self.passed,
            "source": self.source,
        }


@dataclass(frozen=True)
class Wanted:
    """What a case expects, by field, and how near is near enough."""

    values: Mapping[str, Value]
    tolerances: Mapping[str, float]


@dataclass(frozen=True)
class Place:
    """Which file and case the rows belong to, and what the expected values rest on."""

    file: str
    case: str
    source: str


def rows_of(place: Place, got: Mapping[str, Value], wanted: Wanted) -> tuple[Row, ...]:
    """A row for every field that was computed, in that order."""
    return tuple(
        _row(place, field, known(value), wanted.values.get(field), wanted.tolerances.get(field))
        for field, value in got.items()
    )


def known(value: Value) -> Value:
    """The value, or None where it is not a number."""
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def _row(place: Place, field: str, got: Value, expected: Value, tolerance: float | None) -> Row:
    if isinstance(expected, str | bool):
        tolerance = 0.0
    passed = _passes(field, got, expected, tolerance)
    return Row(place.file, place.case, field, got, expected, tolerance, passed, place.source)


def _passes(field: str, got: Value, expected: Value, tolerance: float | None) -> bool | None:
    if expected is None:
        return None
    if isinstance(expected, str | bool):
        return got == expected
    if got is None:
        return False
    if tolerance is None:
        return None
    return _distance(field, float(got), expected) <= tolerance


def _distance(field: str, got: float, expected: float) -> float:
    """How far apart; headings compare round the circle."""
    gap = abs(got - expected)
    if field.rsplit("/", 1)[-1] != "heading_deg":
        return gap
    return abs((gap + 180.0) % 360.0 - 180.0)
