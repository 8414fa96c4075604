"""The bed along a bearing, and between the nodes of somebody's grid."""

import numpy as np
import pytest

from shorefast.bay import bed_profile, between_nodes, fit_surface, roughness_m
from shorefast.errors import BadInput

from .conftest import slope


def test_the_bed_along_a_bearing_falls_as_the_slope_does(sound):
    profile = bed_profile(fit_surface(sound()), 45.0, 20.0, 0.0, 50.0)
    assert profile.distance_m[0] == 0.0
    assert profile.distance_m[-1] == 50.0
    # Ridges of a quarter of a metre and soundings every 6 m.
    assert profile.level_m == pytest.approx(slope(45.0, 20.0 + profile.distance_m), abs=0.2)


def test_a_bearing_of_ninety_degrees_runs_east(sound):
    surface = fit_surface(sound())
    profile = bed_profile(surface, 20.0, 45.0, np.pi / 2, 30.0, spacing_m=10.0)
    assert profile.level_m == pytest.approx(surface.level_at([20, 30, 40, 50], 45.0))


def test_past_the_sounded_area_the_profile_is_unknown(sound):
    profile = bed_profile(fit_surface(sound()), 45.0, 45.0, 0.0, 200.0)
    assert np.isfinite(profile.level_m[0])
    assert np.isnan(profile.level_m[-1])
    assert np.isnan(profile.deviation_m[-1])


def test_a_line_of_no_length_is_refused(sound):
    with pytest.raises(BadInput) as refused:
        bed_profile(fit_surface(sound()), 0.0, 0.0, 0.0, 0.0)
    assert refused.value.sentence == (
        "Bed along a bearing: a length of 0 m asked, more than 0 wanted. Correct it."
    )


GRID = np.array([[-1.0, -2.0, -3.0], [-2.0, -4.0, -6.0], [np.nan, -6.0, -9.0]])


def _at(row: float, column: float) -> tuple[float, float]:
    level, deviation = between_nodes(GRID, roughness_m(GRID), np.array([row]), np.array([column]))
    return float(level[0]), float(deviation[0])


def test_at_a_node_the_grid_says_its_own_depth():
    assert _at(1.0, 1.0)[0] == -4.0


def test_between_nodes_the_bed_runs_straight():
    assert _at(0.5, 0.0)[0] == -1.5
    assert _at(0.5, 0.5)[0] == pytest.approx((-1.0 - 2.0 - 2.0 - 4.0) / 4)


def test_beside_a_node_on_land_nothing_is_known():
    assert np.isnan(_at(1.5, 0.5)).all()


def test_at_a_node_its_neighbour_on_land_has_no_say():
    assert _at(2.0, 1.0)[0] == -6.0


def test_outside_the_grid_nothing_is_known():
    assert np.isnan(_at(3.0, 0.0)).all()
    assert np.isnan(_at(np.nan, 0.0)).all()


def test_half_a_cell_past_the_last_node_its_depth_still_holds():
    assert _at(-0.4, 1.0)[0] == -2.0


def test_the_doubt_grows_with_roughness_and_between_nodes():
    draw = np.random.default_rng(1)
    smooth = -20.0 + np.add.outer(np.arange(30.0), np.arange(30.0))
    rough = smooth + draw.normal(0.0, 3.0, smooth.shape)
    middle, node = (np.array([15.5]), np.array([15.5])), (np.array([15.0]), np.array([15.0]))
    doubt = {
        name: [float(between_nodes(bed, roughness_m(bed), *at)[1][0]) for at in (node, middle)]
        for name, bed in (("smooth", smooth), ("rough", rough))
    }
    assert doubt["rough"][1] > doubt["rough"][0] > doubt["smooth"][1]
