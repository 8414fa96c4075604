"""Our rode beside a chain of bars found by least energy over a broken bed.

Nothing is shared with the statics under test. A chain without friction carries a tension
that grows with its height alone, T = w z + T0, and of all ways to lead 600 bars between
anchor and roller, none of them under the bed, it takes the one with the least sum of
T times length. That is sought by damped Newton steps with the joints on the bed held
there; T0 is then chosen so that the bars together are as long as the chain. The corners of
the bed are joints, so no corner is cut.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import solve_banded
from scipy.optimize import brentq

from shorefast.mooring import BedLine, LineSegments, rode_at_distance

BARS = 600
WEIGHT_NPM = 19.2


def joints(bed, distance_m):
    """Places of the joints: even, those nearest a corner of the bed moved onto it."""
    x = np.linspace(0.0, distance_m, BARS + 1)
    for corner in bed.along_m:
        if 0.0 < corner < distance_m:
            x[np.argmin(np.abs(x - corner))] = corner
    return x


def cost(z, across, start_n):
    """Sum of tension times length. [N m]"""
    middle = 0.5 * (z[1:] + z[:-1])
    return float(np.sum((WEIGHT_NPM * middle + start_n) * np.hypot(across, np.diff(z))))


def downhill(z, across, start_n):
    """Slope of the sum by the height of each inner joint, and its three bands."""
    rise = np.diff(z)
    run = np.hypot(across, rise)
    tension = WEIGHT_NPM * 0.5 * (z[1:] + z[:-1]) + start_n
    sine = rise / run
    half = 0.5 * WEIGHT_NPM
    first = half * (run[:-1] + run[1:]) + (tension * sine)[:-1] - (tension * sine)[1:]
    bend = tension * across**2 / run**3
    own = bend[:-1] + bend[1:] + WEIGHT_NPM * (sine[:-1] - sine[1:])
    return first, own, -bend[1:-1]


def hung(z, floor, across, start_n):
    """The joints' heights of least cost, none under the floor; None where it has no least."""
    drag, now = 0.0, cost(z, across, start_n)
    for _ in range(300):
        first, own, beside = downhill(z, across, start_n)
        held = (z[1:-1] <= floor[1:-1]) & (first > 0.0)
        if np.abs(np.where(held, 0.0, first)).max() < 1e-9:
            return z
        bands = np.zeros((3, first.size))
        bands[1] = np.where(held, 1.0, np.abs(own) + drag)
        bands[0, 1:] = np.where(held[:-1] | held[1:], 0.0, beside)
        bands[2, :-1] = bands[0, 1:]
        step = -solve_banded((1, 1), bands, np.where(held, 0.0, first))
        moved = z.copy()
        moved[1:-1] = np.maximum(floor[1:-1], z[1:-1] + step)
        then = cost(moved, across, start_n)
        if then <= now + 1e-12 * abs(now):
            z, now, drag = moved, then, 0.3 * drag
        else:
            drag = max(4.0 * drag, 1.0)
    return z


def chain_of_bars(bed, bow_m, distance_m, length_m):
    """Level and downward pull at the roller and tension at the shank. [N]"""
    x = joints(bed, distance_m)
    across = np.diff(x)
    floor = np.interp(x, bed.along_m, bed.level_m)
    kept = {"z": np.maximum(floor, floor[0] + (bow_m - floor[0]) * x / distance_m)}

    def too_long(start_n):
        kept["z"] = hung(kept["z"], floor, across, start_n)
        kept["z"][[0, -1]] = floor[0], bow_m
        return float(np.hypot(across, np.diff(kept["z"])).sum()) - length_m

    kept["z"][-1] = bow_m
    high_n = 60e3
    low_n = high_n
    while too_long(low_n) < 0.0 and low_n > 1.0:
        low_n *= 0.8
    start_n = brentq(too_long, low_n, low_n / 0.8, xtol=1e-7)
    too_long(start_n)
    z = kept["z"]
    bow_n, shank_n = WEIGHT_NPM * bow_m + start_n, WEIGHT_NPM * floor[0] + start_n
    middle_n = WEIGHT_NPM * 0.5 * (z[-1] + z[-2]) + start_n
    level_n = middle_n * across[-1] / np.hypot(across[-1], z[-1] - z[-2])
    return level_n, np.sqrt(bow_n**2 - level_n**2), shank_n


BEDS = {
    "level": ([-50.0, 200.0], [0.0, 0.0]),
    "a hollow": ([-50.0, 15.0, 30.0, 200.0], [0.0, 0.0, 6.0, 23.0]),
    "a ledge": ([-50.0, 16.0, 24.0, 200.0], [0.0, 0.0, 4.0, 4.0]),
    "a hump": ([-50.0, 12.0, 20.0, 28.0, 200.0], [0.0, 0.0, 3.0, 0.0, 0.0]),
    "steps up": ([-50.0, 10.0, 14.0, 26.0, 32.0, 200.0], [0.0, 0.0, 3.0, 3.5, 8.0, 9.0]),
}
# bed, level of the roller, chain, share of the way from slack to straight
STATES = [
    (name, bow_m, length_m, share)
    for name, bow_m, length_m in [
        ("level", 14.0, 55.0), ("a hollow", 20.0, 55.0), ("a ledge", 11.0, 51.0),
        ("a hump", 12.0, 55.0), ("steps up", 18.0, 60.0),
    ]
    for share in (0.80, 0.90, 0.97, 0.99)
]  # fmt: skip


@pytest.mark.parametrize(("name", "bow_m", "length_m", "share"), STATES)
def test_the_rode_pulls_as_the_chain_of_least_energy(name, bow_m, length_m, share):
    bed = BedLine(*(np.array(part) for part in BEDS[name]))
    rode = LineSegments(np.array([length_m]), np.array([WEIGHT_NPM]), np.array([1e12]))
    slack_m = rode_at_distance(rode, bed, 0.0, bow_m, 1.0).slack_distance_m
    straight_m = np.sqrt(length_m**2 - bow_m**2)
    distance_m = slack_m + share * (straight_m - slack_m)
    form = rode_at_distance(rode, bed, 0.0, bow_m, distance_m)
    level_n, down_n, shank_n = chain_of_bars(bed, bow_m, distance_m, length_m)
    # bars of 9 cm have a chord for an arc: some ten thousandths of length, more of the pull
    # where the chain is nearly straight
    assert form.pull_n == pytest.approx(level_n, rel=3e-3)
    assert form.down_n == pytest.approx(down_n, rel=3e-3)
    assert form.anchor_tension_n == pytest.approx(shank_n, rel=3e-3)
