"""Where to let go: the patch tried coarsely, against the full judgement at its edges."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
import shapely

import shorefast
from shorefast.readers import read_stay
from shorefast.stay import judge, where_to_let_go
from shorefast.wording import let_go_words

DEMO = Path(shorefast.__file__).parent / "demo"
QUARTERS = {"farther out": 0.0, "to the right": 0.5, "nearer in": 1.0, "to the left": 1.5}
# patches are drawn straight between places a metre or two apart, hour by hour and on
# coarser tables than a judgement's
BY_M = 1.2


@pytest.fixture(scope="module")
def notch():
    stay = read_stay(DEMO / "grey_notch" / "stay.toml")
    return stay, where_to_let_go(stay, judge(stay))


def moved(stay, side, by_m):
    turn = stay.lie.heading_rad + QUARTERS[side.way] * math.pi
    far_m = side.reach_m + by_m
    east_m = stay.lie.let_go_east_m + far_m * math.sin(turn)
    north_m = stay.lie.let_go_north_m + far_m * math.cos(turn)
    return replace(stay, lie=replace(stay.lie, let_go_east_m=east_m, let_go_north_m=north_m))


def test_inside_the_edges_the_full_judgement_holds_and_outside_it_does_not(notch):
    stay, where = notch
    assert [side.way for side in where.sides] == list(QUARTERS)
    for side in where.sides:
        assert judge(moved(stay, side, -BY_M)).judgement.verdict == "holds", side
        assert judge(moved(stay, side, BY_M)).judgement.verdict != "holds", side


def test_the_planned_place_its_ellipse_and_the_better_aim_lie_in_the_patch(notch):
    stay, where = notch
    planned = shapely.Point(stay.lie.let_go_east_m, stay.lie.let_go_north_m)
    assert where.patch.contains(planned)
    assert where.patch.contains(shapely.Point(where.aim_m))
    assert where.ellipse.area_m2 < where.area_m2 == pytest.approx(where.patch.area)
    assert 0.0 < where.hit_share <= where.aim_share <= 1.0


def test_a_surer_hand_hits_the_patch_more_often(notch):
    stay, where = notch
    surer = where_to_let_go(stay, judge(stay), error_m=1.5)
    assert surer.hit_share > where.hit_share


def test_where_the_lie_does_not_hold_no_patch_is_told():
    stay = read_stay(DEMO / "stone_spur" / "stay_k_night.toml")
    judged = judge(stay)
    assert judged.judgement.verdict == "no"
    where = where_to_let_go(stay, judged)
    assert where.patch.is_empty
    assert where.hit_share == 0.0
    assert let_go_words(stay.lie, where) == (
        "Where to let go: no patch, the lie is not sound as planned.",
    )
