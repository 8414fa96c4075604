"""Asking the chain, and what was proved: the sums behind need, proof and reading."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.errors import BadInput
from shorefast.mooring import AIR_KGPM3, rode_at_pull, wind_force
from shorefast.stay import ask_the_chain, chain_shapes, if_one_goes, judge, need_and_proof
from shorefast.stay.ease_lengths import adjusted
from shorefast.stay.rigging import bed_under_rode


@pytest.mark.parametrize("pull_n", [150.0, 400.0, 800.0])
def test_the_angle_a_pull_gives_tells_that_pull_again(k_day, k_judged, pull_n):
    rode = k_judged.rigged.rode
    level_m = float(k_judged.judgement.water_level_m[0, 0])
    bed = bed_under_rode(k_day, k_day.proof.toward_rad)
    form = rode_at_pull(rode.segments, bed, rode.friction, level_m + rode.z_m, pull_n)
    told = ask_the_chain(k_day, k_judged, 0.5 * math.pi - form.angle_rad)
    assert not told.all_lifted
    # the search halves its bracket sixty times: what is left is the kinks of the bed
    assert told.pull_n == pytest.approx(pull_n, rel=1e-4)
    assert told.pull_low_n < pull_n < told.pull_high_n
    assert told.on_bottom_m == pytest.approx(form.on_bottom_m, abs=0.01)


def test_a_reading_on_other_chain_is_told_for_that_chain(k_day, k_judged):
    lie_m = k_day.lie.chain_out_m
    same = ask_the_chain(k_day, k_judged, 0.7, lie_m)
    assert same.pull_n == ask_the_chain(k_day, k_judged, 0.7).pull_n
    # of the same lead with bottom chain the pull is the same; what lies is that much less
    less = ask_the_chain(k_day, k_judged, 0.7, lie_m - 3.0)
    assert less.on_bottom_m < same.on_bottom_m - 1.0
    with pytest.raises(BadInput, match="m aboard"):
        ask_the_chain(k_day, k_judged, 0.7, 500.0)


def test_a_chain_wholly_lifted_tells_a_least_pull_or_none(k_day, k_judged):
    told = ask_the_chain(k_day, k_judged, math.radians(72.0))
    assert told.all_lifted
    assert told.on_bottom_m == 0.0
    assert math.isnan(told.pull_n) or told.pull_high_n < 3.0 * told.pull_low_n


@pytest.mark.parametrize("degrees", [90.0, -1.0, 120.0])
def test_an_angle_that_no_chain_has_is_refused(k_day, k_judged, degrees):
    with pytest.raises(BadInput) as refused:
        ask_the_chain(k_day, k_judged, math.radians(degrees))
    assert str(refused.value) == (
        f"Chain angle: {degrees:g} degrees from the vertical, "
        "0 (up and down) to less than 90 (level) wanted. Read it again at the roller."
    )


def test_the_proof_at_the_shank_is_what_the_bed_left_of_the_pull(k_day, k_judged):
    found = need_and_proof(k_day, k_judged)
    # the demonstration's engine pulls 2.2 kN; chain that lies takes some of it, never adds
    assert found.proof_low_n < found.proof_n <= 2200.0
    assert found.proof_n > 0.8 * 2200.0
    assert found.proof_low_n < found.proof_n < found.proof_high_n
    anchor = k_judged.judgement.parts[0]
    assert found.need_n == pytest.approx(np.nanmax(anchor.load_n))


def test_the_winds_that_equal_the_proof_do(k_day, k_judged):
    found = need_and_proof(k_day, k_judged)
    form, share = k_judged.rigged.form, k_judged.rigged.height_share
    for speed_mps, off_rad in ((found.wind_ahead_mps, 0.0), (found.wind_abeam_mps, 0.5 * math.pi)):
        fx, fy, _ = wind_force(form, speed_mps * share, off_rad, AIR_KGPM3)
        assert math.hypot(fx, fy) == pytest.approx(2200.0, rel=1e-9)
    assert found.wind_ahead_mps > found.wind_abeam_mps


def test_without_a_proof_the_engine_says_what_can_be_proved(k_day):
    stay = replace(k_day, proof=None)
    judged = judge(stay)
    assert judged.ground.proven is None
    found = need_and_proof(stay, judged)
    # the boat file's own 2.2 kN astern
    assert 0.8 * 2200.0 < found.proof_n <= 2200.0
    bare = replace(stay, boat=replace(stay.boat, engine=None))
    assert math.isnan(need_and_proof(bare, judged).proof_n)


def test_a_proof_by_revs_alone_counts_for_nothing(k_day):
    revs = replace(k_day.proof, pull_n=None, revs_rpm=2200.0)
    engine = replace(k_day.boat.engine, full_revs_rpm=None)
    stay = replace(k_day, boat=replace(k_day.boat, engine=engine), proof=revs)
    assert judge(stay).ground.proven is None


def test_a_proof_by_revs_of_a_told_pull_counts_like_that_pull(k_day):
    # 2200 N at 3200 rpm, told: 2263 rpm pull half of it
    revs = replace(k_day.proof, pull_n=None, revs_rpm=3200.0 * math.sqrt(0.5))
    pull = replace(k_day.proof, pull_n=1100.0)
    by_revs, by_pull = (judge(replace(k_day, proof=one)).ground.proven for one in (revs, pull))
    assert by_revs.pull_n == pytest.approx(by_pull.pull_n)


def test_a_proof_fades_as_the_pull_turns_away_from_it(k_judged):
    ground = k_judged.ground
    toward = ground.proven.toward_rad
    turned = np.radians([0.0, 14.0, 40.0, 70.0, 90.0, 180.0])
    limit = ground.limit_n(toward + turned, np.zeros(turned.size))
    mirrored = ground.limit_n(toward - turned, np.zeros(turned.size))
    assert limit == pytest.approx(mirrored)
    assert np.all(np.diff(limit) <= 1e-9)
    assert limit[0] == limit[1] == pytest.approx(ground.proven.pull_n)
    # square to it only the low end of the odds is left
    without = replace(ground, proven=None).limit_n(toward + turned, np.zeros(turned.size))
    assert limit[-2:] == pytest.approx(without[-2:])
    assert limit[0] > without[0]


def test_a_pull_that_lifts_the_shank_is_trusted_with_less(k_judged):
    ground = k_judged.ground
    uplift = np.radians([0.0, 5.0, 10.0, 20.0, 29.0])
    limit = ground.limit_n(np.full(5, ground.proven.toward_rad), uplift)
    assert np.all(np.diff(limit) <= 0.0)
    assert limit[-1] < 0.2 * limit[0]


def test_the_drawn_chain_lies_in_the_calm_and_lifts_when_it_pulls(k_day, k_judged):
    calm, hard = chain_shapes(k_day, k_judged)
    assert (calm.said, hard.said) == ("in the calm", "pulling hardest")
    assert calm.pull_n < hard.pull_n
    lain = [float(np.sum(np.diff(shape.along_m)[shape.lying])) for shape in (calm, hard)]
    # the scenario: in a calm 37 of the 48 m are on the bottom
    assert 30.0 < lain[0] < 42.0
    assert lain[1] < lain[0]
    assert calm.level_m[-1] == pytest.approx(calm.water_level_m + 1.3, abs=0.02)
    assert calm.angle_rad > hard.angle_rad


def test_if_one_stern_line_goes_by_day_nothing_follows_if_the_anchor_goes_the_shore_does(
    k_day, k_judged
):
    lost = {one.name: one for one in if_one_goes(k_day, k_judged)}
    assert set(lost) == {
        "port stern line to spur ring south",
        "starboard stern line to spur ring north",
        "anchor",
    }
    for name in set(lost) - {"anchor"}:
        assert lost[name].found and not lost[name].breaks
        assert lost[name].next_part == "anchor"
        assert lost[name].least_room_m > 1.0
    # the scenario: anchor gone, onto the shore astern
    assert not lost["anchor"].found or lost["anchor"].least_room_m < 1.0


@pytest.mark.parametrize("now_m", [30.0, 45.0, 50.0])
def test_a_proof_stays_as_it_was_pulled_when_chain_is_veered_or_hove_in_afterwards(k_day, now_m):
    pulled = judge(k_day).ground.proven
    proof = replace(k_day.proof, chain_out_m=k_day.lie.chain_out_m)
    later = replace(k_day, lie=replace(k_day.lie, chain_out_m=now_m), proof=proof)
    assert judge(later).ground.proven == pulled


def test_a_change_of_lengths_takes_the_proof_along(k_day):
    assert adjusted(k_day, {0: -3.0, 1: 1.0}).proof.chain_out_m == k_day.lie.chain_out_m
    asked = replace(k_day, proof=replace(k_day.proof, chain_out_m=40.0))
    assert adjusted(asked, {0: -3.0}).proof.chain_out_m == 40.0
    assert adjusted(replace(k_day, proof=None), {0: -3.0}).proof is None


def test_a_proof_on_more_chain_than_is_aboard_is_refused(k_day):
    with pytest.raises(BadInput) as refused:
        judge(replace(k_day, proof=replace(k_day.proof, chain_out_m=70.0)))
    assert str(refused.value) == (
        "Rode: 70 m asked, 50 m aboard."
        " Give 50 m or less, or add the missing length to the gear list."
    )
