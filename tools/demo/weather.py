"""Members of a forecast made from one table, and the files they are written to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import NormalDist
from typing import Any

import netCDF4
import numpy as np
from numpy.typing import NDArray

from shorefast.quantities import KNOT_MPS

Floats = NDArray[np.float64]
Table = Mapping[str, Any]

# Standard deviations of what sets one member apart from the table.
SHIFT_H, TURN_DEG, WIND_LOG, GUST_LOG = 1.0, 12.0, 0.10, 0.06
STAMP = "%Y-%m-%dT%H:%M:%SZ"


@dataclass(frozen=True)
class Members:
    """Wind in SI; axes (entry, time). Entries of one member number are its gusts of the hour."""

    number: NDArray[np.int64]
    hour: Floats
    wind_mps: Floats
    gust_mps: Floats
    from_deg: Floats


def _even_draws(count: int, draw: np.random.Generator) -> Floats:
    """Normal deviates, shape (count,), spread evenly over their odds and shuffled.

    Fifty plain draws may by luck leave out a whole side; these cannot.
    """
    odds = (np.arange(count) + 0.5) / count
    return draw.permutation(np.array([NormalDist().inv_cdf(float(p)) for p in odds]))


def _doubts(count: int, draw: np.random.Generator) -> Floats:
    """Shape (4, member): shift, turn, wind and gust; the first member is the table itself."""
    return np.array([np.concatenate([[0.0], _even_draws(count - 1, draw)]) for _ in range(4)])


def make_members(table: Table, draw: np.random.Generator) -> Members:
    """The table's wind hour by hour, as every member has it.

    A member sees the table early or late (its ends hold beyond it), turned, and
    with wind and gust by its own factors.
    """
    hour, from_deg, mean_kn, gust_kn = np.array(table["wind"], float).T
    shift, turn, wind, gust = _doubts(table["members"], draw)[:, :, np.newaxis]
    hours = np.arange(hour[0], hour[-1] + 1.0)
    seen = hours - SHIFT_H * shift
    factor = np.exp(WIND_LOG * wind)
    bearing = np.degrees(np.unwrap(np.radians(from_deg)))
    whole = Members(
        np.arange(table["members"]),
        hours,
        KNOT_MPS * factor * np.interp(seen, hour, mean_kn),
        KNOT_MPS * factor * np.exp(GUST_LOG * gust) * np.interp(seen, hour, gust_kn),
        np.interp(seen, hour, bearing) + TURN_DEG * turn,
    )
    return _in_the_cove(whole, table["gusts"]) if "gusts" in table else whole


def _in_the_cove(free: Members, gusts: list[list[float]]) -> Members:
    """Every member's hour as the cove has it: a gust from each of several sides."""
    side_deg, share = np.array(gusts, float).T
    turned = free.from_deg - 315.0
    count = len(share)

    def spread(values: Floats, scale: Floats) -> Floats:
        rows: Floats = (values[:, np.newaxis, :] * scale[:, np.newaxis]).reshape(-1, len(free.hour))
        return rows

    return Members(
        np.repeat(free.number, count),
        free.hour,
        spread(free.wind_mps, share),
        spread(free.gust_mps, share),
        spread(turned, np.ones(count)) + np.tile(side_deg, len(free.number))[:, np.newaxis],
    )


def midnight_utc(table: Table) -> datetime:
    """The first day's local midnight."""
    local = datetime.fromisoformat(table["day"]).replace(tzinfo=UTC)
    return local - timedelta(hours=table["utc_offset_h"])


def at_utc(table: Table, clock: str | float) -> datetime:
    """A local clock time, counted on past midnight ("27:55" is five to four next day)."""
    if isinstance(clock, str):
        hours, minutes = clock.split(":")
        return midnight_utc(table) + timedelta(hours=int(hours), minutes=int(minutes))
    return midnight_utc(table) + timedelta(hours=clock)


def wind_csv(table: Table, members: Members) -> str:
    """The members as rows, hour by hour."""
    rows = ["time_utc,wind_mps,gust_mps,from_deg,member"]
    for column, hour in enumerate(members.hour):
        stamp = at_utc(table, float(hour)).strftime(STAMP)
        for row, number in enumerate(members.number):
            wind, gust = members.wind_mps[row, column], members.gust_mps[row, column]
            bearing = round(members.from_deg[row, column], 1) % 360.0
            rows.append(f"{stamp},{wind:.2f},{gust:.2f},{bearing:.1f},{number}")
    return "\n".join(rows) + "\n"


def tide_csv(table: Table) -> str:
    """High and low waters."""
    rows = [
        f"{at_utc(table, clock).strftime(STAMP)},{height:.2f},{kind}"
        for clock, height, kind in table["tide"]
    ]
    return "time_utc,height_m,kind\n" + "\n".join(rows) + "\n"


_FIELDS = {
    "x_wind_10m": ("x_wind", "Wind along the grid's x axis, 10 m above ground"),
    "y_wind_10m": ("y_wind", "Wind along the grid's y axis, 10 m above ground"),
    "wind_speed_of_gust": ("wind_speed_of_gust", "Gust over 3 s, 10 m above ground"),
}


def write_wind_nc(table: Table, members: Members, path: Path) -> None:
    """The members as a gridded ensemble of two by two points round the place.

    The point nearest to the place has the table's wind; the three others, out on
    open water, a twentieth more, so that the wrong point would show.
    """
    to_rad = np.radians(members.from_deg)
    here = {
        "x_wind_10m": -members.wind_mps * np.sin(to_rad),
        "y_wind_10m": -members.wind_mps * np.cos(to_rad),
        "wind_speed_of_gust": members.gust_mps,
    }
    over_water = np.array([[1.0, 1.05], [1.05, 1.05]])
    # The classic form carries no library version inside, so the bytes stay the same.
    with netCDF4.Dataset(path, "w", format="NETCDF3_64BIT_OFFSET") as file:
        file.setncatts({"Conventions": "CF-1.8", "title": f"Invented forecast, {table['name']}"})
        _write_axes(file, table, members)
        for name, (standard_name, long_name) in _FIELDS.items():
            field = file.createVariable(name, "f4", ("time", "member", "latitude", "longitude"))
            field.setncatts(
                {
                    "standard_name": standard_name,
                    "long_name": long_name,
                    "units": "m s-1",
                    "coordinates": "height",
                    "cell_methods": "time: point",
                }
            )
            field[:] = here[name].T[:, :, np.newaxis, np.newaxis] * over_water


def _write_axes(file: netCDF4.Dataset, table: Table, members: Members) -> None:
    start = at_utc(table, float(members.hour[0]))
    since = start.strftime("hours since %Y-%m-%d %H:%M:%S +00:00")
    lat = table["lat_deg"] + np.array([-0.005, 0.015])
    lon = table["lon_deg"] + np.array([-0.005, 0.020])
    axes: list[tuple[str, Any, dict[str, str]]] = [
        ("time", members.hour - members.hour[0], {"units": since, "calendar": "standard"}),
        ("member", members.number, {"standard_name": "realization", "units": "1"}),
        ("latitude", lat, {"standard_name": "latitude", "units": "degrees_north"}),
        ("longitude", lon, {"standard_name": "longitude", "units": "degrees_east"}),
    ]
    for name, values, said in axes:
        file.createDimension(name, len(values))
        axis = file.createVariable(name, "i4" if name == "member" else "f8", (name,))
        axis.setncatts({"standard_name": name, **said})
        axis[:] = values
    height = file.createVariable("height", "f8", ())
    height.setncatts({"standard_name": "height", "units": "m", "positive": "up"})
    height[...] = 10.0
