"""The doubt held against soundings left out, and a bed that changes faster one way."""

import math

import numpy as np
import pytest

from shorefast.bay import Soundings, bed_at, joined, understand
from shorefast.bay.guesses import beside_lines, from_other_tracks, tracks_told
from shorefast.bay.honest import NOT_HELD_AGAINST_ANY, Honest, disagreement, honest_over
from shorefast.bay.neighbours import thin_out

NEAR, FAR = np.full(4000, 1.0), np.full(4000, 10.0)


def _held(near: float, far: float) -> Honest:
    """Normal errors that many times the deviation foretold, over two gaps."""
    draw = np.random.default_rng(1)
    error = np.append(near * draw.normal(0.0, 0.2, 4000), far * draw.normal(0.0, 0.2, 4000))
    return honest_over(np.append(NEAR, FAR), error, np.full(8000, 0.2))


def test_a_doubt_told_half_too_small_is_doubled_where_it_was():
    held = _held(1.0, 2.0)
    assert held.at(np.array([0.5, 1.0])) == pytest.approx(1.0, abs=0.05)
    assert held.at(np.array([10.0, 500.0])) == pytest.approx(2.0, abs=0.05)
    assert held.at(np.sqrt(10.0)) == pytest.approx(1.5, abs=0.05)


def test_farther_off_the_doubt_is_never_less():
    assert np.all(np.diff(_held(2.0, 1.0).at(np.geomspace(0.1, 100.0, 50))) >= 0.0)


def test_a_few_guesses_are_no_evidence():
    assert honest_over(NEAR[:20], np.zeros(20), np.ones(20)) is NOT_HELD_AGAINST_ANY


def test_where_fifths_of_the_tracks_disagree_the_doubt_is_raised_by_the_error_of_their_mean():
    draw = np.random.default_rng(3)
    told = np.full(4000, 0.2)
    alike = [(draw.normal(0.0, 0.2, 4000), told) for _ in range(5)]
    assert disagreement(alike) < 0.02
    # twice and half as much by turns: logarithms 0.69 off their mean, over the root of four
    apart = [(share * draw.normal(0.0, 0.2, 4000), told) for share in (2.0, 0.5, 2.0, 0.5)]
    assert disagreement(apart) == pytest.approx(0.40, abs=0.02)
    assert disagreement(apart[:1]) == 0.0
    error = draw.normal(0.0, 0.2, 4000)
    held = [honest_over(NEAR, error, told, raised).at(NEAR[:1])[0] for raised in (0.0, 0.4)]
    assert held[1] / held[0] == pytest.approx(math.exp(0.4))


def test_forty_guesses_spread_over_six_distances_are_held_against_together():
    held = honest_over(np.geomspace(1.0, 1000.0, 40), np.full(40, 2.0), np.ones(40))
    assert held.at(np.array([1.0, 1000.0])) == pytest.approx(np.sqrt(2.0))


@pytest.mark.parametrize("track", [None, np.arange(5)])
@pytest.mark.parametrize("count", [3, 5, 12, 19])
def test_few_soundings_in_a_line_are_a_bed_that_none_was_left_out_of(count, track):
    east = np.linspace(0.0, 60.0, count)
    told = [] if track is None or count != track.size else [track]
    deviation = np.full(count, np.nan)
    bed = understand(Soundings(east, 0.5 * east, -5.0 - 0.1 * east, deviation, *told))
    assert bed.honest is NOT_HELD_AGAINST_ANY
    level, doubt = bed_at(bed, np.array([30.0]), np.array([15.0]))
    assert level == pytest.approx(-8.0, abs=0.3)
    assert doubt > 0.05


def test_soundings_that_guess_each_other_to_the_bit_leave_what_none_saw():
    draw = np.random.default_rng(2)
    east, north = draw.uniform(0.0, 100.0, (2, 200))
    even = Soundings(east, north, np.full(200, -5.0), np.full(200, np.nan))
    asked = draw.uniform(20.0, 80.0, (2, 50))
    assert np.all(bed_at(understand(even), *asked)[1] >= 0.05)


def _sailed(off_m: float) -> Soundings:
    """Twenty legs over a sloping bed, each out by an error of its own. [m]"""
    draw = np.random.default_rng(6)
    along, lines = np.arange(0.0, 200.0, 4.0), np.arange(20)
    east, north = (part.ravel() for part in np.meshgrid(along, 10.0 * lines))
    leg = np.repeat(lines, along.size)
    level = -12.0 - 0.02 * east + draw.normal(0.0, off_m, 20)[leg]
    return Soundings(east, north, level, np.full(east.size, np.nan), leg)


def test_errors_alike_along_a_leg_are_seen_where_legs_are_told():
    told = _sailed(1.0)
    untold = Soundings(told.east_m, told.north_m, told.level_m, told.deviation_m)
    asked = np.array([100.0]), np.array([95.0])
    with_legs = bed_at(understand(told), *asked)[1][0]
    assert with_legs > 0.35
    assert with_legs > bed_at(understand(untold), *asked)[1][0] * 0.8
    assert bed_at(understand(_sailed(0.0)), *asked)[1][0] < 0.2


def _line(north_m: float) -> np.ndarray:
    along = np.arange(0.0, 100.0, 2.0)
    return np.column_stack((along, np.full(along.size, north_m)))


def test_a_sounding_of_a_line_is_guessed_past_its_own_line():
    places = np.concatenate([_line(north) for north in (0.0, 30.0, 60.0, 90.0)])
    guesses = beside_lines(places, thin_out(places, 2.0), [15.0])
    (guess,) = guesses
    apart = np.abs(places[guess.others, 1] - places[guess.at, 1][:, None])
    across = np.where(guess.others >= 0, apart, np.inf)
    assert across.min() == 30.0
    assert guess.apart_m.min() == 30.0


def test_a_fifth_of_all_tracks_is_left_out_at_a_time():
    places = np.concatenate([_line(10.0 * one) for one in range(10)])
    track = np.repeat(np.arange(10), 50)
    guesses = list(from_other_tracks(places, track, 2.0))
    assert sum(one.at.size for one in guesses) == 500
    assert len(guesses) == 5
    for one in guesses:
        assert np.unique(track[one.at]).size == 2
        assert not np.isin(track[one.others], track[one.at]).any()


def test_the_order_of_files_does_not_matter_to_the_doubt():
    told = _sailed(1.0)
    files = [told.only(told.track < 7), told.only(told.track >= 7)]
    one, other = (understand(joined(order)) for order in (files, files[::-1]))
    assert one.honest.factor.size > 0
    for part, beside in zip(one.honest, other.honest, strict=True):
        assert np.array_equal(part, beside)


@pytest.mark.parametrize(
    ("track", "told"),
    [
        ([-1] * 20, False),
        ([0] * 20, False),
        ([*range(5)] * 4, True),
        ([*range(8), *[-1] * 12], False),
    ],
)
def test_tracks_are_told_where_most_soundings_are_of_some_of_many(track, told):
    assert tracks_told(np.array(track)) is told


def test_a_coast_that_falls_away_one_way_is_seen_to_be_alike_along_the_other():
    lot = np.random.default_rng(4)
    east, north = lot.uniform(0.0, 150.0, (2, 900))
    level = -10.0 + 2.0 * np.sin(north / 6.0) + 0.02 * east + lot.normal(0.0, 0.05, 900)
    texture = understand(Soundings(east, north, level, np.full(900, np.nan))).texture
    assert texture.warp_yy > 1.3
    assert texture.warp_xx < 0.8
    assert abs(texture.warp_xy) < 0.4
    assert texture.warp_xx * texture.warp_yy - texture.warp_xy**2 == pytest.approx(1.0)


def test_a_bed_alike_all_round_is_left_so():
    lot = np.random.default_rng(4)
    east, north = lot.uniform(0.0, 150.0, (2, 900))
    off = np.hypot(east - 75.0, north - 75.0)
    level = -10.0 + 2.0 * np.sin(off / 8.0) + lot.normal(0.0, 0.05, 900)
    texture = understand(Soundings(east, north, level, np.full(900, np.nan))).texture
    assert texture.warp_yy < 2.0
    assert texture.warp_xx < 2.0


@pytest.mark.parametrize("count", [3, 4, 7, 30])
@pytest.mark.parametrize("wide_m", [0.0, 0.5, 40.0])
@pytest.mark.parametrize("legs", [1, 8])
def test_few_soundings_in_a_line_or_in_one_place_have_a_bed_and_a_doubt(count, wide_m, legs):
    east, north = np.linspace(0.0, wide_m, count), np.zeros(count)
    leg = np.arange(count) % legs
    bed = understand(Soundings(east, north, -5.0 - 0.1 * east, np.full(count, np.nan), leg))
    level, deviation = bed_at(bed, east[:1], north[:1])
    assert level[0] == pytest.approx(-5.0, abs=0.3)
    assert deviation[0] > 0.0


def test_a_good_survey_keeps_its_say_among_many_poor_soundings():
    draw = np.random.default_rng(1)
    grid = np.arange(0.0, 100.0, 4.0)
    east, north = (part.ravel() for part in np.meshgrid(grid, grid))
    far_east, far_north = draw.uniform(0.0, 96.0, (2, 1500))

    def sounded(east: np.ndarray, north: np.ndarray, out_m: float) -> Soundings:
        level = -10.0 - 0.1 * north + 1.5 * np.sin(east / 9.0) + draw.normal(0.0, out_m, east.size)
        return Soundings(east, north, level, np.full(east.size, out_m))

    bed = understand(joined([sounded(east, north, 0.1), sounded(far_east, far_north, 1.0)]))
    asked = draw.uniform(8.0, 88.0, (2, 400))
    true = -10.0 - 0.1 * asked[1] + 1.5 * np.sin(asked[0] / 9.0)
    off_m = np.sqrt(np.mean((bed_at(bed, *asked)[0] - true) ** 2))
    assert off_m < 0.1
