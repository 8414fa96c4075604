"""How a hull goes with waves, and how they push her."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.errors import OutsideModel
from shorefast.mooring.wave_drift import drift_bound
from shorefast.mooring.wave_motion import (
    deep_wavelength_m,
    dip_share,
    follows,
    highest_share,
    ride,
    snap_load_n,
)
from shorefast.mooring.wave_push import barrier_share, short_wave_push, turned_back, wave_push

LENGTHS_M = np.geomspace(0.5, 500.0, 60)
HALF = np.array([[6.0, 0.0], [2.0, 1.7], [-2.4, 2.0], [-6.0, 1.4]])
OUTLINE = np.concatenate([HALF, (HALF * [1.0, -1.0])[:0:-1]])
ROUND = np.radians(np.arange(-180.0, 181.0, 15.0))


def test_a_long_wave_lifts_her_as_it_lifts_the_water():
    assert follows(12.0, 5000.0).heave == pytest.approx(1.0, abs=1e-4)
    assert dip_share(12.0, 5000.0, 1.0) == pytest.approx(1.0, abs=1e-3)


def test_a_wave_half_her_length_hardly_lifts_her_middle():
    # two whole waves under her: her middle stays, the envelope keeps 1 / 2 pi
    assert follows(12.0, 6.0).heave == pytest.approx(1.0 / (2.0 * math.pi))


def test_her_ends_follow_a_long_slope_in_full():
    # a slope k a at half her length: q of the amplitude, q = pi extent / wavelength
    moved = follows(12.0, 1200.0)
    assert moved.pitch == pytest.approx(math.pi * 0.01, rel=1e-3)


@pytest.mark.parametrize("out", [0.0, 0.4, 1.0])
def test_no_part_goes_deeper_than_the_trough_and_longer_waves_take_it_deeper(out):
    share = dip_share(11.0, LENGTHS_M, out)
    assert np.all((share > 0.0) & (share <= 1.0))
    assert np.all(np.diff(share) >= -1e-9)


def test_nothing_jumps_where_the_envelopes_take_over():
    moved = follows(1.0, 1.0 / np.linspace(0.01, 4.0, 4000))
    assert np.abs(np.diff(moved.heave)).max() < 2e-3
    assert np.abs(np.diff(moved.pitch)).max() < 4e-3


def test_a_short_chop_on_the_beam_jerks_her_more_than_from_ahead():
    ahead, abeam = ride(0.3, 2.0, np.array([0.0, 0.5 * math.pi]), (11.0, 3.8)).heave_mps2
    assert abeam > 2.0 * ahead


def test_waves_from_ahead_lean_her_to_neither_side():
    assert ride(0.3, 2.5, 0.0, (11.0, 3.8)).slope_rad == pytest.approx(0.0, abs=1e-9)
    # a long wave abeam: its rms slope, k Hm0 / 4
    slope = ride(0.4, 10.0, 0.5 * math.pi, (11.0, 3.8)).slope_rad
    assert slope == pytest.approx(0.1 * 2.0 * math.pi / 156.0, rel=5e-3)


def test_a_mass_stopped_by_a_spring_gives_it_all_its_motion():
    # 12 t at 0.3 m/s into 20 kN/m: half m v2 = half F2 / k
    pull_n = float(snap_load_n(0.3, 2e4, 12e3))
    assert 0.5 * pull_n**2 / 2e4 == pytest.approx(0.5 * 12e3 * 0.3**2)


def test_a_wall_to_great_depth_turns_all_back_and_a_sill_nothing():
    assert barrier_share(8.0) == pytest.approx(1.0, abs=1e-6)
    assert barrier_share(1e-3) < 1e-4
    # what is not turned back goes on: R2 + T2 = 1 with T = K1 / sqrt(pi2 I1^2 + K1^2); at
    # kd = 1, I1 0.5652 and K1 0.6019 in printed tables of Bessel functions
    share = 0.6019 / math.hypot(math.pi * 0.5652, 0.6019)
    assert float(barrier_share(1.0)) ** 2 + share**2 == pytest.approx(1.0, abs=1e-4)


def test_short_waves_are_turned_back_whole_and_swell_passes_under_her():
    share = turned_back(np.array([1.0, 2.0, 2.5, 3.0, 4.0, 8.0]), 4.1, 0.6)
    assert share[:3].tolist() == [1.0, 1.0, 1.0]
    assert np.all(np.diff(share) <= 0.0)
    assert share[-1] < 0.02


def test_waves_push_away_from_where_they_come():
    push = wave_push((0.4, 2.0), np.radians([0.0, 90.0, 180.0]), OUTLINE, 4.0, 0.6)
    assert push.forward_n[0] < 0.0 < push.forward_n[2]
    assert push.starboard_n[1] < 0.0
    assert push.starboard_n[0] == pytest.approx(0.0, abs=1e-9)


def test_waves_from_port_are_the_mirror_of_those_from_starboard():
    one, other = (wave_push((0.4, 2.0), s * ROUND, OUTLINE, 4.0, 0.6) for s in (1.0, -1.0))
    assert other.forward_n == pytest.approx(one.forward_n)
    assert other.starboard_n == pytest.approx(-one.starboard_n, abs=1e-9)
    assert other.turning_nm == pytest.approx(-one.turning_nm, abs=1e-9)


def test_the_short_wave_form_never_passes_the_bound():
    push = wave_push((0.4, 2.0), ROUND, OUTLINE, 4.0, 0.6)
    ahead, side = drift_bound(0.4, ROUND, 12.0, 4.0)
    least = np.hypot(push.least_forward_n, push.least_starboard_n)
    assert np.all(least <= np.hypot(ahead, side) + 1e-9)


def test_waves_on_her_bow_from_starboard_turn_it_to_port():
    push = wave_push((0.4, 2.0), math.radians(45.0), OUTLINE, 4.0, 0.6)
    assert push.turning_nm < 0.0


def test_the_way_the_outline_is_drawn_does_not_matter():
    one = short_wave_push(OUTLINE, ROUND)
    other = short_wave_push(OUTLINE[::-1], ROUND)
    assert np.allclose(one, other)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (
            lambda: deep_wavelength_m(0.0),
            "Waves: period 0 s, more than 0 s wanted. Give the time from crest to crest.",
        ),
        (
            lambda: highest_share(3.0),
            "Highest wave: 3 waves, 10 or more wanted. Ask for the highest of a longer time.",
        ),
    ],
)
def test_what_the_waves_cannot_say(asked, said):
    with pytest.raises(OutsideModel) as refused:
        asked()
    assert refused.value.sentence == said
