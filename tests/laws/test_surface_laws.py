"""What no depth surface may depend on, whatever the soundings."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from shorefast.bay import Bounds, Soundings, add_soundings, fit_surface

BOX = Bounds(0.0, 0.0, 60.0, 60.0)
ASKED = np.meshgrid(np.linspace(3, 57, 30), np.linspace(3, 57, 30))


@st.composite
def soundings(draw) -> Soundings:
    """A bed of a few waves, sounded at random places."""
    seed = draw(st.integers(0, 2**31))
    count = draw(st.integers(30, 250))
    lot = np.random.default_rng(seed)
    east, north = lot.uniform(0.0, 60.0, (2, count))
    wave_m, high_m = draw(st.floats(8.0, 60.0)), draw(st.floats(0.0, 2.0))
    level = -8.0 - 0.2 * north + high_m * np.sin(east / wave_m * 6.28) + lot.normal(0, 0.1, count)
    return Soundings(east, north, level, np.full(count, draw(st.sampled_from([np.nan, 0.2]))))


def _of(one: Soundings, which: np.ndarray) -> Soundings:
    return Soundings(*(part[which] for part in vars(one).values()))


def _level(one: Soundings) -> np.ndarray:
    return fit_surface(one, bounds=BOX, step_m=1.5).level_at(*ASKED)


@settings(max_examples=15, deadline=None)
@given(soundings(), st.integers(0, 1000))
def test_the_order_of_soundings_moves_nothing(one, seed):
    order = np.random.default_rng(seed).permutation(one.level_m.size)
    np.testing.assert_allclose(_level(_of(one, order)), _level(one), atol=1e-6)


@settings(max_examples=15, deadline=None)
@given(soundings(), st.integers(1, 29))
def test_soundings_told_twice_move_nothing(one, twice):
    order = np.concatenate((np.arange(one.level_m.size), np.arange(twice)))
    np.testing.assert_allclose(_level(_of(one, order)), _level(one), atol=1e-9)


@settings(max_examples=15, deadline=None)
@given(soundings(), st.integers(10, 20))
def test_two_files_joined_either_way_round_are_one_bed(one, cut):
    order = np.roll(np.arange(one.level_m.size), cut)
    np.testing.assert_allclose(_level(_of(one, order)), _level(one), atol=1e-6)


@settings(max_examples=15, deadline=None)
@given(soundings(), st.floats(5.0, 55.0), st.floats(5.0, 55.0))
def test_a_sounding_that_agrees_raises_no_doubt_nearby(one, east_m, north_m):
    old = fit_surface(one, bounds=BOX, step_m=1.5)
    level = old.level_at([east_m], [north_m])
    if np.isnan(level[0]):
        return
    new = add_soundings(
        old, Soundings(np.array([east_m]), np.array([north_m]), level, np.array([0.05]))
    )
    ring = np.linspace(0.0, 2.0 * np.pi, 13)
    east, north = east_m + 1.5 * np.sin(ring), north_m + 1.5 * np.cos(ring)
    before, after = old.deviation_at(east, north), new.deviation_at(east, north)
    told = np.isfinite(before)
    # Far soundings leave the neighbourhood as the new one comes in: a hundredth of it.
    assert np.all(after[told] <= 1.01 * before[told] + 0.005)


@settings(max_examples=15, deadline=None)
@given(soundings(), st.floats(10.0, 50.0), st.floats(10.0, 50.0), st.floats(3.0, 7.0))
def test_a_lone_rock_stays_at_its_depth(one, east_m, north_m, depth_m):
    rock = (east_m, north_m, -depth_m + 3.0, 0.1)
    joined = (np.append(part, x) for part, x in zip(vars(one).values(), rock, strict=True))
    surface = fit_surface(Soundings(*joined), bounds=BOX, step_m=1.5)
    assert surface.level_at(east_m, north_m) >= rock[2] - 0.35
