"""The demonstration's files as our own readers take them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from shorefast.readers.bay_folder import read_bay
from shorefast.readers.boat_file import read_boat
from shorefast.readers.forecast import read_forecast
from shorefast.readers.stay_file import read_stay

SHIPPED = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
SCENARIOS = ("grey_notch", "stone_spur", "tres_sombras")
KNOT_MPS = 1852.0 / 3600.0


# Names, lengths and masses of the scenario's table of boats.
@pytest.mark.parametrize(
    ("scenario", "name", "length_m", "displacement_kg", "chain_m"),
    [
        ("grey_notch", "Salt Thistle", 13.2, 11_500, 80),
        ("stone_spur", "Quill", 11.8, 7_200, 50),
        ("tres_sombras", "Fulmar Gris", 16.0, 24_000, 100),
    ],
)
def test_the_three_yachts_come_aboard_as_told(
    scenario: str, name: str, length_m: float, displacement_kg: float, chain_m: float
) -> None:
    boat = read_boat(SHIPPED / scenario / "boat.toml")
    assert (boat.name, boat.rode_aboard_m) == (name, chain_m)
    assert (boat.hull.length_m, boat.hull.displacement_kg) == (length_m, displacement_kg)


# Bed at the let-go points as printed; in the notch the soundings round off a steep valley.
@pytest.mark.parametrize(
    ("scenario", "place", "printed_m", "within_m"),
    [
        ("grey_notch", (68.0, 110.0), -31.0, 1.0),
        ("grey_notch", (75.0, 152.0), -31.0, 1.0),
        ("grey_notch", (55.2, 55.2), -27.0, 1.5),
        ("stone_spur", (-49.5, 49.5), -15.0, 0.5),
        ("stone_spur", (-51.7, 143.9), -15.6, 0.5),
        ("tres_sombras", (105.0, 0.0), -18.0, 0.5),
    ],
)
def test_the_depth_surface_has_the_bed_where_the_anchor_is_let_go(
    scenario: str, place: tuple[float, float], printed_m: float, within_m: float
) -> None:
    # Ripple of 0.25 m, noise of 0.15 m, and the last digit printed, on slopes of 10 to 24 degrees.
    bay = read_bay(SHIPPED / scenario / "bay")
    assert float(bay.surface.level_at(*place)) == pytest.approx(printed_m, abs=within_m)


def test_grass_bathers_trees_and_the_neighbour_are_on_the_spurs_chart() -> None:
    bay = read_bay(SHIPPED / "stone_spur" / "bay")
    assert {zone.kind for zone in bay.zones} == {"seagrass", "bathing", "no lines", "neighbour"}
    (neighbour,) = (zone for zone in bay.zones if zone.kind == "neighbour")
    # The scenario: calm, 14 m between her side and ours; our hull lies about the bow's line.
    ours_m = 3.9 / 2
    middle = neighbour.shape.centroid
    off_line_m = abs(middle.x + middle.y) / np.sqrt(2.0)
    assert off_line_m - ours_m - 3.3 / 2 == pytest.approx(14.0, abs=0.5)


def test_the_fjords_front_is_read_at_the_nearest_point_of_the_grid() -> None:
    read = read_forecast(SHIPPED / "grey_notch" / "forecast.nc", 47.5, -40.0)
    assert read.wind.member.tolist() == list(range(51))
    # Sharpest gust of the table, 42 kn at 03:00 local; any other grid point has a twentieth more.
    assert read.wind.gust_mps[0].max() == pytest.approx(42 * KNOT_MPS, abs=1e-3)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_stay_of_each_bay_is_read_and_its_wind_and_tide_cover_it(scenario: str) -> None:
    stay = read_stay(SHIPPED / scenario / "stay.toml")
    begun, over = (np.datetime64(f"{at:%Y-%m-%dT%H:%M}") for at in (stay.from_utc, stay.until_utc))
    for series in (stay.wind, stay.water):
        assert series.time_utc[0] <= begun
        assert series.time_utc[-1] >= over
    assert np.isfinite(stay.wind.gust_mps).all()
    assert stay.lie is not None
    assert len(stay.lie.lines) >= 2
