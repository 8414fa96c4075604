"""Units at the door: a number with a unit in, an SI number out, and back.

Inside Shorefast every number is SI and its name ends in its unit. Knots, feet,
degrees and pounds exist only here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

STANDARD_GRAVITY_MPS2 = 9.80665
KNOT_MPS = 1852.0 / 3600.0
FOOT_M = 0.3048
POUND_KG = 0.45359237
YEAR_S = 365.25 * 86400.0

_UNITS: Mapping[str, Mapping[str, float]] = {
    "length": {
        "m": 1.0, "ft": FOOT_M, "fathoms": 6 * FOOT_M, "km": 1e3, "nm": 1852.0,
        "cm": 1e-2, "mm": 1e-3, "in": FOOT_M / 12,
    },
    "area": {"m2": 1.0, "ft2": FOOT_M**2},
    "mass": {"kg": 1.0, "t": 1e3, "lb": POUND_KG},
    "force": {
        "n": 1.0, "kn": 1e3, "kgf": STANDARD_GRAVITY_MPS2,
        "lbf": POUND_KG * STANDARD_GRAVITY_MPS2, "tf": 1e3 * STANDARD_GRAVITY_MPS2,
    },
    "speed": {"mps": 1.0, "kn": KNOT_MPS, "kmh": 1 / 3.6, "mph": 0.44704, "mpmin": 1 / 60},
    "angle": {"rad": 1.0, "deg": math.pi / 180},
    "power": {"w": 1.0, "kw": 1e3, "hp": 745.69987158227022, "ps": 735.49875},
    "time": {"s": 1.0, "minutes": 60.0, "min": 60.0, "h": 3600.0, "hours": 3600.0},
    "age": {"years": 1.0, "months": 1 / 12},
    "turning": {"rpm": 1.0},
    "temperature": {"k": 1.0, "c": 1.0, "f": 5 / 9},
}  # fmt: skip
# where a scale begins that does not begin at nothing
_ZEROS = {("temperature", "c"): 273.15, ("temperature", "f"): 459.67 * 5 / 9}


@dataclass(frozen=True)
class Unit:
    """One unit of one kind: its name in a key, its size in SI, and its zero in SI."""

    kind: str
    name: str
    si: float
    zero_si: float = 0.0


def units_of(kind: str) -> tuple[Unit, ...]:
    """All units taken for a kind of quantity, the SI one first.

    ``age`` counts in years and ``turning`` in revolutions a minute, since no
    sum is done with either; every other kind ends in SI.
    """
    return tuple(
        Unit(kind, name, si, _ZEROS.get((kind, name), 0.0)) for name, si in _UNITS[kind].items()
    )


def to_si(value: float, kind: str, unit: str) -> float:
    """Turn a number in a named unit into SI."""
    return value * _UNITS[kind][unit] + _ZEROS.get((kind, unit), 0.0)


def from_si(value: float, kind: str, unit: str) -> float:
    """Turn an SI number into a named unit."""
    return (value - _ZEROS.get((kind, unit), 0.0)) / _UNITS[kind][unit]


def wrap_rad(angle_rad: float) -> float:
    """A bearing brought into 0 to 2 pi."""
    turn = 2 * math.pi
    wrapped = math.fmod(angle_rad, turn)
    wrapped = wrapped + turn if wrapped < 0 else wrapped
    return 0.0 if wrapped >= turn else wrapped
