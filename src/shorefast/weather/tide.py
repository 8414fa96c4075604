"""The tide from its harmonic constants, and the high and low waters of a curve."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Basis
from shorefast.errors import OutsideModel
from shorefast.weather.series import Floats, Times, WaterLevel

_HOUR_S = 3600.0
_J2000 = np.datetime64("2000-01-01T12:00:00", "s")
_CENTURY_S = 36525.0 * 86400.0
# turns a day of the mean sun, then multiples of s, h, p (moon, sun, moon's perigee), then degrees
_ARGUMENTS: dict[str, tuple[int, int, int, int, float]] = {
    "M2": (2, -2, 2, 0, 0.0), "S2": (2, 0, 0, 0, 0.0), "N2": (2, -3, 2, 1, 0.0),
    "K2": (2, 0, 2, 0, 0.0), "K1": (1, 0, 1, 0, 90.0), "O1": (1, -2, 1, 0, 270.0),
    "P1": (1, 0, -1, 0, 270.0), "Q1": (1, -3, 1, 1, 270.0), "MF": (0, 2, 0, 0, 0.0),
    "MM": (0, 1, 0, -1, 0.0),
}  # fmt: skip
# f as cosines and u as sines of 1, 2, 3 N; first entry of f its mean. Degrees for u.
_NODES: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "M2": ((1.0004, -0.0373, 0.0002), (-2.14,)),
    "K1": ((1.0060, 0.1150, -0.0088, 0.0006), (-8.86, 0.68, -0.07)),
    "O1": ((1.0089, 0.1871, -0.0147, 0.0014), (10.80, -1.34, 0.19)),
    "K2": ((1.0241, 0.2863, 0.0083, -0.0015), (-17.74, 0.68, -0.04)),
}
_SAME_NODE = {"N2": "M2", "Q1": "O1"}
_NO_NODE: tuple[tuple[float, ...], tuple[float, ...]] = ((1.0,), ())


@dataclass(frozen=True)
class TideConstituent:
    """One part of the tide at one place, ready to be summed.

    Attributes
    ----------
    amplitude_m, phase_lag_rad : float
        The place's constants; lag on Greenwich. [m, rad]
    speed_radps : float
        [rad/s]
    node_factor : float
        f, for the year.
    argument_rad : float
        V0 + u at the epoch of the sum. [rad]
    """

    name: str
    amplitude_m: float
    phase_lag_rad: float
    speed_radps: float
    node_factor: float
    argument_rad: float


def _longitudes_deg(at_utc: np.datetime64) -> tuple[float, float, float, float]:
    """Mean longitudes of moon, sun, the moon's perigee and node."""
    T = float((at_utc.astype("datetime64[s]") - _J2000).astype(np.int64)) / _CENTURY_S
    return (
        218.3164 + 481267.8812 * T,
        280.4665 + 36000.7698 * T,
        83.3532 + 4069.0137 * T,
        125.0445 - 1934.1363 * T,
    )


def _node(name: str, node_deg: float) -> tuple[float, float]:
    cosines, sines = _NODES.get(_SAME_NODE.get(name, name), _NO_NODE)
    node_rad = math.radians(node_deg)
    factor = sum(c * math.cos(k * node_rad) for k, c in enumerate(cosines))
    shift = sum(s * math.sin(k * node_rad) for k, s in enumerate(sines, start=1))
    return factor, shift


def constituent(
    name: str,
    amplitude_m: float,
    phase_lag_rad: float,
    epoch_utc: np.datetime64,
    node_utc: np.datetime64,
) -> TideConstituent:
    """A part of the tide with its argument and node factor worked out.

    Parameters
    ----------
    name : str
        M2, S2, N2, K2, K1, O1, P1, Q1, MF or MM.
    epoch_utc : datetime64
        From when the sum counts its time.
    node_utc : datetime64
        When the moon's node is taken; the middle of the year, by custom.

    Raises
    ------
    OutsideModel
        For any other name.

    Source
    ------
    schureman-1958, arguments; node factors from memory, held against printed ones.
    """
    if name not in _ARGUMENTS:
        raise OutsideModel(
            "Tide",
            f"constituent {name}",
            f"worked out here are {', '.join(_ARGUMENTS)}",
            "Give its speed, node factor and argument.",
        )
    turns, *multiples, extra = _ARGUMENTS[name]
    sun_deg = 15.0 * float((epoch_utc - epoch_utc.astype("datetime64[D]")) / np.timedelta64(1, "h"))
    moon_sun_perigee = _longitudes_deg(epoch_utc)[:3]
    V0 = (
        turns * sun_deg
        + extra
        + sum(k * value for k, value in zip(multiples, moon_sun_perigee, strict=True))
    )
    f, u = _node(name, _longitudes_deg(node_utc)[3])
    hour = np.timedelta64(3600, "s")
    later = _longitudes_deg(epoch_utc.astype("datetime64[s]") + 1000 * hour)[:3]
    moved = sum(k * (b - a) for k, a, b in zip(multiples, moon_sun_perigee, later, strict=True))
    speed = math.radians(15.0 * turns + moved / 1000.0) / _HOUR_S
    return TideConstituent(
        name, amplitude_m, phase_lag_rad, speed, f, math.radians((V0 + u) % 360.0)
    )


def tide_from_constants(
    constituents: Sequence[TideConstituent],
    mean_level_m: float,
    epoch_utc: np.datetime64,
    times_utc: Times,
) -> WaterLevel:
    """The tide's height above chart datum; the weather's part is not in it.

    Parameters
    ----------
    mean_level_m : float
        Of the mean water above chart datum. [m]
    epoch_utc : datetime64
        At which the constituents' arguments hold.
    times_utc : datetime64 array, shape (time,)

    Source
    ------
    schureman-1958, h = Z0 + sum f A cos(speed t + V0 + u - g).
    """
    t_s = (np.asarray(times_utc, "datetime64[s]") - epoch_utc.astype("datetime64[s]")).astype(float)
    height = np.full(t_s.shape, mean_level_m)
    for part in constituents:
        angle = part.speed_radps * t_s + part.argument_rad - part.phase_lag_rad
        height += part.node_factor * part.amplitude_m * np.cos(angle)
    return WaterLevel(
        time_utc=np.asarray(times_utc, "datetime64[s]"),
        height_m=height,
        turning=False,
        basis=Basis(sources=("schureman-1958",)),
    )


def high_and_low(water: WaterLevel) -> WaterLevel:
    """High and low waters of heights in a row: a parabola through each turning point.

    Parameters
    ----------
    water : WaterLevel
        Heights at even steps, six minutes or so apart; ``turning`` False.

    Returns
    -------
    WaterLevel
        With ``turning`` True; times to the second.
    """
    height: Floats = water.height_m
    before, here, after = height[:-2], height[1:-1], height[2:]
    at = 1 + np.flatnonzero((here - before) * (after - here) < 0.0)
    bend = height[at - 1] - 2 * height[at] + height[at + 1]
    shift = 0.5 * (height[at - 1] - height[at + 1]) / bend
    step_s = np.diff(water.time_utc).astype(np.int64)[at - 1]
    times = water.time_utc[at] + np.round(shift * step_s).astype("timedelta64[s]")
    turned = height[at] - 0.125 * (height[at - 1] - height[at + 1]) ** 2 / bend
    return WaterLevel(times, turned, turning=True, basis=water.basis)
