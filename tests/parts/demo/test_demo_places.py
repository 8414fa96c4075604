"""Places of the demonstration bays against the scenario's own figures.

Distances and levels are worked out here from the shipped files with a plain
polyline distance and straight lines between the scenario's depths.
"""

from __future__ import annotations

import csv
import json
import math
import tomllib
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from pyproj import Geod
from shapely.geometry import LineString, Point, Polygon

SHIPPED = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
SCENARIOS = ("grey_notch", "stone_spur", "tres_sombras")
STAYS = sorted(SHIPPED.glob("*/stay*.toml"))

# The scenarios' shore lists and bed rules: distance from the shore, depth below datum.
SHORE = {
    "grey_notch": [
        (420, 300), (300, 245), (130, 230), (15, 230), (-8, 190), (-10, 110), (-10, 45),
        (-14, 14), (14, -14), (45, -10), (150, -14), (175, -60),
    ],
    "stone_spur": [
        (-112, -30), (-46, -46), (-28, -28), (28, 28), (34, 60), (24, 116), (13, 242), (-60, 262),
    ],
    "tres_sombras": [(130, 30), (6, 30), (0, 20), (0, -20), (6, -30), (130, -30)],
}  # fmt: skip
BED = {
    "grey_notch": (
        [0, 6, 10, 15, 20, 30, 40, 65, 90, 130],
        [-5.0, -0.5, 2, 4.5, 7, 11.5, 16, 27, 35, 44],
    ),
    "stone_spur": ([0, 5, 10, 20, 35, 50, 70, 85, 120], [0, 1.5, 3, 5, 8, 11, 15, 18, 24]),
    "tres_sombras": ([0, 5, 10, 20, 40, 70, 105, 130], [-1.6, 1.2, 3.4, 6.3, 9.5, 13.5, 18, 22]),
}


def _toml(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _plane(scenario: str, lon: NDArray[np.float64], lat: NDArray[np.float64]) -> Any:
    """Metres east and north by the geodesic from the origin, not by our own frame."""
    bay = _toml(SHIPPED / scenario / "bay" / "bay.toml")
    lon_0, lat_0 = np.full_like(lon, bay["lon_deg"]), np.full_like(lat, bay["lat_deg"])
    azimuth, _, distance = Geod(ellps="WGS84").inv(lon_0, lat_0, lon, lat)
    return distance * np.sin(np.radians(azimuth)), distance * np.cos(np.radians(azimuth))


def _soundings(scenario: str) -> NDArray[np.float64]:
    """East, north, level; shape (3, sounding)."""
    path = SHIPPED / scenario / "bay" / "soundings.csv"
    lon, lat, depth = np.loadtxt(path, delimiter=",", skiprows=1).T.copy()
    return np.array([*_plane(scenario, lon, lat), -depth])


def _rule_level(scenario: str, east_m: float, north_m: float) -> float:
    if scenario == "tres_sombras":
        u = abs(north_m) / 30.0
        middle = -float(np.interp(east_m, *BED[scenario]))
        return middle * (1 - u**4) + 1.6 * u**4
    off = LineString(SHORE[scenario]).distance(Point(east_m, north_m))
    return -float(np.interp(off, *BED[scenario]))


def _let_go(scenario: str, stay: str) -> tuple[float, float]:
    place = _toml(SHIPPED / scenario / f"{stay}.toml")["lie"]["let_go"]
    return place["east_m"], place["north_m"]


# Bed at the let-go points as the scenario prints it.
@pytest.mark.parametrize(
    ("scenario", "stay", "printed_m", "within_m"),
    [
        ("grey_notch", "stay_a", -31.0, 0.5),
        ("grey_notch", "stay_b", -31.0, 0.5),
        ("grey_notch", "stay_d", -27.0, 0.5),
        ("grey_notch", "stay", -27.0, 0.5),
        ("stone_spur", "stay", -15.0, 0.05),
        ("stone_spur", "stay_m", -15.6, 0.05),
        ("tres_sombras", "stay", -18.0, 0.05),
    ],
)
def test_the_anchor_is_let_go_in_the_depth_that_is_told(
    scenario: str, stay: str, printed_m: float, within_m: float
) -> None:
    # Half of the last digit that is printed.
    level = _rule_level(scenario, *_let_go(scenario, stay))
    assert level == pytest.approx(printed_m, abs=within_m)


# "73 m off", "70 m off" in the scenario's table.
@pytest.mark.parametrize(("stay", "printed_m"), [("stay_m", 73.0), ("stay", 70.0)])
def test_behind_the_spur_and_before_the_beach_she_lies_as_far_off_as_told(
    stay: str, printed_m: float
) -> None:
    shore = LineString(SHORE["stone_spur"])
    off = shore.distance(Point(*_let_go("stone_spur", stay)))
    assert off == pytest.approx(printed_m, abs=0.5)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_soundings_are_the_bed_rule_with_ripple_and_small_errors(scenario: str) -> None:
    east, north, level = _soundings(scenario)
    if scenario == "tres_sombras":
        inside = (east > 0.5) & (np.abs(north) < 29.5)
    else:
        spots = zip(east, north, strict=True)
        inside = np.array([_off_the_list(scenario, x, y) for x, y in spots])
    rule = np.array(
        [_rule_level(scenario, *s) for s in zip(east[inside], north[inside], strict=True)]
    )
    ripple = 0.25 * np.sin(east[inside] / 11) * np.sin(north[inside] / 13)
    left = level[inside] - rule - ripple
    # Noise of 0.15 m over some thousand soundings: mean and deviation to a few per cent of it.
    assert abs(np.mean(left)) < 0.015
    assert np.std(left) == pytest.approx(0.15, abs=0.01)
    assert len(left) > 1400


def _off_the_list(scenario: str, east_m: float, north_m: float) -> bool:
    """In the water, and nearer to the shore list than to the coast drawn on past its ends."""
    spot, line = Point(east_m, north_m), LineString(SHORE[scenario])
    land = _land(scenario)
    near_m = line.distance(spot)
    # The file keeps a centimetre.
    return not land.contains(spot) and 0.5 < near_m < land.exterior.distance(spot) + 0.02


@lru_cache
def _land(scenario: str) -> Polygon:
    ring = json.loads((SHIPPED / scenario / "bay" / "shore.geojson").read_text(encoding="utf-8"))
    lon, lat = np.array(ring["features"][0]["geometry"]["coordinates"][0]).T.copy()
    return Polygon(np.column_stack(_plane(scenario, lon, lat)))


def _ashore(scenario: str, east_m: float, north_m: float) -> bool:
    return bool(_land(scenario).contains(Point(east_m, north_m)))


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_shore_runs_through_every_mark_of_the_list_with_water_on_its_left(
    scenario: str,
) -> None:
    marks = SHORE[scenario]
    assert not _ashore(scenario, *_let_go(scenario, "stay"))
    for (x1, y1), (x2, y2) in pairwise(marks):
        length = math.hypot(x2 - x1, y2 - y1)
        left = (-(y2 - y1) / length, (x2 - x1) / length)
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        # A hand's breadth either side: the files keep a centimetre.
        assert _ashore(scenario, middle[0] - 0.1 * left[0], middle[1] - 0.1 * left[1])
        assert not _ashore(scenario, middle[0] + 0.1 * left[0], middle[1] + 0.1 * left[1])


@pytest.mark.parametrize("path", STAYS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_line_of_a_lie_is_aboard_long_enough_and_has_its_cleat_and_point(path: Path) -> None:
    boat, bay = _toml(path.parent / "boat.toml"), _toml(path.parent / "bay" / "bay.toml")
    lie = _toml(path)["lie"]
    aboard = {line["name"]: line["length_m"] for line in boat["line"]}
    used: dict[str, float] = {}
    for line in lie["line"]:
        used[line["line"]] = used.get(line["line"], 0.0) + line["length_m"]
        assert line["cleat"] in {cleat["name"] for cleat in boat["cleat"]}
        assert line["point"] in {point["name"] for point in bay["point"]}
    assert all(length <= aboard[name] for name, length in used.items())
    assert lie["chain_out_m"] <= boat["rode"][0]["length_m"]


# The scenario's table of lines: cut to 0.995 of the distance with midships at (20, 0), bow 090.
def test_the_four_corner_lines_are_cut_from_where_she_lies() -> None:
    folder = SHIPPED / "tres_sombras"
    boat, bay = _toml(folder / "boat.toml"), _toml(folder / "bay" / "bay.toml")
    cleats = {cleat["name"]: cleat for cleat in boat["cleat"]}
    points = {point["name"]: point for point in bay["point"]}
    for line in _toml(folder / "stay_sterns_doubled.toml")["lie"]["line"]:
        cleat, point = cleats[line["cleat"]], points[line["point"]]
        east, north = 20.0 + cleat["x_m"], -cleat["y_m"]
        flat = math.hypot(point["east_m"] - east, point["north_m"] - north)
        assert line["length_m"] == pytest.approx(0.995 * flat, abs=0.06)


# Lengths as printed: 23.0 each, 39.0, 43.2; 20.2 and eased 22.2.
@pytest.mark.parametrize(
    ("scenario", "stay", "printed_m"),
    [
        ("grey_notch", "stay", [23.0, 23.0, 39.0, 43.2]),
        ("grey_notch", "stay_d_breast", [23.0, 23.0, 39.0]),
        ("grey_notch", "stay_b", [23.0, 23.0]),
        ("stone_spur", "stay", [20.2, 20.2]),
        ("stone_spur", "stay_k_eased", [22.2, 22.2]),
        ("tres_sombras", "stay", [20.8, 20.8, 31.4, 31.4, 21.1, 33.0, 33.0]),
    ],
)
def test_the_lines_have_the_lengths_that_are_told(
    scenario: str, stay: str, printed_m: list[float]
) -> None:
    lines = _toml(SHIPPED / scenario / f"{stay}.toml")["lie"]["line"]
    assert [line["length_m"] for line in lines] == printed_m


@pytest.mark.parametrize("path", STAYS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_the_anchor_is_proved_by_pulling_it_toward_the_stern_lines(path: Path) -> None:
    stay, bay = _toml(path), _toml(path.parent / "bay" / "bay.toml")
    points = {point["name"]: point for point in bay["point"]}
    ashore = [points[line["point"]] for line in stay["lie"]["line"][:2]]
    place = stay["lie"]["let_go"]
    east = sum(point["east_m"] for point in ashore) / 2 - place["east_m"]
    north = sum(point["north_m"] for point in ashore) / 2 - place["north_m"]
    toward = math.degrees(math.atan2(east, north)) % 360
    off = (toward - stay["proof"]["toward_deg"] + 180) % 360 - 180
    # The marks are told in tenths of a metre some 70 m away.
    assert abs(off) < 0.5


def test_grass_leaves_the_spurs_anchor_on_sand_and_the_beach_anchor_outside() -> None:
    zones = json.loads((SHIPPED / "stone_spur" / "bay" / "zones.geojson").read_text())
    (grass,) = [f for f in zones["features"] if f["properties"]["kind"] == "seagrass"]
    lon, lat = np.array(grass["geometry"]["coordinates"][0]).T.copy()
    meadow = Polygon(np.column_stack(_plane("stone_spur", lon, lat)))
    assert meadow.distance(Point(*_let_go("stone_spur", "stay"))) > 2.0
    # 73 m off, and the grass ends 67 m off.
    beach_anchor = Point(*_let_go("stone_spur", "stay_m"))
    assert meadow.distance(beach_anchor) == pytest.approx(6.0, abs=0.3)
    # The tongue's middle 40 m off is sand, ten metres to either side of it is grass.
    assert not meadow.contains(Point(-28.3, 28.3))
    assert meadow.contains(Point(-28.3 + 7.1, 28.3 + 7.1))
    assert meadow.contains(Point(-28.3 - 7.1, 28.3 - 7.1))


def test_the_tide_of_every_bay_covers_its_stays() -> None:
    for path in STAYS:
        stay = _toml(path)
        with (path.parent / "tide.csv").open() as file:
            times = [row["time_utc"] for row in csv.DictReader(file)]
        assert times[0] <= stay["from_utc"].strftime("%Y-%m-%dT%H:%M:%SZ")
        assert times[-1] >= stay["until_utc"].strftime("%Y-%m-%dT%H:%M:%SZ")
