"""The demonstration's forecasts against the scenario's tables."""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path

import netCDF4
import numpy as np
import pytest

SHIPPED = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
KNOT_MPS = 1852.0 / 3600.0


def _rows(scenario: str) -> dict[tuple[str, int], list[tuple[float, float, float]]]:
    """Wind, gust [kn] and direction [deg] by time and member."""
    found: dict[tuple[str, int], list[tuple[float, float, float]]] = defaultdict(list)
    with (SHIPPED / scenario / "wind.csv").open() as file:
        for row in csv.DictReader(file):
            wind, gust = float(row["wind_mps"]) / KNOT_MPS, float(row["gust_mps"]) / KNOT_MPS
            key = (row["time_utc"], int(row["member"]))
            found[key].append((wind, gust, float(row["from_deg"])))
    return found


# The scenario's table, local hour (two hours behind UTC): from, mean, gust.
@pytest.mark.parametrize(
    ("hour_utc", "told"),
    [
        ("2026-07-22T12:00:00Z", (5, 8, 90)),
        ("2026-07-22T19:00:00Z", (17, 22, 315)),
        ("2026-07-22T22:00:00Z", (1, 3, 0)),
        ("2026-07-23T01:00:00Z", (16, 34, 20)),
        ("2026-07-23T08:00:00Z", (5, 7, 90)),
    ],
)
def test_the_first_member_is_the_sea_breeze_and_the_fall_wind_as_told(
    hour_utc: str, told: tuple[float, float, float]
) -> None:
    # Centimetres a second in the file are 0.02 kn.
    assert _rows("stone_spur")[(hour_utc, 0)] == [pytest.approx(told, abs=0.02)]


def test_the_cove_has_five_gusts_an_hour_of_every_member_and_65_knots_at_the_worst() -> None:
    rows = _rows("tres_sombras")
    assert all(len(gusts) == 5 for gusts in rows.values())
    assert {member for _, member in rows} == set(range(21))
    peak = rows[("2026-04-25T11:00:00Z", 0)]
    # The scenario: 65, 60, 55, 40, 30 kn at the peak, rounded there to whole fives and tens.
    assert [gust for _, gust, _ in peak] == pytest.approx([65, 60, 55, 40, 30], abs=0.5)
    assert [side for _, _, side in peak] == pytest.approx([315, 290, 270, 225, 90])
    assert [gust / wind for wind, gust, _ in peak] == pytest.approx([1.6] * 5, abs=0.01)


def test_the_cove_stays_silent_about_no_hour_of_its_two_nights() -> None:
    hours = sorted({hour for hour, _ in _rows("tres_sombras")})
    assert len(hours) == 47
    assert (hours[0], hours[-1]) == ("2026-04-24T22:00:00Z", "2026-04-26T20:00:00Z")


@pytest.mark.parametrize("scenario", ["stone_spur", "tres_sombras"])
def test_no_gust_is_less_than_its_mean_wind(scenario: str) -> None:
    values = np.array([gust for gusts in _rows(scenario).values() for gust in gusts])
    assert np.all(values[:, 1] >= values[:, 0])
    assert np.all((values[:, 2] >= 0) & (values[:, 2] < 360))


def test_the_fjords_forecast_has_51_members_and_the_front_as_told() -> None:
    with netCDF4.Dataset(SHIPPED / "grey_notch" / "forecast.nc") as file:
        x, y = file["x_wind_10m"][:, :, 0, 0], file["y_wind_10m"][:, :, 0, 0]
        gust = file["wind_speed_of_gust"][:, :, 0, 0]
        said = {name: file[name].standard_name for name in file.variables}
        # Nearest to the bay's origin, 47.5 N 40 W.
        assert abs(file["latitude"][0] - 47.5) < abs(file["latitude"][1] - 47.5)
        assert abs(file["longitude"][0] + 40.0) < abs(file["longitude"][1] + 40.0)
    assert x.shape == (18, 51)
    assert (said["x_wind_10m"], said["member"]) == ("x_wind", "realization")
    from_deg = np.degrees(np.arctan2(-x, -y)) % 360
    # 01:00 local is the eighth hour after 17:00: from 205, 21 kn, gust 36; 04:00: 290, 21, 40.
    for step, told in ((8, (205, 21, 36)), (11, (290, 21, 40)), (17, (315, 8, 14))):
        got = (from_deg[step, 0], np.hypot(x, y)[step, 0] / KNOT_MPS, gust[step, 0] / KNOT_MPS)
        assert got == pytest.approx(told, abs=1e-3)
    assert np.all(gust >= np.hypot(x, y))


def test_the_members_are_turned_and_strengthened_as_much_as_is_told() -> None:
    rows = _rows("tres_sombras")
    # Free air stays at 315, so the gully's gust shows each member's turn and gust factor.
    gully = np.array([rows[("2026-04-25T11:00:00Z", member)][0] for member in range(1, 21)])
    turn = (gully[:, 2] - 315 + 180) % 360 - 180
    # Twenty draws spread evenly have 0.96 of the deviation of endlessly many.
    assert np.std(turn) == pytest.approx(12.0, abs=0.7)
    assert np.std(np.log(gully[:, 1] / gully[:, 0])) == pytest.approx(0.06, abs=0.004)
