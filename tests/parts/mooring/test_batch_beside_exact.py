"""Rests from tables beside rests with every line solved anew, on the demonstration's beds."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from shorefast.mooring import AIR_KGPM3, FOUND, L_FAR, L_PULL, Load, rests, solve_rest
from shorefast.readers import read_stay
from shorefast.stay.rigging import rig

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
STATES = 120
# what the project asks of the tables; docs/performance.md
MOST_M, MOST_RAD, MOST_N = 5e-3, math.radians(0.05), 5.0


def states(stay, seed):
    """Water between the stay's lowest and highest, winds of 0 to 40 m/s from all round."""
    draw = np.random.default_rng(seed)
    low_m, high_m = float(stay.water.height_m.min()), float(stay.water.height_m.max())
    level = draw.uniform(low_m, high_m, (STATES, 1))
    speed = draw.uniform(0.0, 40.0, (STATES, 1))
    return low_m, high_m, level, speed, draw.uniform(0.0, 2.0 * math.pi, (STATES, 1))


def apart(found, i, exact):
    """Shift [m], turn [rad], greatest difference of a pull and of a far end [N]."""
    q, line = found.q[i, 0], found.line[i, 0]
    turn = (exact.heading_rad - q[2] + math.pi) % (2.0 * math.pi) - math.pi
    pulls = [abs(form.pull_n - line[k, L_PULL]) for k, form in enumerate(exact.lines)]
    far_n = abs(exact.lines[0].anchor_tension_n - line[0, L_FAR])
    return math.hypot(exact.east_m - q[0], exact.north_m - q[1]), abs(turn), max(*pulls, far_n)


@pytest.mark.parametrize("place", ["grey_notch", "stone_spur", "tres_sombras"])
def test_tables_lay_her_where_the_lines_themselves_do(place):
    stay = read_stay(DEMO / place / "stay.toml")
    low_m, high_m, level, speed, blow = states(stay, 20260701)
    rigged = rig(stay, 0.5 * (low_m + high_m))
    ready = rigged.ready(low_m, high_m)
    found = rests(ready, level, speed, blow, ready.all_set)
    assert np.all(found.code == FOUND)
    rows = []
    for i in range(STATES):
        load = Load(0.0, 0.0, 0.0, speed[i, 0], blow[i, 0], AIR_KGPM3)
        at = tuple(found.q[i, 0])
        exact = solve_rest(rigged.scene, load, level[i, 0], at, arm_m=rigged.arm_m)
        assert exact.why == "found"
        rows.append(apart(found, i, exact))
    shift, turn, pull = np.array(rows).T
    past = (shift > MOST_M) | (turn > MOST_RAD) | (pull > MOST_N)
    told = (
        f"{place}: {past.sum()} of {STATES} states past 5 mm, 0.05 degrees or 5 N; worst "
        f"{1e3 * shift.max():.1f} mm, {math.degrees(turn.max()):.3f} degrees, {pull.max():.1f} N; "
        f"middle {1e3 * np.median(shift):.2f} mm, {np.median(pull):.2f} N"
    )
    assert not past.any(), told
