"""With only some lines fast she lies where the exact solver lays her, and has that room."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.mooring import AIR_KGPM3, Load, solve_rest
from shorefast.readers import read_stay
from shorefast.stay import judge, part_rigged
from shorefast.stay.room import room_of

DEMO = Path(shorefast.__file__).parent / "demo"


@pytest.fixture(scope="module")
def notch():
    stay = read_stay(DEMO / "grey_notch" / "stay.toml")
    stay = replace(stay, until_utc=stay.from_utc + timedelta(hours=1))
    return stay, judge(stay)


def test_with_every_line_fast_nothing_moves(notch):
    stay, judged = notch
    (found,) = part_rigged(stay, judged, [(0, 1, 2, 3)])
    rest = judged.judgement.rest
    assert found.q[:, 0] == pytest.approx(rest.east_m[:, 0], abs=0.01)
    assert found.q[:, 1] == pytest.approx(rest.north_m[:, 0], abs=0.01)
    assert np.nanmax(found.set_m) < 0.02


# The exact path: no tables, every line solved anew at each step, from the same start.
@pytest.mark.parametrize("fast", [(1,), (0, 1), (1, 2)])
def test_she_lies_where_the_exact_solver_lays_her(notch, fast):
    stay, judged = notch
    (found,) = part_rigged(stay, judged, [fast])
    answer, rigged = judged.judgement, judged.rigged
    rest = answer.rest
    for entry in (0, 7, 30):
        wind = float(answer.gust_mps[entry, 0]) * rigged.height_share
        load = Load(0.0, 0.0, 0.0, wind, float(answer.wind_from_rad[entry, 0]), AIR_KGPM3)
        start = tuple(
            float(column[entry, 0]) for column in (rest.east_m, rest.north_m, rest.heading_rad)
        )
        lines = (True, *(line in fast for line in range(4)))
        level_m = float(np.broadcast_to(answer.water_level_m, answer.gust_mps.shape)[entry, 0])
        exact = solve_rest(rigged.scene, load, level_m, start, lines, rigged.arm_m)
        assert exact.why == "found"
        # tables are good to a few centimetres of place where little force holds her
        assert found.q[entry, 0] == pytest.approx(exact.east_m, abs=0.1)
        assert found.q[entry, 1] == pytest.approx(exact.north_m, abs=0.1)


def test_how_far_her_ends_are_set_is_measured_from_where_she_is_to_lie(notch):
    stay, judged = notch
    (found,) = part_rigged(stay, judged, [(0,)])
    rest, half_m = judged.judgement.rest, 0.5 * stay.boat.hull.length_m
    before = (rest.east_m[3, 0], rest.north_m[3, 0], rest.heading_rad[3, 0])

    def ends(q):
        return [
            (q[0] + sign * half_m * math.sin(q[2]), q[1] + sign * half_m * math.cos(q[2]))
            for sign in (1.0, -1.0)
        ]

    farther = max(math.dist(*pair) for pair in zip(ends(found.q[3]), ends(before), strict=True))
    assert found.set_m[3] == pytest.approx(farther, abs=1e-6)


def test_the_room_to_spare_is_the_least_of_all_rooms_less_what_is_wanted(notch):
    stay, judged = notch
    (found,) = part_rigged(stay, judged, [(1,)])
    level_m = np.broadcast_to(judged.judgement.water_level_m, judged.judgement.gust_mps.shape)
    rooms = room_of(stay, found.q[:, None], level_m[:, :1], 0.0, between=False)
    spare = np.min([room.room_m[:, 0] - room.least_wanted_m for room in rooms], axis=0)
    # less the sea of that hour, some centimetres in the notch
    assert np.all(found.to_spare_m <= spare + 1e-9)
    assert found.to_spare_m == pytest.approx(spare, abs=0.3)
    assert set(found.of) <= {room.of for room in rooms}


def test_sets_asked_together_are_what_they_are_alone(notch):
    stay, judged = notch
    together = part_rigged(stay, judged, [(0,), (1,), ()])
    for one in together:
        (alone,) = part_rigged(stay, judged, [one.fast])
        assert np.array_equal(alone.q, one.q, equal_nan=True)
        assert np.array_equal(alone.to_spare_m, one.to_spare_m, equal_nan=True)


def test_where_she_goes_onto_what_nobody_sounded_is_unknown():
    stay = read_stay(DEMO / "tres_sombras" / "stay_two_stern.toml")
    stay = replace(stay, until_utc=stay.from_utc + timedelta(hours=1))
    (found,) = part_rigged(stay, judge(stay), [()])
    unknown = np.isnan(found.to_spare_m)
    assert unknown.any()
    assert all(found.of[entry] == "" for entry in np.flatnonzero(unknown))
