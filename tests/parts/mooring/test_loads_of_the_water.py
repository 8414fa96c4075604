"""Current and waves on her."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.boat import Engine, Hull
from shorefast.errors import OutsideModel
from shorefast.mooring.current_force import (
    Underbody,
    along_force,
    broadside_coefficient,
    broadside_force_n,
    current_force,
    deep_water_coefficient,
    friction_coefficient,
    printed_propeller_m2,
    underbody,
)
from shorefast.mooring.wave_drift import (
    CURVES,
    build_up_s,
    drift_bound,
    drift_bound_npm,
    fetch_sea,
    full_sea,
    regular_drift_npm,
    sea_spread,
)

HULL = Hull(12.0, 3.9, 2.0, 10_000.0, 11.0)
BODY = underbody(HULL, Engine(30_000.0, 0.5, "folding"))
ROUND = np.radians(np.arange(-180.0, 181.0, 5.0))


def test_still_water_does_nothing_to_her():
    still = current_force(BODY, 0.0, ROUND, 10.0)
    assert np.all(still.forward_n == 0.0)
    assert np.all(still.starboard_n == 0.0)


def test_a_current_pushes_the_way_it_goes():
    from_astern, on_the_port_side = [0.0, 0.5 * math.pi]
    assert current_force(BODY, 0.5, from_astern, 10.0).forward_n > 0.0
    assert current_force(BODY, 0.5, on_the_port_side, 10.0).starboard_n > 0.0


def test_a_current_to_port_is_the_mirror_of_one_to_starboard():
    one, other = current_force(BODY, 0.7, ROUND, 8.0), current_force(BODY, 0.7, -ROUND, 8.0)
    assert other.forward_n == pytest.approx(one.forward_n, abs=1e-9)
    assert other.starboard_n == pytest.approx(-one.starboard_n, abs=1e-9)


def test_less_water_under_the_keel_means_more_push_across():
    pushes = current_force(BODY, 0.7, 0.5 * math.pi, np.array([2.05, 3.0, 6.0, 50.0])).starboard_n
    assert np.all(np.diff(pushes) < 0.0)


def test_in_deep_water_hull_and_keel_drag_once_their_side():
    # 0.5 x 1025 x 0.7^2 x (11 x 0.6 + 0.2 x 11 x 2) m2, drag 1 (from memory)
    push_n = current_force(BODY, 0.7, 0.5 * math.pi, 1e6).starboard_n
    assert push_n == pytest.approx(0.5 * 1025.0 * 0.49 * 11.0, rel=1e-6)


def test_aground_every_hull_drags_as_much():
    assert broadside_coefficient(1.0, 0.5) == broadside_coefficient(1.0, 1.0) == 3.2


def test_a_keel_aft_of_midships_turns_her_bow_up_the_current():
    body = Underbody(11.0, 3.5, 0.6, 2.0, 1e4, 4.4, -0.5)
    turned = current_force(body, 0.7, 0.5 * math.pi, 10.0)
    assert turned.turning_nm == pytest.approx(-0.5 * turned.keel_n)
    assert turned.turning_nm < 0.0


def test_unknown_depth_gives_an_unknown_push_across():
    force = current_force(BODY, 0.7, 0.3, np.array([math.nan, 10.0]))
    assert np.isnan(force.starboard_n).tolist() == [True, False]


def test_a_fixed_propeller_drags_more_than_a_folding_one():
    fixed = underbody(HULL, Engine(30_000.0, 0.5, "fixed 3-blade"))
    folding_n = along_force(BODY, 0.5, 0.0).propeller_n
    assert along_force(fixed, 0.5, 0.0).propeller_n > 5.0 * folding_n
    assert underbody(HULL).propeller_m2 == 0.0


def test_all_that_pushes_along_is_the_sum_of_three():
    along = along_force(BODY, 0.5, ROUND)
    assert along.whole_n == pytest.approx(along.form_n + along.friction_n + along.propeller_n)


# chi 14.9 with the root gives the worked example's 0.85 (reference, root inferred)
def test_the_root_gives_the_worked_examples_drag():
    # LWL2 Am / (B volume) = 14.9 for LWL 10, B 2, volume 5: Am = 1.49
    body = Underbody(10.0, 2.0, 1.0, 1.0, 5.0 * 1025.0)
    assert deep_water_coefficient(body, 1.49) == pytest.approx(0.85, abs=5e-3)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (
            lambda: deep_water_coefficient(Underbody(10.0, 2.0, 1.0, 1.0, 5e3), 3.0),
            "Current on a ship: midship section 3 m2, beam times draught is 2 m2. Give a"
            " section above 0 and within that.",
        ),
        (
            lambda: broadside_coefficient(1.2),
            "Current across her: draught 1.20 of the depth, the formula holds from 0 to 1."
            " Give water at least as deep as her draught.",
        ),
        (
            lambda: broadside_coefficient(0.5, 4.0),
            "Current across her: drag 4 in deep water, the formula holds for more than 0 to"
            " 3.2. Take 1 for a keel yacht.",
        ),
        (
            lambda: broadside_force_n(7.0, 10.0, 0.2),
            "Current: 7 m/s, the formulas are for 0 to 5 m/s. Give the speed without a sign"
            " and the direction apart.",
        ),
        (
            lambda: friction_coefficient(500.0),
            "Friction of the water: Reynolds number 500, the friction line begins at 100000."
            " Leave friction out: it is under a tenth of a newton there.",
        ),
        (
            lambda: printed_propeller_m2(BODY, 50.0),
            "Propeller of a ship: area ratio 50, pitch 1 of its diameter, the formula is for"
            " 100 to 270 and 0.5 to 1.5. Give the blades' area itself.",
        ),
        (
            lambda: current_force(BODY, 0.5, 0.0, 1.5),
            "Current across her: water 1.5 m deep, she draws 2.0 m. Take the depth where she"
            " floats.",
        ),
        (
            lambda: fetch_sea("ours", 10.0, 1000.0),
            "Waves of the bay: curve 'ours', known are jonswap-1973, spm-1984, cem-2003,"
            " kahma-calkoen-1992. Take one of these.",
        ),
        (
            lambda: fetch_sea("cem-2003", [5.0, -3.0], 1000.0),
            "Waves of the bay: wind -3 m/s, the curves are for 0 to 50 m/s. Give the mean wind"
            " 10 m up.",
        ),
        (
            lambda: fetch_sea("cem-2003", 10.0, -50.0),
            "Waves of the bay: fetch -50 m, the curves are for 0 to 1000 km. Give the water to"
            " windward in metres.",
        ),
        (
            lambda: build_up_s("jonswap-1973", 10.0, 1000.0),
            "Waves of the bay: curve 'jonswap-1973', known are spm-1984, cem-2003. Take one of"
            " these.",
        ),
        (
            lambda: build_up_s("cem-2003", 0.0, 1000.0),
            "Waves of the bay: no wind, no time is long enough to raise waves. Ask for a wind"
            " above 0.",
        ),
        (
            lambda: full_sea(0.0),
            "Full sea: wind 0 m/s, more than 0 to 150 m/s wanted. Give the wind felt by the water.",
        ),
        (
            lambda: drift_bound_npm(-0.2),
            "Push of the waves: waves of -0.2 m, a height is 0 or more. Give Hm0 in metres.",
        ),
        (
            lambda: regular_drift_npm(0.2, 1.5),
            "Push of the waves: 1.5 of the wave turned back, at most the whole wave can be."
            " Give a share from 0 to 1.",
        ),
    ],
)
def test_a_formula_of_the_water_says_where_it_ends(asked, said):
    with pytest.raises(OutsideModel) as no:
        asked()
    assert str(no.value) == said


@pytest.mark.parametrize("curve", CURVES)
def test_no_wind_and_no_water_to_windward_raise_no_waves(curve):
    sea = fetch_sea(curve, [0.0, 12.0], [500.0, 0.0])
    assert sea.height_m.tolist() == [0.0, 0.0]
    assert sea.period_s.tolist() == [0.0, 0.0]


@pytest.mark.parametrize("curve", CURVES)
def test_more_wind_or_more_water_raises_more_sea(curve):
    grid = fetch_sea(curve, np.arange(4.0, 31.0)[:, None], np.geomspace(100.0, 20_000.0, 30))
    for values in grid:
        assert np.all(np.diff(values, axis=0) > 0.0)
        assert np.all(np.diff(values, axis=1) > 0.0)


@pytest.mark.parametrize("curve", CURVES)
def test_beyond_the_full_sea_more_water_changes_nothing(curve):
    sea = fetch_sea(curve, 2.0, [5e5, 1e6])
    assert sea.height_m[0] == sea.height_m[1] > 0.0
    assert sea.period_s[0] == sea.period_s[1] > 0.0


def test_a_fetch_shorter_than_any_measured_is_said():
    short = sea_spread(15.0, 300.0)
    assert not short.within_data
    assert short.basis.findings[0].said == (
        "the fetch is outside the growth curves' data for this wind; the spread between the"
        " curves is the least doubt"
    )
    long = sea_spread(10.0, 5000.0)
    assert long.within_data
    assert long.basis.findings == ()


def test_the_curves_come_side_by_side():
    spread = sea_spread(np.full((3, 2), 10.0), 1000.0)
    assert spread.height_m.shape == (3, 2, 4)
    assert spread.height_m[1, 1, 2] == fetch_sea("cem-2003", 10.0, 1000.0).height_m


def test_waves_on_the_beam_push_along_her_whole_length():
    forward_n, starboard_n = drift_bound(0.5, np.radians([0.0, 90.0, 180.0]), 12.0, 4.0)
    bound = float(drift_bound_npm(0.5))
    assert forward_n == pytest.approx([-4.0 * bound, 0.0, 4.0 * bound], abs=1e-9)
    assert starboard_n == pytest.approx([0.0, -12.0 * bound, 0.0], abs=1e-9)


def test_a_whole_regular_wave_pushes_as_an_irregular_one_of_the_same_energy():
    # Hs = 4 sqrt(m0) and a2 / 2 = m0, so a = Hs / sqrt 8
    assert regular_drift_npm(0.5 / math.sqrt(8.0)) == pytest.approx(float(drift_bound_npm(0.5)))


def test_a_wave_that_passes_under_her_pushes_nothing():
    assert regular_drift_npm(0.3, 0.0) == 0.0
