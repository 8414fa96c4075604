"""Fenders toward what is near, the tender in the lee, its painter short of the propeller."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

import shorefast
from shorefast.boat import Tender
from shorefast.manoeuvre.alongside import Fenders, fenders, lee_side, side_of, tender_place
from shorefast.readers import read_stay
from shorefast.stay import Neighbour

DEMO = Path(shorefast.__file__).parent / "demo"
NORTH = (0.0, 0.0, 0.0)
EAST_WIND, WEST_WIND = math.radians(90.0), math.radians(270.0)


@pytest.fixture(scope="module")
def stay():
    return read_stay(DEMO / "stone_spur" / "stay_k_day.toml")


def beside(stay, east_m, **more):
    boat = Neighbour("the ketch", east_m, 0.0, 10.0, 3.3, 0.0, 0.0, **more)
    return replace(stay, neighbours=(boat,))


def test_sides_are_told_as_one_stands_looking_forward():
    assert (side_of(EAST_WIND, 0.0), side_of(WEST_WIND, 0.0)) == ("starboard", "port")
    assert side_of(EAST_WIND, math.pi) == "port"


@pytest.mark.parametrize(
    ("from_deg", "side"),
    [(90, "port"), (270, "starboard"), (45, "port"), (5, None), (180, None), (175, None)],
)
def test_the_lee_is_the_side_away_from_the_wind(from_deg, side):
    assert lee_side(math.radians(from_deg), 0.0) == side


def test_a_wind_nobody_knows_has_no_lee():
    assert lee_side(math.nan, 0.0) is None


def test_fenders_go_to_the_lee_where_nobody_is_near(stay):
    assert fenders(stay, NORTH, EAST_WIND) == Fenders(("port",), "lee")
    assert fenders(stay, NORTH, math.nan) == Fenders(("port", "starboard"), "either")


def test_a_neighbour_is_fended_off_whatever_the_wind(stay):
    near = beside(stay, 20.0)
    assert fenders(near, NORTH, EAST_WIND) == Fenders(("starboard",), "neighbour")
    assert fenders(near, NORTH, WEST_WIND) == Fenders(("starboard",), "neighbour")
    both = replace(near, neighbours=near.neighbours + beside(stay, -20.0).neighbours)
    assert fenders(both, NORTH, EAST_WIND).sides == ("port", "starboard")


# Quill is 11.8 m long: two of her lengths are 23.6 m. A neighbour's side at 60 m east, less
# half of her 3.3 m, is 58.35 m off; less Quill's half length 5.9 that leaves 52 m.
def test_a_neighbour_far_off_needs_no_fender_unless_she_swings(stay):
    assert fenders(beside(stay, 60.0), NORTH, EAST_WIND).why == "lee"
    assert fenders(beside(stay, 60.0, scope_m=30.0), NORTH, EAST_WIND).why == "neighbour"


def test_the_tender_lies_in_the_lee_from_the_foremost_cleat(stay):
    boat = replace(stay.boat, tender=Tender(2.9, 1.5, 0.3, -8.0, 0.0))
    found = tender_place(boat, Fenders(("port",), "lee"), EAST_WIND, 0.0)
    assert (found.side, found.cleat, found.lift) == ("port", "port bow", False)
    # bow cleat at 5.2, rudder at -5.0: 10.2 m to the propeller, half of it
    assert found.painter_m == pytest.approx(5.1)


def test_the_tender_never_lies_between_her_and_a_neighbour(stay):
    boat = replace(stay.boat, tender=Tender(2.9, 1.5, 0.3, 0.0, 0.0, on_deck=True))
    found = tender_place(boat, Fenders(("port",), "neighbour"), EAST_WIND, 0.0)
    assert (found.side, found.cleat, found.lift) == ("starboard", "starboard bow", True)


def test_a_boat_without_a_tender_has_none_to_place(stay):
    assert tender_place(stay.boat, Fenders(("port",), "lee"), EAST_WIND, 0.0) is None
