"""The depth surface: what it says between soundings, and where it says nothing."""

import numpy as np
import pytest
from shapely.geometry import box

from shorefast.bay import Bounds, Soundings, fit_surface, joined, level_here
from shorefast.errors import BadInput

from .conftest import slope


def _joined(soundings: Soundings, east_m: float, north_m: float, level_m: float) -> Soundings:
    more = Soundings(*(np.array([x]) for x in (east_m, north_m, level_m, np.nan)))
    return joined([soundings, more])


def test_a_level_bed_is_drawn_level(sound):
    surface = fit_surface(sound(bed=lambda east, north: np.full(east.shape, -7.0)))
    assert surface.level_at(40.0, 50.0) == pytest.approx(-7.0, abs=1e-6)


def test_a_plane_bed_is_drawn_plane_between_soundings(sound):
    surface = fit_surface(sound(bed=lambda east, north: -3.0 - 0.3 * east + 0.1 * north))
    east, north = np.meshgrid(np.linspace(10, 80, 31), np.linspace(10, 80, 31))
    # The plane under the process is vague, not free: a hundredth of a metre is its cost.
    assert surface.level_at(east, north) == pytest.approx(-3.0 - 0.3 * east + 0.1 * north, abs=0.02)


def test_the_bed_between_soundings_is_found_within_its_own_doubt(sound):
    surface = fit_surface(sound(error_m=0.15))
    east, north = np.meshgrid(np.linspace(10, 80, 41), np.linspace(10, 80, 41))
    share = np.abs(surface.level_at(east, north) - slope(east, north)) / surface.deviation_at(
        east, north
    )
    # 95 % of a normal error lies within two deviations; cautious is allowed, rash is not.
    assert np.mean(share < 2.0) > 0.93
    assert float(surface.deviation_at(east, north).max()) < 0.6


def test_the_doubt_grows_in_a_gap_between_soundings(sound):
    def boulders(east, north):
        return slope(east, north) + np.sin(east / 3.0) * np.cos(north / 4.0)

    gap = sound(bed=boulders, keep=lambda east, north: np.hypot(east - 45, north - 45) > 14)
    surface = fit_surface(gap)
    assert surface.deviation_at(45.0, 45.0) > 1.5 * surface.deviation_at(20.0, 20.0)


def test_an_isolated_rock_is_not_smoothed_away(sound):
    soundings = _joined(sound(error_m=0.15), 47.3, 52.8, -16.0)
    surface = fit_surface(soundings)
    assert surface.level_at(47.3, 52.8) >= -16.0 - 0.05
    assert slope(np.array(47.3), np.array(52.8)) < -22.0
    assert any("kept as a rock: 1" in finding.said for finding in surface.basis.findings)


def test_a_rock_does_not_raise_the_bed_two_soundings_away(sound):
    plain, with_rock = (
        fit_surface(part, step_m=2.0, bounds=Bounds(0, 0, 90, 90))
        for part in (sound(error_m=0.15), _joined(sound(error_m=0.15), 47.3, 52.8, -16.0))
    )
    assert with_rock.level_at(66.0, 66.0) == pytest.approx(plain.level_at(66.0, 66.0), abs=0.1)


def test_a_false_deep_echo_digs_no_hole(sound):
    surface = fit_surface(_joined(sound(error_m=0.15), 47.3, 52.8, -80.0))
    assert surface.level_at(47.3, 52.8) == pytest.approx(slope(47.3, 52.8), abs=0.5)
    assert [f.said for f in surface.basis.findings] == [
        "soundings far below the bed round them, left out as false: 1"
    ]


def test_nothing_is_known_farther_than_the_reach_from_any_sounding(sound):
    surface = fit_surface(sound(), bounds=Bounds(-100, -100, 200, 200), reach_m=40.0)
    assert np.isnan(surface.level_at(-41.0, 40.0))
    assert np.isnan(surface.deviation_at(160.0, 160.0))


def test_nothing_is_known_outside_the_sounded_area(sound):
    surface = fit_surface(sound(), bounds=Bounds(-100, -100, 200, 200))
    assert np.isnan(surface.level_at(45.0, 105.0))
    assert np.isfinite(surface.level_at(45.0, 88.0))


def test_nothing_is_known_outside_the_grid(sound):
    assert np.isnan(fit_surface(sound()).level_at(5000.0, 0.0))


def test_a_large_hole_in_close_soundings_is_unknown(sound):
    holed = sound(step_m=3.0, keep=lambda east, north: np.hypot(east - 45, north - 45) > 25)
    assert np.isnan(fit_surface(holed).level_at(45.0, 45.0))


def test_on_land_the_bed_is_known_only_beside_a_sounding(sound):
    kept = sound(keep=lambda east, north: (east < 38) | (east > 52))
    spit = box(38, -10, 52, 100)
    assert np.isfinite(fit_surface(kept).level_at(45.0, 45.0))
    assert np.isnan(fit_surface(kept, land=spit).level_at(45.0, 45.0))


def test_a_coarse_grid_leaves_a_berth_unknown_and_says_why(sound):
    coarse = sound(step_m=460.0, side_m=4600.0)
    surface = fit_surface(coarse, bounds=Bounds(1000, 1000, 3000, 3000))
    assert np.isfinite(surface.grid.level_m).mean() < 0.05
    said = [finding.said for finding in surface.basis.findings]
    assert "m apart; a berth needs soundings closer than 40 m, so the bed" in said[0]


def test_a_berth_between_two_nodes_of_a_coarse_grid_says_how_far_the_nearest_is():
    far = Soundings(
        np.array([0.0, 460.0, 0.0, 460.0]),
        np.array([0.0, 0.0, 460.0, 460.0]),
        np.array([-20.0, -30.0, -25.0, -35.0]),
        np.full(4, np.nan),
    )
    surface = fit_surface(far, bounds=Bounds(220, 220, 240, 240))
    assert np.isnan(surface.grid.level_m).all()
    assert [finding.said for finding in surface.basis.findings] == [
        "the nearest depth is 325 m away; a berth needs soundings closer than 40 m"
    ]


def test_the_grid_stays_small_however_large_the_box(sound):
    grid = fit_surface(sound(step_m=60.0, side_m=3000.0)).grid
    assert max(grid.level_m.shape) <= 400
    assert grid.level_m.size <= 125_000


def test_a_berth_is_drawn_on_steps_of_one_to_two_metres(sound):
    assert 1.0 <= fit_surface(sound()).grid.step_m <= 2.0


def test_the_compiled_level_is_the_surface_level(sound):
    surface = fit_surface(sound())
    grid = surface.grid
    here = level_here(grid.west_m, grid.south_m, grid.step_m, grid.level_m, 33.3, 44.4)
    assert here == surface.level_at(33.3, 44.4)


def test_the_order_of_soundings_does_not_matter(sound):
    soundings = sound(error_m=0.15)
    back = soundings.only(np.arange(soundings.level_m.size)[::-1])
    one, two = fit_surface(soundings), fit_surface(back)
    assert two.level_at(40.0, 40.0) == pytest.approx(one.level_at(40.0, 40.0), abs=0.05)


def test_the_same_soundings_give_the_same_bed_to_the_bit(sound):
    one, two = fit_surface(sound(error_m=0.15)), fit_surface(sound(error_m=0.15))
    assert np.array_equal(one.grid.level_m, two.grid.level_m, equal_nan=True)


def test_soundings_in_one_line_are_known_only_beside_it():
    east = np.arange(0.0, 100.0, 4.0)
    line = Soundings(east, np.zeros(east.size), -5.0 - 0.1 * east, np.full(east.size, np.nan))
    surface = fit_surface(line)
    assert surface.level_at(50.0, 0.0) == pytest.approx(-10.0, abs=0.1)
    assert np.isnan(surface.level_at(50.0, 15.0))


@pytest.mark.parametrize(
    ("levels", "sentence"),
    [
        (
            [-5.0, -6.0],
            "Soundings: 2 given, a bed needs at least 3. Add soundings round the berth.",
        ),
        (
            [-5.0, np.nan, -6.0, np.inf],
            "Soundings: 2 are not numbers, finite ones wanted. Leave those out.",
        ),
    ],
)
def test_soundings_that_are_no_bed_are_refused(levels, sentence):
    count = len(levels)
    places = np.arange(float(count))
    with pytest.raises(BadInput) as refused:
        fit_surface(Soundings(places, places**2, np.array(levels), np.full(count, np.nan)))
    assert refused.value.sentence == sentence


def test_soundings_all_in_one_place_tell_of_that_place_alone():
    at = np.full(4, 7.0)
    bed = fit_surface(Soundings(at, at, np.array([-5.0, -5.0, -6.0, -5.5]), np.full(4, np.nan)))
    assert -6.0 < bed.level_at(7.0, 7.0) <= -5.0
    assert bed.deviation_at(7.0, 7.0) > 0.05


def test_a_step_of_nothing_is_refused(sound):
    with pytest.raises(BadInput) as refused:
        fit_surface(sound(), step_m=0.0)
    assert refused.value.sentence == (
        "Depth surface: a step of 0 m asked, more than 0 wanted. Correct it."
    )
