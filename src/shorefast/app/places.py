"""Places as a person types them on the command line."""

from __future__ import annotations

import math

from shorefast.errors import BadInput


def place(text: str, where: str) -> tuple[float, float]:
    """Latitude and longitude in degrees from ``LAT,LON``.

    Parameters
    ----------
    text : str
        As typed ("59.5,5.2").
    where : str
        What it was typed for ("--at").

    Raises
    ------
    BadInput
        If it is not two numbers, or no place on earth.
    """
    lat_deg, lon_deg = _numbers(text, where, ("LAT", "LON"))
    if abs(lat_deg) > 90.0 or abs(lon_deg) > 360.0:
        swapped = abs(lon_deg) <= 90.0 and abs(lat_deg) <= 360.0
        hint = " Latitude comes first: have they changed places?" if swapped else ""
        raise BadInput(
            where,
            f"'{text}' is no place on earth",
            "latitude -90 to 90, longitude -180 to 360",
            f"Give LAT,LON in degrees, south and west negative.{hint}",
        )
    return lat_deg, lon_deg


def course(text: str, where: str) -> tuple[float, float, float, float]:
    """Start, true bearing and length of a line from ``LAT,LON,BEARING_DEG,LENGTH_M``.

    Raises
    ------
    BadInput
        If it is not four numbers, no place on earth, or has no length.
    """
    lat_deg, lon_deg, bearing_deg, length_m = _numbers(
        text, where, ("LAT", "LON", "BEARING_DEG", "LENGTH_M")
    )
    place(f"{lat_deg},{lon_deg}", where)
    if length_m <= 0.0:
        raise BadInput(
            where, f"a line {length_m:g} m long", "more than 0 wanted", "Give its length in metres."
        )
    return lat_deg, lon_deg, bearing_deg, length_m


def _numbers(text: str, where: str, names: tuple[str, ...]) -> list[float]:
    try:
        numbers = [float(part) for part in text.split(",")]
    except ValueError:
        numbers = []
    if len(numbers) != len(names) or not all(math.isfinite(number) for number in numbers):
        example = {"LAT": "59.52", "LON": "5.21", "BEARING_DEG": "225", "LENGTH_M": "80"}
        raise BadInput(
            where,
            f"'{text}'",
            f"{','.join(names)} wanted, with commas and decimal points",
            f"Write it like {','.join(example[name] for name in names)}.",
        )
    return numbers
