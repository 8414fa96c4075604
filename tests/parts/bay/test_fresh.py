"""New soundings in a surface that was already drawn."""

import numpy as np
import pytest

from shorefast.bay import Bounds, DepthSurface, Soundings, add_soundings, fit_surface, grown_old
from shorefast.errors import BadInput

from .conftest import slope

BOX = Bounds(0.0, 0.0, 90.0, 90.0)


def _split(soundings: Soundings, first: np.ndarray) -> tuple[Soundings, Soundings]:
    return tuple(soundings.only(kept) for kept in (first, ~first))


def _one(east_m: float, north_m: float, level_m: float, deviation_m: float = 0.2) -> Soundings:
    return Soundings(*(np.array([x]) for x in (east_m, north_m, level_m, deviation_m)))


def test_a_track_taken_in_later_gives_the_bed_drawn_from_all_at_once(sound):
    everything = sound(error_m=0.15, step_m=3.0)
    track = np.abs(everything.east_m - everything.north_m) < 3.0
    new, old = _split(everything, track)
    later = add_soundings(fit_surface(old, bounds=BOX, step_m=1.0), new)
    at_once = fit_surface(everything, bounds=BOX, step_m=1.0)
    east, north = np.meshgrid(np.linspace(2, 88, 60), np.linspace(2, 88, 60))
    apart = np.abs(later.level_at(east, north) - at_once.level_at(east, north))
    # Soundings are 0.15 m out; the texture learnt may differ, a drawn bed hardly.
    assert np.quantile(apart, 0.95) < 0.05
    assert apart.max() < 0.15


def test_far_from_the_new_soundings_the_bed_stays_to_the_bit(sound):
    old = fit_surface(sound(error_m=0.15), bounds=BOX)
    new = add_soundings(old, _one(20.0, 20.0, float(slope(20.0, 20.0))))
    assert new.level_at(75.0, 75.0) == old.level_at(75.0, 75.0)


def test_a_rock_found_later_stands_at_its_depth(sound):
    old = fit_surface(sound(error_m=0.15), bounds=BOX)
    new = add_soundings(old, _one(47.3, 52.8, -16.0))
    assert old.level_at(47.3, 52.8) < -22.0
    assert new.level_at(47.3, 52.8) >= -16.05


def test_a_false_deep_echo_taken_in_later_digs_no_hole(sound):
    new = add_soundings(fit_surface(sound(error_m=0.15), bounds=BOX), _one(47.3, 52.8, -80.0))
    assert new.level_at(47.3, 52.8) == pytest.approx(slope(47.3, 52.8), abs=0.5)
    assert new.drawn_from.bed.left_out == 1


def test_soundings_far_off_or_known_already_change_nothing(sound):
    soundings = sound(error_m=0.15)
    old = fit_surface(soundings, bounds=BOX)
    assert add_soundings(old, _one(5000.0, 0.0, -3.0)) is old
    assert add_soundings(old, soundings) is old


def test_a_sounding_that_agrees_lowers_the_doubt_beside_it(sound):
    old = fit_surface(sound(), bounds=BOX)
    east, north = np.meshgrid(np.linspace(40, 50, 21), np.linspace(40, 50, 21))
    new = add_soundings(old, _one(45.0, 45.0, float(old.level_at(45.0, 45.0)), np.nan))
    assert np.all(new.deviation_at(east, north) <= old.deviation_at(east, north) + 0.01)
    assert new.deviation_at(45.0, 45.0) < old.deviation_at(45.0, 45.0) + 1e-9


def test_a_surface_that_keeps_no_soundings_takes_none_in(sound):
    bare = fit_surface(sound())
    with pytest.raises(BadInput) as refused:
        add_soundings(DepthSurface(bare.grid, bare.basis), _one(1.0, 1.0, -2.0))
    assert refused.value.sentence == (
        "Depth surface: it keeps no soundings, those it was drawn from wanted. "
        "Fit it to all soundings together."
    )


def test_an_old_sounding_weighs_less_than_a_new_one():
    east, north = (part.ravel() for part in np.meshgrid(np.arange(8) * 5.0, np.arange(8) * 5.0))
    both = Soundings(
        np.tile(east, 2), np.tile(north, 2), np.repeat([-5.0, -5.4], 64), np.full(128, 0.2)
    )  # fmt: skip
    aged = grown_old(both, np.repeat([0.0, 64.0], 64))
    # 64 years: 0.05 m times 8 beside the 0.2 m told.
    assert aged.deviation_m[-1] == pytest.approx(np.hypot(0.2, 0.4))
    assert fit_surface(both).level_at(17.0, 17.0) == pytest.approx(-5.2, abs=0.02)
    # Weights 1/0.04 and 1/0.2: a sixth of the way to the old ones.
    assert fit_surface(aged).level_at(17.0, 17.0) == pytest.approx(-5.0 - 0.4 / 6.0, abs=0.02)


def test_rock_does_not_wander_and_an_unknown_age_adds_nothing():
    one = _one(0.0, 0.0, -5.0)
    assert grown_old(one, np.array([50.0]), shift_m=0.0).deviation_m[0] == 0.2
    assert grown_old(one, np.array([np.nan])).deviation_m[0] == 0.2
