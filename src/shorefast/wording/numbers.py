"""How a number is said: unit, digits, and the word for what nobody knows."""

from __future__ import annotations

import math

from shorefast.quantities import from_si, wrap_rad

UNKNOWN = "unknown"
_POINTS = (
    "north", "north-east", "east", "south-east",
    "south", "south-west", "west", "north-west",
)  # fmt: skip


def kilograms(force_n: float) -> str:
    """A force as kilograms of pull, two digits known: ``260 kg``."""
    return _said(from_si(force_n, "force", "kgf"), "kg")


def knots(speed_mps: float) -> str:
    """A speed in whole knots: ``21 kn``."""
    if not math.isfinite(speed_mps):
        return UNKNOWN
    return f"{_whole(from_si(speed_mps, 'speed', 'kn'))} kn"


def metres(length_m: float) -> str:
    """A length: tenths up to ten metres, whole metres beyond: ``3.2 m``, ``64 m``."""
    if not math.isfinite(length_m):
        return UNKNOWN
    tenths = round(length_m, 1) + 0.0
    return f"{tenths:.1f} m" if abs(tenths) < 10.0 else f"{_whole(length_m)} m"


def to_flake_m(length_m: float) -> int:
    """A known length to flake in whole metres, never less; what sums leave over is no metre. [m]"""
    return math.ceil(length_m - 1e-6)


def bearing(angle_rad: float) -> str:
    """A true bearing in three figures: ``045``."""
    if not math.isfinite(angle_rad):
        return UNKNOWN
    return f"{_whole(from_si(wrap_rad(angle_rad), 'angle', 'deg')) % 360:03d}"


def compass(angle_rad: float) -> str:
    """The nearest of eight points of the compass: ``south-west``."""
    if not math.isfinite(angle_rad):
        return UNKNOWN
    return _POINTS[_whole(wrap_rad(angle_rad) / (math.pi / 4)) % 8]


def degrees(angle_rad: float) -> str:
    """An angle in whole degrees: ``12 degrees``."""
    if not math.isfinite(angle_rad):
        return UNKNOWN
    number = _whole(from_si(angle_rad, "angle", "deg"))
    return f"{number} degree" if abs(number) == 1 else f"{number} degrees"


def from_vertical(angle_below_horizontal_rad: float) -> str:
    """The chain's angle as it is seen: 0 is up and down."""
    if not math.isfinite(angle_below_horizontal_rad):
        return UNKNOWN
    return f"{degrees(math.pi / 2 - angle_below_horizontal_rad)} from the vertical"


_CUT_OFF = 9.9


def use_words(use: float) -> str:
    """A use as a share of one, two decimals: ``0.70``; infinite where she touches.

    From 9.9 on, where uses of room are cut off, ``over 9``.
    """
    if use == math.inf:
        return "may touch"
    if use >= _CUT_OFF:
        return "over 9"
    return f"{use:.2f}" if math.isfinite(use) else UNKNOWN


def duration(time_s: float) -> str:
    """A span of time as it is called out: ``15 s``, ``4 min``, ``2 h 30 min``."""
    if not math.isfinite(time_s):
        return UNKNOWN
    if time_s < 90.0:
        return f"{_whole(time_s)} s"
    hours, minutes = divmod(_whole(time_s / 60.0), 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def celsius(temperature_k: float | None) -> str:
    """A temperature in whole degrees: ``12 C``."""
    if temperature_k is None or not math.isfinite(temperature_k):
        return UNKNOWN
    return f"{_whole(from_si(temperature_k, 'temperature', 'c'))} C"


def position(lat_deg: float, lon_deg: float) -> str:
    """A place on the chart in degrees and minutes: ``47 30.000 N 040 00.000 W``."""
    if not (math.isfinite(lat_deg) and math.isfinite(lon_deg)):
        return UNKNOWN
    east = (lon_deg + 180.0) % 360.0 - 180.0
    lat = _degrees_minutes(abs(lat_deg), 2, "S" if lat_deg < 0 else "N")
    return f"{lat} {_degrees_minutes(abs(east), 3, 'W' if east < 0 else 'E')}"


def _degrees_minutes(angle_deg: float, width: int, side: str) -> str:
    whole, thousandths = divmod(round(angle_deg * 60_000), 60_000)
    return f"{whole:0{width}d} {thousandths / 1000:06.3f} {side}"


def _whole(value: float) -> int:
    """The nearest whole number, halves away from zero as people round."""
    return int(math.copysign(math.floor(abs(value) + 0.5), value))


def _said(value: float, unit: str) -> str:
    if not math.isfinite(value):
        return UNKNOWN
    if abs(value) < 10.0:
        return f"{_whole(value)} {unit}"
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 1)
    return f"{_whole(value / step) * step:.0f} {unit}"
