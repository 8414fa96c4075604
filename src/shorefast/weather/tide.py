"""The tide from its harmonic constants, and the high and low waters of a curve."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Basis
from shorefast.errors import OutsideModel
from shorefast.weather.series import Floats, Times, WaterLevel
from shorefast.weather.tide_arguments import (
    COMPOUNDS,
    NAMES,
    PARTS,
    Part,
    longitudes_deg,
    node_of,
    orbit_of,
)

_HOUR_S = 3600.0


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
        One of ``tide_arguments.NAMES``, as printed there.
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
    schureman-1958, table 2; node factors by its closed forms, held against printed ones.
    """
    if name in COMPOUNDS:
        return _compound(name, amplitude_m, phase_lag_rad, epoch_utc, node_utc)
    if name not in PARTS:
        raise OutsideModel(
            "Tide",
            f"constituent {name}",
            f"worked out here are {', '.join(NAMES)}",
            "Give its speed, node factor and argument.",
        )
    part = PARTS[name]
    sun_deg = 15.0 * float((epoch_utc - epoch_utc.astype("datetime64[D]")) / np.timedelta64(1, "h"))
    here = longitudes_deg(epoch_utc)[:4]
    V0 = part.turns * sun_deg + part.extra_deg + _turned(part, here)
    later = longitudes_deg(epoch_utc.astype("datetime64[s]") + 1000 * np.timedelta64(3600, "s"))
    # M1's node shift goes round with the perigee: its printed speed holds that
    way = part._replace(perigee=1) if part.node == "M1" else part
    moved = _turned(way, later[:4]) - _turned(way, here)
    speed = math.radians(15.0 * part.turns + moved / 1000.0) / _HOUR_S
    f, u = node_of(part.node, orbit_of(longitudes_deg(node_utc)))
    argument_rad = math.radians((V0 + math.degrees(u)) % 360.0)
    return TideConstituent(name, amplitude_m, phase_lag_rad, speed, f, argument_rad)


def _turned(part: Part, longitudes: Sequence[float]) -> float:
    multiples = (part.moon, part.sun, part.perigee, part.sun_perigee)
    return sum(k * value for k, value in zip(multiples, longitudes, strict=True))


def _compound(
    name: str,
    amplitude_m: float,
    phase_lag_rad: float,
    epoch_utc: np.datetime64,
    node_utc: np.datetime64,
) -> TideConstituent:
    """A part of shallow water: speeds and arguments added, node factors multiplied."""
    speed = argument = 0.0
    f = 1.0
    for one, times in COMPOUNDS[name].items():
        part = constituent(one, 1.0, 0.0, epoch_utc, node_utc)
        speed += times * part.speed_radps
        argument += times * part.argument_rad
        f *= part.node_factor ** abs(times)
    return TideConstituent(name, amplitude_m, phase_lag_rad, speed, f, argument % (2.0 * math.pi))


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
