"""The patch of water as a shape, against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from scipy.stats import ncx2, norm

from shorefast.stay.patch_shape import best_aim, ellipse_about, hit_share, outline_of
from shorefast.stay.sounded_out import found_around

DISC = shapely.Point(30.0, -40.0).buffer(5.0, quad_segs=512)


# Rayleigh's distribution: within r of the aim with an error alike all round.
@pytest.mark.parametrize("error_m", [0.5, 3.0, 12.0])
def test_a_disc_aimed_at_its_middle_is_hit_as_rayleigh_says(error_m):
    expected = 1.0 - math.exp(-(5.0**2) / (2.0 * error_m**2))
    # the disc is a polygon of 2048 sides, the outline is cut to legs of a twentieth
    assert hit_share(DISC, (30.0, -40.0), error_m) == pytest.approx(expected, abs=5e-5)


# Rice's distribution through the noncentral chi-square of a reference library.
@pytest.mark.parametrize("off_m", [2.0, 5.0, 9.0])
def test_a_disc_aimed_beside_its_middle_is_hit_as_rice_says(off_m):
    expected = ncx2.cdf((5.0 / 3.0) ** 2, 2, (off_m / 3.0) ** 2)
    aim = (30.0 + 0.6 * off_m, -40.0 - 0.8 * off_m)
    assert hit_share(DISC, aim, 3.0) == pytest.approx(expected, abs=5e-5)


def test_an_oblong_with_a_hole_is_hit_as_products_of_normals_say():
    def box_share(west, south, east, north):
        across = norm.cdf(east / 2.5) - norm.cdf(west / 2.5)
        return across * (norm.cdf(north / 2.5) - norm.cdf(south / 2.5))

    patch = shapely.box(-4.0, -2.0, 6.0, 3.0).difference(shapely.box(-1.0, -1.0, 1.0, 1.0))
    expected = box_share(-4.0, -2.0, 6.0, 3.0) - box_share(-1.0, -1.0, 1.0, 1.0)
    assert hit_share(patch, (0.0, 0.0), 2.5) == pytest.approx(expected, abs=1e-4)


def test_two_patches_are_hit_as_often_as_both():
    one, other = shapely.box(0.5, -2.0, 4.0, 3.0), shapely.box(-6.0, 1.0, -2.0, 5.0)
    both = hit_share(shapely.union(one, other), (0.0, 0.0), 3.0)
    alone = hit_share(one, (0.0, 0.0), 3.0) + hit_share(other, (0.0, 0.0), 3.0)
    assert both == pytest.approx(alone, abs=1e-9)


def test_without_error_the_aim_decides():
    assert hit_share(DISC, (30.0, -36.0), 0.0) == 1.0
    assert hit_share(DISC, (30.0, -34.0), 0.0) == 0.0
    assert hit_share(shapely.Polygon(), (0.0, 0.0), 3.0) == 0.0


@pytest.mark.parametrize("along_deg", [0.0, 37.0, 225.0])
def test_the_largest_ellipse_of_an_oblong_touches_its_four_sides(along_deg):
    turn = math.radians(along_deg)
    back = np.array([[math.sin(turn), math.cos(turn)], [math.cos(turn), -math.sin(turn)]])
    patch = shapely.transform(shapely.box(-4.0, -2.0, 6.0, 3.0), lambda xy: xy @ back)
    found = ellipse_about(patch, tuple(np.array([1.0, 0.5]) @ back), turn)
    assert (found.along_m, found.across_m) == pytest.approx((10.0, 5.0), rel=0.01)


def test_the_largest_ellipse_of_an_ellipse_is_itself():
    drawn = shapely.transform(shapely.Point(0.0, 0.0).buffer(1.0, 256), lambda xy: xy * [3.0, 6.0])
    found = ellipse_about(drawn, (0.0, 0.0), 0.0)
    # its axis lies north: along it 12 m, across it 6 m
    assert (found.along_m, found.across_m) == pytest.approx((12.0, 6.0), rel=0.01)
    assert found.area_m2 == pytest.approx(math.pi * 18.0, rel=0.01)


def test_beside_the_patch_there_is_no_ellipse():
    assert ellipse_about(DISC, (36.0, -40.0), 0.0) is None
    assert ellipse_about(shapely.Polygon(), (0.0, 0.0), 0.0) is None


def test_a_disc_is_hit_most_often_aimed_at_its_middle():
    aim = best_aim(DISC, (33.0, -42.0), 3.0)
    assert aim == pytest.approx((30.0, -40.0), abs=0.15)


def test_a_disc_asked_place_by_place_is_a_disc():
    asked = []

    def ask(east_m, north_m):
        asked.append((east_m, north_m))
        return math.hypot(east_m - 100.0, north_m - 50.0) - 7.0

    found = found_around(ask, 101.0, 50.0, 20.0)
    patch = outline_of(found.east_m, found.north_m, found.value)
    # straight between places of the lattice
    assert patch.area == pytest.approx(math.pi * 49.0, rel=0.02)
    assert not found.cut
    assert len(set(asked)) == len(asked) == found.asked


def test_a_patch_that_goes_on_says_that_it_was_cut():
    found = found_around(lambda east_m, north_m: -1.0, 0.0, 0.0, 9.0)
    assert found.cut
    assert outline_of(found.east_m, found.north_m, found.value).area >= 300.0


def test_a_place_past_its_limit_alone_has_no_patch():
    found = found_around(lambda east_m, north_m: 0.1, 0.0, 0.0, 12.0)
    assert outline_of(found.east_m, found.north_m, found.value).is_empty


def test_what_nobody_knows_is_outside():
    def ask(east_m, north_m):
        return math.nan if east_m > 3.0 else abs(north_m) - 5.0

    found = found_around(ask, 0.0, 0.0, 12.0)
    assert outline_of(found.east_m, found.north_m, found.value).bounds[2] <= 3.0
