"""What a published check asks of our functions, and what comes back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from shorefast.quantities import from_si


@dataclass(frozen=True)
class Call:
    """A function of named numbers and words, returning an SI number.

    Attributes
    ----------
    function : callable
        Takes the arguments as printed (``diameter_mm``), returns SI.
    kind : str
        Kind of quantity (see ``quantities``); empty for a plain number.
    """

    function: Callable[..., float]
    kind: str = ""


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


def check_got(check: Check) -> float:
    """What our function says, in the printed unit.

    Raises
    ------
    ShorefastError
        If the function has no answer.
    """
    value = check.call.function(**check.arguments)
    return from_si(value, check.call.kind, check.unit) if check.unit else value
