"""Arguments and node factors of the tide's parts, by the manual's closed forms."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

_J2000 = np.datetime64("2000-01-01T12:00:00", "s")
_CENTURY_S = 36525.0 * 86400.0


class Part(NamedTuple):
    """V: turns a day of the mean sun, multiples of s, h, p, p1, then degrees; whose f and u."""

    turns: int
    moon: int
    sun: int
    perigee: int
    sun_perigee: int
    extra_deg: float
    node: str = ""


# Schureman, table 2; degrees as at midnight, when the mean sun's hour angle is 180
PARTS: dict[str, Part] = {
    "M2": Part(2, -2, 2, 0, 0, 0.0, "M2"), "S2": Part(2, 0, 0, 0, 0, 0.0),
    "N2": Part(2, -3, 2, 1, 0, 0.0, "M2"), "K2": Part(2, 0, 2, 0, 0, 0.0, "K2"),
    "K1": Part(1, 0, 1, 0, 0, 90.0, "K1"), "O1": Part(1, -2, 1, 0, 0, 270.0, "O1"),
    "P1": Part(1, 0, -1, 0, 0, 270.0), "Q1": Part(1, -3, 1, 1, 0, 270.0, "O1"),
    "2N2": Part(2, -4, 2, 2, 0, 0.0, "M2"), "MU2": Part(2, -4, 4, 0, 0, 0.0, "M2"),
    "NU2": Part(2, -3, 4, -1, 0, 0.0, "M2"), "LDA2": Part(2, -1, 0, 1, 0, 180.0, "M2"),
    "L2": Part(2, -1, 2, -1, 0, 180.0, "L2"), "T2": Part(2, 0, -1, 0, 1, 0.0),
    "R2": Part(2, 0, 1, 0, -1, 180.0), "2Q1": Part(1, -4, 1, 2, 0, 270.0, "O1"),
    "RHO1": Part(1, -3, 3, -1, 0, 270.0, "O1"), "M1": Part(1, -1, 1, 0, 0, 90.0, "M1"),
    "J1": Part(1, 1, 1, -1, 0, 90.0, "J1"), "OO1": Part(1, 2, 1, 0, 0, 90.0, "OO1"),
    "S1": Part(1, 0, 0, 0, 0, 180.0), "M3": Part(3, -3, 3, 0, 0, 180.0, "M3"),
    "MF": Part(0, 2, 0, 0, 0, 0.0, "MF"), "MM": Part(0, 1, 0, -1, 0, 0.0, "MM"),
    "MSF": Part(0, 2, -2, 0, 0, 0.0, "MM"), "SA": Part(0, 0, 1, 0, 0, 0.0),
    "SSA": Part(0, 0, 2, 0, 0, 0.0),
}  # fmt: skip
# parts of shallow water, as sums of the others
COMPOUNDS: dict[str, dict[str, int]] = {
    "M4": {"M2": 2}, "M6": {"M2": 3}, "M8": {"M2": 4}, "S4": {"S2": 2}, "S6": {"S2": 3},
    "MN4": {"M2": 1, "N2": 1}, "MS4": {"M2": 1, "S2": 1}, "MK3": {"M2": 1, "K1": 1},
    "2MK3": {"M2": 2, "K1": -1}, "2SM2": {"S2": 2, "M2": -1},
}  # fmt: skip
NAMES = (*PARTS, *COMPOUNDS)


class Moon(NamedTuple):
    """Mean longitudes: moon, sun, moon's perigee, sun's perigee, moon's node. [deg]"""

    moon: float
    sun: float
    perigee: float
    sun_perigee: float
    node: float


def longitudes_deg(at_utc: np.datetime64) -> Moon:
    """Mean longitudes of moon and sun, their perigees, and the moon's node.

    Source
    ------
    schureman-1958, in the newer figures of the ephemeris (from memory).
    """
    T = float((at_utc.astype("datetime64[s]") - _J2000).astype(np.int64)) / _CENTURY_S
    return Moon(
        218.3164 + 481267.8812 * T,
        280.4665 + 36000.7698 * T,
        83.3532 + 4069.0137 * T,
        282.9373 + 1.7195 * T,
        125.0445 - 1934.1363 * T,
    )


class Orbit(NamedTuple):
    """The moon's path on the equator: tilt I, xi, nu, and perigee counted from there. [rad]"""

    tilt: float
    xi: float
    nu: float
    perigee: float


def orbit_of(at: Moon) -> Orbit:
    """How the moon's path lies to the equator.

    Source
    ------
    schureman-1958, table 6 and the formulas beside it (from memory).
    """
    N = math.remainder(math.radians(at.node), 2.0 * math.pi)
    tilt = math.acos(0.91370 - 0.03569 * math.cos(N))
    both = math.atan(1.01883 * math.tan(0.5 * N))
    less = math.atan(0.64412 * math.tan(0.5 * N))
    nu, xi = both - less, N - both - less
    return Orbit(tilt, xi, nu, math.radians(at.perigee) - xi)


def node_of(name: str, orbit: Orbit) -> tuple[float, float]:
    """Node factor f and shift u [rad] of one of the parts in ``Part.node``; 1 and 0 for "".

    Source
    ------
    schureman-1958, eq. 73 to 235 (from memory), held against printed ones.
    """
    sine, half = math.sin(orbit.tilt), 0.5 * orbit.tilt
    if name in ("M2", "M3", "L2"):
        return _of_m2(name, orbit)
    if name in ("K1", "K2"):
        return _with_sun(name, orbit)
    diurnal = sine * math.cos(half) ** 2 / 0.38
    found = {
        "": (1.0, 0.0),
        "O1": (diurnal, 2.0 * orbit.xi - orbit.nu),
        "OO1": (sine * math.sin(half) ** 2 / 0.0164, -2.0 * orbit.xi - orbit.nu),
        "J1": (math.sin(2.0 * orbit.tilt) / 0.7214, -orbit.nu),
        "MF": (sine**2 / 0.1578, -2.0 * orbit.xi),
        "MM": ((2.0 / 3.0 - sine**2) / 0.5021, 0.0),
    }
    if name != "M1":
        return found[name]
    stretched = math.sqrt(2.310 + 1.435 * math.cos(2.0 * orbit.perigee))
    P = orbit.perigee
    turned = math.atan2(0.483 * math.sin(P), math.cos(P))
    return diurnal * stretched, orbit.xi - orbit.nu + turned


def _of_m2(name: str, orbit: Orbit) -> tuple[float, float]:
    f, u = math.cos(0.5 * orbit.tilt) ** 4 / 0.9154, 2.0 * (orbit.xi - orbit.nu)
    if name == "M2":
        return f, u
    if name == "M3":
        return f**1.5, 1.5 * u
    twice, tangent2 = 2.0 * orbit.perigee, math.tan(0.5 * orbit.tilt) ** 2
    share = math.sqrt(1.0 - 12.0 * tangent2 * math.cos(twice) + 36.0 * tangent2**2)
    turned = math.atan2(math.sin(twice), 1.0 / (6.0 * tangent2) - math.cos(twice))
    return f * share, u - turned


def _with_sun(name: str, orbit: Orbit) -> tuple[float, float]:
    """Parts that moon and sun make together."""
    if name == "K1":
        a, turn, solar = math.sin(2.0 * orbit.tilt), orbit.nu, 0.3347
        f2 = 0.8965 * a**2 + 0.6001 * a * math.cos(turn) + 0.1006
    else:
        a, turn, solar = math.sin(orbit.tilt) ** 2, 2.0 * orbit.nu, 0.0727
        f2 = 19.0444 * a**2 + 2.7702 * a * math.cos(turn) + 0.0981
    return math.sqrt(f2), -math.atan2(a * math.sin(turn), a * math.cos(turn) + solar)
