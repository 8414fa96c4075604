"""Where the time of a rest goes: each piece of the quick path run a million times by itself.

    python tools/profile_rests.py

The lie and its tables are the notch's, as in `make bench`. Processor time, least of three.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np
from measures.commands import NOTCH

from shorefast.compiled import lean_kernel
from shorefast.mooring import rests
from shorefast.mooring.cells import Q_EAST, Q_NORTH, Q_X, Q_Y, Cells, Water, level_cell, look_up
from shorefast.mooring.quick import (
    Air,
    Near,
    balance,
    fresh_near,
    newton_step,
    put_at,
    tell_lines,
    wind_near,
)
from shorefast.mooring.shapes import Floats
from shorefast.mooring.wind_load import AIR_KGPM3
from shorefast.readers import read_stay
from shorefast.stay import judge

TIMES = 1_000_000
LEVEL_M, WIND_MPS, FROM_RAD = 2.5, 9.0, 4.5


@lean_kernel
def balances(
    cells: Cells, active: Floats, wind: Floats, at: tuple[Water, Air, Near], n: int
) -> float:
    """So many balances, each a hair farther east."""
    water, air, near = at
    total = 0.0
    for _ in range(n):
        near.q[0] += 1e-8
        total += balance(cells, active, wind, water, air, near)[0]
    return total


@lean_kernel
def look_ups(
    cells: Cells, water: Water, near: Near, line: tuple[int, float, float], n: int
) -> float:
    """So many look-ups of one line, each a hair farther off."""
    i, de_m, dn_m = line
    total = 0.0
    for k in range(n):
        total += look_up(cells, water, near.hint, i, de_m + k * 1e-9, dn_m, near.work)[0]
    return total


@lean_kernel
def winds(wind: Floats, n: int) -> float:
    """So many look-ups of the wind's force."""
    total = 0.0
    for k in range(n):
        total += wind_near(wind, 0.3 + k * 1e-8)[0]
    return total


@lean_kernel
def steps(k: Floats, n: int) -> float:
    """So many Newton steps."""
    total = 0.0
    for _ in range(n):
        k[0, 0] += 1e-7
        total += newton_step(k, (1.0, 2.0, 3.0), 36.0)[1]
    return total


@lean_kernel
def tellings(cells: Cells, active: Floats, at: tuple[Water, Near], out: Floats, n: int) -> float:
    """So many times every line's state written."""
    water, near = at
    for _ in range(n):
        near.work[0, 0] += 1e-9
        tell_lines(cells, active, water, near, out)
    return float(out[0, 0])


def each_ns(act: Callable[[int], object]) -> float:
    """Processor time of one of many, least of three. [ns]"""
    act(10)
    least_s = np.inf
    for _ in range(3):
        begun = time.process_time()
        act(TIMES)
        least_s = min(least_s, time.process_time() - begun)
    return float(least_s / TIMES * 1e9)


def main() -> int:
    """Print the table."""
    ready = judge(read_stay(NOTCH / "stay_d.toml")).ready
    cells, active, wind = ready.boat.cells, ready.all_set, ready.boat.wind
    one = np.ones((1, 1))
    q = rests(ready, LEVEL_M * one, WIND_MPS * one, FROM_RAD * one, active).q[0, 0]
    near, water = fresh_near(active.size), level_cell(cells.level_m, LEVEL_M)
    put_at(near.q, *q)
    air = Air(FROM_RAD, AIR_KGPM3 * WIND_MPS**2, (0.0, 0.0, 0.0))
    at = (water, air, near)
    rows = [("a balance of all lines", each_ns(lambda n: balances(cells, active, wind, at, n)))]
    for i, line in enumerate(ready.scene.lines):
        put_at(near.q, *q)
        s, (sine, cosine) = cells.spec[i], near.q[3:]
        de_m = s[Q_EAST] - q[0] - s[Q_X] * sine - s[Q_Y] * cosine
        dn_m = s[Q_NORTH] - q[1] - s[Q_X] * cosine + s[Q_Y] * sine
        told = (i, float(de_m), float(dn_m))
        ns = each_ns(lambda n, told=told: look_ups(cells, water, near, told, n))  # type: ignore[misc]
        rows.append((f"a look-up of {line.name}", ns))
    rows.append(("the wind's force", each_ns(lambda n: winds(wind, n))))
    rows.append(("a Newton step", each_ns(lambda n: steps(near.k, n))))
    out = np.zeros((active.size, 8))
    told_ns = each_ns(lambda n: tellings(cells, active, (water, near), out, n))
    rows.append(("every line's state written", told_ns))
    for name, ns in rows:
        print(f"{name:<55}{ns:8.1f} ns")
    return 0


if __name__ == "__main__":
    sys.exit(main())
