"""The predicted tide beside a recorded month, printed extremes and another program.

Constants, datums and heights of Seattle (9447130) are NOAA CO-OPS's (public domain), those of
Bergen Kartverket's (CC-BY-4.0); see tests/files/README.md.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from shorefast.readers import TideAsked, read_tide_json
from shorefast.readers.tide_foreman import from_library
from shorefast.weather import constituent, level_at, tide_from_constants

FILES = Path(__file__).parents[1] / "files" / "tide"
YEAR, MID_YEAR = (np.datetime64(f"2016-{day}T00:00:00", "s") for day in ("01-01", "07-02"))


def asked(begin, end, **told):
    days = [datetime(*day, tzinfo=UTC) for day in (begin, end)]
    return TideAsked(*days, "[tide]", **told)


@pytest.mark.parametrize(
    ("file", "told"),
    [("two_stations.json", {"station": "Seattle", "unit": "m"}),
     ("seattle_in_feet.json", {"datum": "MLLW"})],
)  # fmt: skip
def test_half_a_month_at_seattle_came_as_predicted_but_for_the_weather(file, told):
    told_of_it = {"unit": "m", "utc_offset_h": 0.0, "datum": "MLLW"}
    seen, _ = read_tide_json(
        FILES / "seattle_hourly_201501.json", asked((2015, 1, 1), (2015, 1, 16), **told_of_it)
    )
    tide, _ = read_tide_json(FILES / file, asked((2015, 1, 1), (2015, 1, 16), **told))
    left_m = seen.height_m - level_at(tide, seen.time_utc)
    # The tide ranges over 4.4 m; what is left is weather: it is even and small, and the
    # records of that winter tell of no surge over 0.4 m.
    assert np.ptp(seen.height_m) > 4.0
    assert abs(np.mean(left_m)) < 0.10
    assert np.std(left_m) < 0.10
    assert np.max(np.abs(left_m)) < 0.40
    # no lag: an hour earlier or later leaves many times as much
    for shift in (-1, 1):
        moved = level_at(tide, seen.time_utc + np.timedelta64(shift * 900, "s"))
        assert np.std(seen.height_m - moved) > 1.3 * np.std(left_m)


# Highest and lowest astronomical tide over chart datum as the stations' own tables have them.
@pytest.mark.parametrize(
    ("station", "lowest_m", "highest_m", "within_m"),
    # Seattle's are of 1983 to 2001 and of longer analyses; Bergen's rounded to the centimetre
    [("Seattle", -1.310, 4.035, 0.02), ("Bergen", 0.0, 1.818, 0.01)],
)
def test_nineteen_years_reach_the_printed_highest_and_lowest_tides(
    station, lowest_m, highest_m, within_m
):
    years = [
        read_tide_json(
            FILES / "two_stations.json",
            asked((year, 1, 1), (year + 1, 1, 1), station=station, unit="m"),
        )[0].height_m
        for year in range(2002, 2021)
    ]
    assert min(one.min() for one in years) == pytest.approx(lowest_m, abs=within_m)
    assert max(one.max() for one in years) == pytest.approx(highest_m, abs=within_m)


# utide 0.4: arguments and node corrections by Foreman's satellites, an independent form.
@pytest.mark.parametrize(
    "name", ["M2", "N2", "S2", "K2", "K1", "O1", "M4", "M6", "MS4", "MN4", "MK3"]
)
def test_the_tables_parts_are_the_librarys_within_their_node_corrections(name):
    ours = constituent(name, 1.0, 0.0, YEAR, MID_YEAR)
    theirs = from_library(name, (1.0, 0.0), 45.0, YEAR, MID_YEAR)
    turn = (ours.argument_rad - theirs.argument_rad + math.pi) % (2.0 * math.pi) - math.pi
    # the satellites of the moon's perigee are not in the table's yearly factors
    assert abs(math.degrees(turn)) < 3.0
    assert ours.node_factor == pytest.approx(theirs.node_factor, abs=0.04)
    assert ours.speed_radps == pytest.approx(theirs.speed_radps, rel=1e-6)


def test_a_tide_by_table_and_by_library_differ_by_centimetres():
    constants = {"M2": (1.06, 10.8), "S2": (0.27, 36.8), "K1": (0.83, 277.5), "O1": (0.46, 255.5)}
    times = YEAR + np.arange(0, 366 * 24).astype("timedelta64[h]").astype("timedelta64[s]")
    pairs = [(name, (a, math.radians(g))) for name, (a, g) in constants.items()]
    ours = [constituent(name, *one, YEAR, MID_YEAR) for name, one in pairs]
    theirs = [from_library(name, one, 47.6, YEAR, MID_YEAR) for name, one in pairs]
    one, two = (tide_from_constants(parts, 0.0, YEAR, times).height_m for parts in (ours, theirs))
    assert np.ptp(one) > 4.0
    assert np.max(np.abs(one - two)) < 0.01
