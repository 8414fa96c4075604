"""How much do I ease: what a metre does is what a judgement says, and the least change holds."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from shorefast.mooring import ShoreLine, Spread, moored, relined
from shorefast.readers import read_stay
from shorefast.stay import Ease, Stay, ease, judge
from shorefast.stay.ease_least import Aim
from shorefast.stay.ease_lengths import adjusted, lengths_of, steps_m
from shorefast.stay.ease_solved import Tried, deciding_use, spare_members, unchanged
from shorefast.stay.rigging import rig
from shorefast.wording import ease_words

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


def one_metre(found: Ease, number: int, by_m: float, hour: int = 1):
    return next(
        one for one in found.metres if (one.number, one.by_m, one.at) == (number, by_m, hour)
    )


@pytest.fixture(scope="module")
def found(k_day, k_judged) -> Ease:
    return ease(k_day, k_judged)


@pytest.fixture(scope="module")
def short(k_day) -> Stay:
    """The same with three metres of chain and two of each line less: past her limits."""
    return adjusted(k_day, {0: -3.0, 1: -2.0, 2: -2.0})


@pytest.fixture(scope="module")
def mended(short) -> Ease:
    judged = judge(short)
    assert judged.judgement.verdict in ("no", "leave by")
    return ease(short, judged)


@pytest.fixture(scope="module")
def no_gusts() -> Stay:
    """Her whole ensemble, and a forecast that tells no gusts."""
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    gust = np.full_like(stay.wind.gust_mps, np.nan)
    return replace(stay, wind=replace(stay.wind, gust_mps=gust))


# Tables for trying out are coarser than a judgement's: uses then lie some thousandths apart.
@pytest.mark.parametrize(("number", "by_m"), [(0, 1.0), (0, -1.0), (2, 1.0), (2, -1.0)])
def test_what_a_metre_does_is_the_difference_of_two_judgements(
    k_day, k_judged, found, number, by_m
):
    before, after = k_judged.judgement, judge(adjusted(k_day, {number: by_m})).judgement
    told, hour = one_metre(found, number, by_m), found.hours[1]
    for name, change in zip(found.parts, told.use, strict=True):
        was, now = (
            next(p for p in one.parts if p.name == name).use[:, hour].max()
            for one in (before, after)
        )
        assert change == pytest.approx(now - was, abs=0.01), name
    for name, change in zip(found.rooms, told.room_m, strict=True):
        was, now = (
            next(r for r in one.room if r.of == name).room_m[:, hour].min()
            for one in (before, after)
        )
        assert change == pytest.approx(now - was, abs=0.03), name


def test_veering_eases_the_anchor_and_lets_her_nearer_in(found):
    told, anchor = one_metre(found, 0, 1.0), found.parts.index("anchor")
    rudder = found.rooms.index("water under the rudder")
    assert told.use[anchor] < -0.02 and told.room_m[rudder] < -0.05


def test_the_least_change_is_judged_inside_and_its_halves_are_not(short, mended):
    assert mended.least.kind == "found"
    assert mended.least.after is not None
    after = adjusted(short, dict(enumerate(mended.least.change)))
    assert judge(after).judgement.verdict == "holds"
    for number, by_m in enumerate(mended.least.change):
        if by_m != 0.0:
            less = list(mended.least.change)
            less[number] -= math.copysign(0.5, by_m)
            assert (
                judge(adjusted(short, dict(enumerate(less)))).judgement.greatest_use.max() > 0.985
            )


def test_of_single_lengths_none_does_it_with_fewer_metres(short, mended):
    effort_m = sum(abs(by) for by in mended.least.change) + np.count_nonzero(mended.least.change)
    tried, lengths = Tried(short, judge(short)), lengths_of(short)
    times = np.arange(tried.times)
    for number, length in enumerate(lengths):
        for by_m in (*steps_m(length, 1.0), *steps_m(length, -1.0)):
            if abs(by_m) + 1.0 < effort_m:
                change = list(unchanged(len(lengths)))
                change[number] = by_m
                one = tried.at(tuple(change), times, between=False)
                use = deciding_use(tried.member, one.greatest, one.past, short.accepted_share)
                assert use.max() > 0.99


def test_eased_once_there_is_nothing_left_to_ease(short, mended):
    after = adjusted(short, dict(enumerate(mended.least.change)))
    assert mended.least.after is not None
    again = ease(after, mended.least.after)
    assert again.least.kind == "inside"
    assert ease_words(after, again, mended.least.after.judgement).startswith(
        "She lies inside her limits: nothing has to be changed."
    )


def test_the_same_question_has_the_same_answer_to_the_bit(short, mended):
    again = ease(short, judge(short))
    assert again.least.change == mended.least.change
    for one, other in zip(mended.metres, again.metres, strict=True):
        assert np.array_equal(one.use, other.use, equal_nan=True)
        assert np.array_equal(one.room_m, other.room_m, equal_nan=True)


def test_where_no_length_helps_it_says_so_and_what_stays_past(k_day):
    wind = replace(k_day.wind, gust_mps=3.0 * k_day.wind.gust_mps)
    stay = replace(k_day, wind=wind)
    judged = judge(stay)
    found = ease(stay, judged)
    said = ease_words(stay, found, judged.judgement)
    assert found.least.kind == "none" and found.still_past
    assert said.startswith("No change of lengths that we found brings her inside her limits.")
    assert f"Past its limit still: {', '.join(found.still_past)}." in said


def test_what_nobody_knows_cannot_be_eased(k_day):
    gust = k_day.wind.gust_mps.copy()
    gust[:, 5] = np.nan
    stay = replace(k_day, wind=replace(k_day.wind, gust_mps=gust))
    judged = judge(stay)
    found = ease(stay, judged)
    assert found.least.kind == "unknown" and found.least.after is None
    assert ease_words(stay, found, judged.judgement) == (
        "Unknown: whether she lies inside her limits cannot be told, so no change can be."
    )


def test_no_length_goes_past_what_is_aboard(k_day):
    chain, *lines = lengths_of(k_day)
    assert (chain.now_m, chain.most_m) == (48.0, 50.0)
    assert [line.most_m for line in lines] == [50.0, 50.0]
    assert steps_m(chain, 1.0) == (0.5, 1.0, 1.5, 2.0)


def test_a_doubled_line_goes_by_both_its_parts_together(k_day):
    lie = k_day.lie
    lines = (replace(lie.lines[0], doubled=True), lie.lines[1])
    doubled = replace(k_day, lie=replace(lie, lines=lines))
    length = lengths_of(doubled)[1]
    # 50 m aboard, 40.4 m out in two parts: 4.8 m more in each
    assert (length.parts, length.most_m) == (2, pytest.approx(25.0))
    assert adjusted(doubled, {1: 1.0}).lie.lines[0].length_m == 21.2


def test_two_legs_of_one_line_share_what_is_aboard(k_day):
    lie = k_day.lie
    second = replace(lie.lines[0], point="beach ring south", length_m=25.0)
    both = replace(k_day, lie=replace(lie, lines=(*lie.lines, second)))
    first, _, last = lengths_of(both)[1:]
    assert first.most_m == pytest.approx(25.0) and last.most_m == pytest.approx(29.8)


def test_tables_with_a_line_eased_are_those_made_anew_to_the_bit(k_day):
    rigged, longer = rig(k_day, 0.1), rig(adjusted(k_day, {1: 1.5}), 0.1)
    spread = Spread(0.0, 0.3, 3, 9)
    ready = moored(rigged.scene, rigged.form, rigged.arm_m, rigged.start, spread)
    anew = moored(longer.scene, longer.form, longer.arm_m, rigged.start, spread)
    quick = relined(ready, longer.scene, rigged.start)
    assert isinstance(longer.scene.lines[1], ShoreLine)
    assert not np.array_equal(quick.tables.node, ready.tables.node, equal_nan=True)
    # the same bearings: the fan of a rode is laid about where a solve begins
    if np.array_equal(anew.tables.bearing_rad, quick.tables.bearing_rad):
        assert np.array_equal(quick.tables.node, anew.tables.node, equal_nan=True)
    else:
        rows = slice(int(ready.tables.row_from[1]), None)
        assert np.array_equal(quick.tables.node[:, rows], anew.tables.node[:, rows], equal_nan=True)


def test_the_use_that_decides_is_that_of_the_first_member_too_many():
    member = np.array([0, 0, 1, 2])
    greatest = np.array([[0.5], [1.4], [0.9], [1.2]])
    past = (greatest > 1.0).astype(float)
    # of three members none, one, two may be past: the worst entry of member 0 counts
    for share, expected in ((0.0, 1.4), (0.34, 1.2), (0.67, 0.9)):
        assert deciding_use(member, greatest, past, share)[0] == expected
    assert spare_members(51, 0.05) == 2
    greatest[3] = np.nan
    assert deciding_use(member, greatest, past, 0.0)[0] > 9.0


def test_a_change_that_lets_her_touch_where_she_does_not_now_counts_as_touching():
    member, greatest = np.array([0, 1]), np.array([[0.5, 0.7], [0.6, 0.4]])
    aim = Aim(0.0, np.arange(2), touching=1)
    told = (member, greatest, np.zeros((2, 2)))
    assert aim.decides(*told, touching=1) == 0.7
    assert aim.decides(*told, touching=2) == 9.9


def test_a_gap_between_search_and_judgement_is_closed_and_no_half_metre_is_wasted(no_gusts):
    judged = judge(no_gusts)
    assert judged.judgement.verdict in ("no", "leave by")
    found = ease(no_gusts, judged)
    # ten metres more of both stern lines and two of chain bring her far inside
    generous = adjusted(no_gusts, {0: 2.0, 1: 10.0, 2: 10.0})
    assert judge(generous).judgement.verdict == "holds"
    assert found.least.kind == "found"
    for number, by_m in enumerate(found.least.change):
        if by_m != 0.0:
            less = list(found.least.change)
            less[number] -= math.copysign(0.5, by_m)
            after = judge(adjusted(no_gusts, dict(enumerate(less)))).judgement
            assert after.verdict != "holds"
        assert abs(by_m) <= 10.0


def test_a_metre_is_known_where_she_goes_so_far_that_she_is_judged_all_round(k_day):
    alone = replace(k_day, lie=replace(k_day.lie, lines=()))
    judged = judge(alone)
    assert judged.ready.scene.domain != judged.rigged.scene.domain
    found = ease(alone, judged)
    anchor = found.parts.index("anchor")
    for at, hour in enumerate(found.hours):
        before = judged.judgement.parts[anchor].use[:, hour].max()
        assert found.now[at].use[anchor] == pytest.approx(before, abs=0.01)
        for by_m in (1.0, -1.0):
            after = judge(adjusted(alone, {0: by_m})).judgement.parts[anchor].use[:, hour].max()
            told = one_metre(found, 0, by_m, at).use[anchor]
            assert told == pytest.approx(after - before, abs=0.01)


def _hard(times: float, out_m: float = 48.0) -> Stay:
    """Her whole ensemble with gusts so many times as hard, and so much chain out."""
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    harder = replace(stay.wind, gust_mps=times * stay.wind.gust_mps)
    return replace(stay, wind=harder, lie=replace(stay.lie, chain_out_m=out_m))


def test_with_half_a_metre_left_aboard_a_change_is_sought_all_the_same():
    # 50 m aboard: a metre more is none to try
    stay = _hard(1.3, 49.5)
    judged = judge(stay)
    assert judged.judgement.verdict in ("no", "leave by")
    found = ease(stay, judged)
    for length, by_m in zip(found.lengths, found.least.change, strict=True):
        assert length.least_m <= length.now_m + by_m <= length.most_m


@pytest.mark.parametrize("times", [1.2, 1.4])
def test_times_at_which_nobody_knows_the_wind_do_not_hide_what_gains_at_the_others(times):
    stay = _hard(times)
    judged = judge(stay)
    share = judged.judgement.share_past_limit
    past = np.flatnonzero(share > stay.accepted_share)
    assert past.size and np.isfinite(share).all()
    gust = stay.wind.gust_mps.copy()
    # the forecast ends two steps after the first time past a limit
    after_it = stay.wind.time_utc > judged.judgement.time_utc[past[0]] + np.timedelta64(2, "h")
    gust[:, after_it] = np.nan
    ends = replace(stay, wind=replace(stay.wind, gust_mps=gust))
    judged = judge(ends)
    before = judged.judgement
    known = np.isfinite(before.share_past_limit)
    assert before.verdict in ("no", "leave by") and 0 < known.sum() < known.size
    found = ease(ends, judged)
    assert found.least.after is not None and any(found.least.change)
    # two judgements at the times that are known: more hours inside than as she lies
    after = found.least.after.judgement.share_past_limit[known]
    assert (after > ends.accepted_share).sum() < (
        before.share_past_limit[known] > ends.accepted_share
    ).sum()
    assert found.deciding[1] < found.deciding[0] < 9.0
    said = ease_words(ends, found, before)
    assert "At some times, first at" in said and "is unknown." in said
    if found.least.kind == "unknown":
        assert (after <= ends.accepted_share).all()
        assert "at all other times she then stays inside her limits." in said


# Brute force: every single length alone, every second metre, each judged in full.
def test_where_none_does_it_no_single_length_does_better_than_the_best_told():
    stay = read_stay(DEMO / "grey_notch" / "stay_d.toml")
    found = ease(stay, judge(stay))
    assert found.least.kind == "none"
    best = found.deciding[1]
    for number, length in enumerate(found.lengths):
        for by_m in (-6.0, -2.0, 2.0, 4.0, 6.0, 8.0, 10.0):
            if length.can(by_m):
                after = judge(adjusted(stay, {number: by_m})).judgement
                # what three members of 51 reach at the same time, by sorting
                use = np.sort(after.greatest_use, axis=0)
                at_once = use[-1 - spare_members(len(use), stay.accepted_share)]
                assert at_once.max() > best - 0.02, (length.of, by_m)
