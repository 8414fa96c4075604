"""The decisions of the three demonstration bays, judged from their shipped files.

Hours and headings beside them are those of the scenarios' own study (an independent
statics program); the decision must come out, the figures need only be near.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from shorefast.readers import read_stay
from shorefast.stay import Judged, Stay, if_one_goes, judge

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@cache
def judged(place: str) -> tuple[Stay, Judged]:
    stay = read_stay(DEMO / f"{place}.toml")
    return stay, judge(stay)


def answer(place: str):
    return judged(place)[1].judgement


def local(day: int, month: int, hour: float) -> datetime:
    """A moment by the clock of the two northern bays, two hours behind UTC."""
    return datetime(2026, month, day, tzinfo=UTC) + timedelta(hours=hour + 2.0)


def test_in_the_notch_with_the_breast_line_doubled_she_can_lie_through_the_front():
    found = answer("grey_notch/stay")
    assert found.verdict == "holds"
    assert found.leave_by_utc is None
    # the study has 1 member of 51 past the proof
    assert np.max(found.share_past_limit) <= 2 / 51 + 1e-9


def test_without_the_breast_line_she_must_be_gone_before_the_front():
    found = answer("grey_notch/stay_d")
    assert found.verdict == "leave by"
    # the north-wester comes on her beam at low water about four in the morning
    assert found.leave_by_utc < local(25, 6, 4.0)
    assert found.first_to_give == "anchor"


@pytest.mark.parametrize("lie", ["stay_a", "stay_b"])
def test_off_the_west_and_the_north_shore_no_night_is_kept(lie):
    found = answer(f"grey_notch/{lie}")
    assert found.verdict in ("leave by", "no")
    assert np.max(found.share_past_limit) > 0.5
    if found.leave_by_utc is not None:
        # the study: both past the proof in the southerly before midnight or in the early night
        assert found.leave_by_utc < local(24, 6, 22.0)


def test_behind_the_spur_she_leaves_before_dark_and_the_fall_wind():
    found = answer("stone_spur/stay")
    assert found.verdict == "leave by"
    # the study's own hour is 19:15
    assert local(22, 7, 18.5) <= found.leave_by_utc <= local(22, 7, 20.5)
    night = (found.time_utc > np.datetime64("2026-07-22T23:00")) & (
        found.time_utc < np.datetime64("2026-07-23T04:00")
    )
    assert np.max(found.share_past_limit[night]) > 0.5


def test_the_middle_of_the_bay_head_is_worse_than_behind_the_spur():
    middle, spur = answer("stone_spur/stay_m"), answer("stone_spur/stay")
    assert middle.verdict in ("leave by", "no")
    assert middle.past_from_utc < spur.past_from_utc
    by_day = spur.time_utc < np.datetime64("2026-07-22T20:00")
    need = [a.rest.lines[0].pull_n[0, by_day].max() for a in (middle, spur)]
    # the study: 3.1 kN against 1.0 by day
    assert need[0] > 2.0 * need[1]


@pytest.mark.parametrize("lie", ["stay_two_stern", "stay_four_single"])
def test_two_stern_lines_or_four_single_ones_do_not_stand_the_fall_winds(lie):
    found = answer(f"tres_sombras/{lie}")
    assert found.verdict in ("leave by", "no")
    assert np.max(found.share_past_limit) > 0.5


def test_on_four_corners_three_of_them_doubled_she_stands_both_nights():
    found = answer("tres_sombras/stay")
    assert found.verdict == "holds"
    assert np.max(found.share_past_limit) == 0.0
    # the study: anchor never above 0.2 kN, most on one leg at use 0.71 [0.89]
    anchor = next(part for part in found.parts if part.kind == "anchor")
    assert np.max(anchor.load_n) < 500.0
    assert 0.5 < np.nanmax(found.greatest_use) < 0.95


def test_with_stern_south_gone_her_bow_swings_about_thirty_degrees_south_and_nothing_follows():
    stay, done = judged("tres_sombras/stay")
    lost = {one.name: one for one in if_one_goes(stay, done)}
    gone = lost["stern-south to stern-south tree"]
    assert gone.found
    # the study: heading about 124 (123 to 125) in its worst hour
    assert math.degrees(gone.heading_rad) == pytest.approx(124.0, abs=6.0)
    assert not gone.breaks
    assert not lost["anchor"].breaks


def test_on_four_single_lines_bow_north_parts_after_stern_north_and_she_goes_ashore():
    stay, done = judged("tres_sombras/stay_four_single")
    lost = {one.name: one for one in if_one_goes(stay, done)}
    gone = lost["stern-north to stern-north tree"]
    # the study: 27.9 [34.4 in the worst of nine runs] of the 30.8 that part it
    assert gone.follows == ("bow-north to bow-north tree",)
    assert gone.breaking_part == "bow-north to bow-north tree"
    assert 27.9 / 30.8 < gone.of_breaking < 34.4 / 30.8
    assert 0.0 < gone.share_followed < 1.0
    # south of her is the shore, thirty metres off at the stern lines' trees
    assert gone.touches is not None
    assert 5.0 < gone.seconds_to_contact < 60.0
