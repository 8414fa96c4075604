"""What every reader of forecasts hands back: the wind at one place, and what was read."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.weather import Wind

# no ten-minute wind over the sea has come near it: more is a mistake of unit or a broken file
MOST_MPS = 120.0


@dataclass(frozen=True)
class LeftOut:
    """What was in the file and not taken, why, and how often."""

    why: str
    count: int


@dataclass(frozen=True)
class ForecastAtPlace:
    """The wind one file gives for one place.

    Attributes
    ----------
    wind : Wind
        At the file's own times; NaN where it does not say.
    place_lat_deg, place_lon_deg : float
        The grid point taken; the place asked for where the file names none.
    distance_m : float
        From the place asked for; NaN where the file names no place.
    kind : str
        "GRIB 1", "GRIB 2", "CF NetCDF", "point forecast JSON", "wind CSV".
    read : mapping
        How many members, times and values were read.
    """

    wind: Wind
    place_lat_deg: float
    place_lon_deg: float
    distance_m: float
    kind: str
    read: Mapping[str, int]
    left_out: tuple[LeftOut, ...] = ()


def counted(wind: Wind) -> dict[str, int]:
    """How many members, times and values a wind holds."""
    known = (np.isfinite(v).sum() for v in (wind.wind_mps, wind.wind_from_rad, wind.gust_mps))
    return {
        "members": len(wind.member),
        "times": len(wind.time_utc),
        "values": int(sum(known)),
    }


def speed_and_from(
    east_mps: NDArray[np.float64], north_mps: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Speed and where it blows from, out of the true east and north components.

    A dead calm is from 0. Unknown where either component is.
    """
    speed = np.hypot(east_mps, north_mps)
    # 0 - x, not -x: a calm must not turn into -0 and so into south
    return speed, np.mod(np.arctan2(0.0 - east_mps, 0.0 - north_mps), 2 * np.pi)


def missing_parts(parts: Container[str]) -> list[str]:
    """What a reader must say when a file holds only part of a wind.

    ``parts`` are those it holds, of "east", "north", "speed", "from" and "gust".
    """
    said = []
    vector = "east" in parts and "north" in parts
    if not vector and "speed" not in parts:
        lone = next((part for part in ("east", "north") if part in parts), None)
        lost = f"only the {lone} component of the wind in it" if lone else "no mean wind in it"
        said.append(f"{lost}; wind and direction are unknown")
    if not vector and "speed" in parts and "from" not in parts:
        said.append("no wind direction in it; the direction is unknown")
    if "gust" not in parts:
        said.append("no gust in it; gusts are unknown")
    return said
