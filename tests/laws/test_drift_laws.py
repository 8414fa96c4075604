"""Drift in time: what starts her, what is left of the energy, what a mirror shows."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.mooring import (
    AIR_KGPM3,
    Domain,
    Laid,
    Load,
    Path,
    Scene,
    Seconds,
    ShoreLine,
    Spread,
    Underbody,
    WindForm,
    afloat_of,
    drift,
    moored,
    released_rests,
    rests,
    wind_force,
)

FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.955, 0.82, 0.83, 0.40, 0.13)
BODY = Underbody(12.0, 3.7, 0.63, 2.1, 11500.0, 5.0, 0.0, 0.1)
AFLOAT = afloat_of(BODY)
WIND_MPS, FROM_RAD = 14.0, math.radians(70.0)


def lines(mirrored=1.0):
    """Two stern lines and two from the bow; north is ahead, east to starboard."""
    spots = ((-6.0, -1.6, -14.0, -26.0), (-6.0, 1.6, 14.0, -26.0), (5.5, -1.1, -30.0, 12.0),
             (5.5, 1.1, 30.0, 12.0))  # fmt: skip
    return tuple(
        ShoreLine(f"{k}", x, mirrored * y, 1.4, mirrored * e, n, 3.0, length, 1.2, 9e4)
        for k, ((x, y, e, n), length) in enumerate(
            zip(spots, (24.0, 24.0, 30.2, 30.2), strict=True)
        )
    )


def tied(mirrored=1.0):
    scene = Scene(lines(mirrored), Domain(-60.0, 60.0, -60.0, 60.0), FORM)
    return moored(scene, FORM, 6.0, np.zeros(3), Spread(0.0, 1.0, 2, 3))


READY = tied()


def states(count=1, from_rad=FROM_RAD, wind_mps=WIND_MPS):
    return Path(np.full(count, 0.5), np.full(count, wind_mps), np.full(count, from_rad))


def lain(ready=READY, from_rad=FROM_RAD):
    one = states(1, from_rad)
    found = rests(ready, *(column[None] for column in one), ready.all_set)
    assert found.code[0, 0] == 0
    return found.q[0]


def let_go(*gone, ready=READY, from_rad=FROM_RAD, step_s=0.05, lasts_s=60.0):
    active = ready.without(*gone)[None]
    laid = Laid(lain(ready, from_rad), active)
    return drift(ready, AFLOAT, states(1, from_rad), laid, Seconds(lasts_s, step_s, 0.5))


def test_with_all_lines_gone_she_starts_at_force_over_mass_with_the_water_that_goes_with_her():
    q = lain()
    clock = Seconds(0.02, 0.001, 0.01)
    found = drift(READY, AFLOAT, states(), Laid(q, np.zeros((1, 4))), clock)
    push = wind_force(FORM, WIND_MPS, FROM_RAD - q[0, 2], AIR_KGPM3)
    moved = (AFLOAT.surge_kg, AFLOAT.sway_kg, AFLOAT.yaw_kgm2)
    started = found.track[0, 1, 3:6] / 0.01
    # in a hundredth of a second neither water nor her own speed counts yet
    assert started == pytest.approx(np.array(push) / np.array(moved), rel=2e-3)


def test_released_from_a_loaded_line_the_imbalance_is_what_that_line_pulled():
    q = lain()
    whole = released_rests(READY, states(), Laid(q, np.ones((1, 4))))
    pulls = whole.line[0, :, 0]
    hardest = int(np.argmax(pulls))
    active = READY.without(str(hardest))[None]
    found = drift(READY, AFLOAT, states(), Laid(q, active), Seconds(0.02, 0.001, 0.01))
    ahead, aside = found.track[0, 1, 3:5] / 0.01
    force = math.hypot(ahead * AFLOAT.surge_kg, aside * AFLOAT.sway_kg)
    assert force == pytest.approx(pulls[hardest], rel=5e-3)


@pytest.mark.parametrize("gone", [("0",), ("1",), ("0", "2"), ("0", "1", "2", "3")])
def test_what_she_moves_with_is_what_was_done_on_her_less_what_the_water_took(gone):
    found = let_go(*gone)
    y = found.track[0]
    y = y[np.isfinite(y[:, 0])]
    moves_j = 0.5 * (
        AFLOAT.surge_kg * y[:, 3] ** 2
        + AFLOAT.sway_kg * y[:, 4] ** 2
        + AFLOAT.yaw_kgm2 * y[:, 5] ** 2
    )
    # steps of the fourth order: a ten-thousandth of all that was done on her
    assert moves_j == pytest.approx(y[:, 6] - y[:, 7], abs=1e-4 * np.abs(y[:, 6]).max() + 1e-3)
    assert np.all(np.diff(y[:, 7]) >= 0.0)


def test_half_the_step_changes_her_way_by_a_millimetre_at_most():
    ways = [let_go("1", step_s=step_s).q[0] for step_s in (0.05, 0.025)]
    both = np.isfinite(ways[0]).all(axis=-1) & np.isfinite(ways[1]).all(axis=-1)
    assert both.sum() > 60
    assert np.abs(ways[0][both, :2] - ways[1][both, :2]).max() < 1e-3


def test_a_mirrored_lie_in_a_mirrored_wind_goes_the_mirrored_way():
    one = let_go("0", "2").q[0]
    other = let_go("0", "2", ready=tied(-1.0), from_rad=-FROM_RAD).q[0]
    assert other[:, 0] == pytest.approx(-one[:, 0], abs=1e-6, nan_ok=True)
    assert other[:, 1] == pytest.approx(one[:, 1], abs=1e-6, nan_ok=True)
    assert other[:, 2] == pytest.approx(-one[:, 2], abs=1e-7, nan_ok=True)


def test_a_drift_ends_at_the_rest_that_damped_motion_finds():
    """Two models of the way, one rest at its end."""
    found = let_go("0", lasts_s=600.0)
    active = READY.without("0")[None]
    rest = released_rests(READY, states(), Laid(lain(), active))
    y = found.track[0]
    last = y[np.isfinite(y[:, 0])][-1]
    # after ten minutes the swing is down to decimetres: only the square of the speed damps it
    assert math.hypot(last[0] - rest.q[0, 0], last[1] - rest.q[0, 1]) < 0.5


def test_adrift_through_a_current_without_wind_she_goes_with_the_water():
    afloat = AFLOAT._replace(current_east_mps=0.5, current_north_mps=-0.2)
    laid = Laid(np.array([[0.0, 0.0, 0.7]]), np.zeros((1, 4)))
    wide = READY.boat.space._replace(west_m=-999.0, east_m=999.0, south_m=-999.0, north_m=999.0)
    ready = replace(READY, boat=READY.boat._replace(space=wide))
    still = Load(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    found = drift(ready, afloat, states(1, 0.0, 0.0), laid, Seconds(600.0, 0.05, 1.0), still)
    step = found.q[0, -1, :2] - found.q[0, -2, :2]
    assert step == pytest.approx([0.5, -0.2], abs=0.02)


def test_the_same_drift_again_is_the_same_to_the_bit():
    assert np.array_equal(let_go("0", "2").track, let_go("0", "2").track, equal_nan=True)
