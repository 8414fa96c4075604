"""A yacht on a chain and two lines ashore in a gusty wind, her lines by MoorDyn.

Written for these tests; run by hand with MoorDyn installed (`pip install moordyn numpy`):
``python run.py``. Writes ``told.csv`` beside itself: time, place, heading, tensions at the
boat. MoorDyn (lumped masses, drag and added mass of every line, a bed of springs) gives the
lines' forces at the boat; inertia, drag and wind are written out here, in the bay's axes.
"""

import csv
import math
from pathlib import Path

import moordyn
import numpy as np

HERE = Path(__file__).parent
STEP_S, FOR_S, SETTLE_S = 0.01, 300.0, 60.0
# as in the test: surge and sway [kg], yaw [kg m2], drag along, strips across
SURGE_KG, SWAY_KG, YAW_KGM2, ALONG_KGPM = 12_400.0, 21_000.0, 180_000.0, 150.0
STRIPS = [(x, 950.0) for x in (-5.0, -3.0, -1.0, 1.0, 3.0, 5.0)]
FRONTAL_M2, LATERAL_M2, LENGTH_M, LEVER_M = 14.0, 31.0, 13.0, 0.4
ACROSS, AHEAD, ASTERN, DELTA, TURN, AIR = 0.95, 0.8, 0.82, 0.45, 0.18, 1.225
MEAN_MPS, SPREAD_MPS, FROM_RAD = 12.0, 2.2, 2.4
# anchor, bow; cleats on board, points ashore: forward, to starboard, up / east, north, up
ON_BOARD = [(6.3, 0.0, 1.5), (-5.6, 1.7, 1.1), (-5.6, -1.7, 1.1)]
ASHORE = [(0.0, -58.0, -17.0), (-11.9, 28.0, 4.8), (11.9, 28.0, 4.8)]

INPUT = """------------------- LINE TYPES ---------------------------------------
TypeName Diam Mass/m EA BA/-zeta EI Cd Ca CdAx CaAx
(name) (m) (kg/m) (N) (N-s/-) (N-m^2) (-) (-) (-) (-)
chain {chain_m} 2.25 1.0e6 -0.05 0 1.6 1.0 0.1 0.0
rope 0.016 0.11213 9.0e4 -0.05 0 1.2 1.0 0.0 0.0
------------------- POINTS -------------------------------------------
ID Type X Y Z Mass Volume CdA Ca
(#) (-) (m) (m) (m) (kg) (m^3) (m^2) (-)
1 Fixed 0.0 -58.0 -17.0 0 0 0 0
2 Fixed -11.9 28.0 4.8 0 0 0 0
3 Fixed 11.9 28.0 4.8 0 0 0 0
4 Coupled {0} 0 0 0 0
5 Coupled {1} 0 0 0 0
6 Coupled {2} 0 0 0 0
------------------- LINES --------------------------------------------
ID LineType AttachA AttachB UnstrLen NumSegs Outputs
(#) (-) (-) (-) (m) (-) (-)
1 chain 1 4 60.0 40 -
2 rope 2 5 25.2 12 -
3 rope 3 6 25.2 12 -
------------------- OPTIONS ------------------------------------------
9.81 g
1025 rho
17.0 WtrDpth
3.0e6 kBot
3.0e5 cBot
0.0004 dtM
2.0 dtIC
60.0 TmaxIC
4.0 CdScaleIC
0.001 threshIC
0 writeLog
------------------- END ----------------------------------------------
"""


def gusts():
    """The wind's shape, every half second: kept beside the output."""
    with (HERE / "wind.csv").open(encoding="utf-8") as file:
        return np.array([[float(x) for x in row] for row in list(csv.reader(file))[1:]])


def on_board(q):
    """Places of roller and cleats in the bay, and how they go with her rates."""
    s, c = math.sin(q[2]), math.cos(q[2])
    off = np.array([(x * s + y * c, x * c - y * s, z) for x, y, z in ON_BOARD])
    return off + np.array([q[0], q[1], 0.0]), off


def velocities(off, rate):
    """Of those places: a turn clockwise moves what is north of her to the east."""
    return np.array([(rate[0] + rate[2] * n, rate[1] - rate[2] * e, 0.0) for e, n, _ in off])


def wind_push(q, rate, blow):
    """Blendermann's formula on the wind she meets; forward, to starboard, clockwise."""
    s, c = math.sin(q[2]), math.cos(q[2])
    e, n = blow[0] + rate[0], blow[1] + rate[1]
    ahead, aside = e * s + n * c, e * c - n * s
    off, pa = math.atan2(aside, ahead), 0.5 * AIR * (ahead**2 + aside**2)
    gamma, side = abs(off), math.copysign(1.0, off)
    cdl = (AHEAD if gamma <= 0.5 * math.pi else ASTERN) * FRONTAL_M2 / LATERAL_M2
    below = 1.0 - 0.5 * DELTA * (1.0 - cdl / ACROSS) * math.sin(2.0 * gamma) ** 2
    x = -pa * LATERAL_M2 * cdl * math.cos(gamma) / below
    y = -side * pa * LATERAL_M2 * ACROSS * math.sin(gamma) / below
    return x, y, y * (LEVER_M - TURN * LENGTH_M * (gamma - 0.5 * math.pi))


def boat_forces(q, rate, blow):
    """Wind and drag in the bay's axes."""
    s, c = math.sin(q[2]), math.cos(q[2])
    u, v, r = rate[0] * s + rate[1] * c, rate[0] * c - rate[1] * s, rate[2]
    x, y, n = wind_push(q, rate, blow)
    x -= ALONG_KGPM * u * abs(u)
    for place, drag in STRIPS:
        there = v + place * r
        y -= drag * there * abs(there)
        n -= place * drag * there * abs(there)
    return np.array([x * s + y * c, x * c - y * s, n])


def gains(q, rate, force):
    """Rates of the rates, by Lagrange: inertia turns with her."""
    s, c = math.sin(q[2]), math.cos(q[2])
    a, b = SURGE_KG, SWAY_KG
    whole = np.array(
        [[a * s * s + b * c * c, (a - b) * s * c, 0.0],
         [(a - b) * s * c, a * c * c + b * s * s, 0.0], [0.0, 0.0, YAW_KGM2]]
    )  # fmt: skip
    turned = (a - b) * np.array(
        [[2 * s * c, c * c - s * s, 0.0], [c * c - s * s, -2 * s * c, 0.0], [0.0, 0.0, 0.0]]
    )
    push = force - rate[2] * turned @ rate
    push[2] += 0.5 * rate @ turned @ rate
    return np.linalg.solve(whole, push)


def main():
    """Settle in the mean wind with hard damping, then run through the gusts."""
    shape = gusts()
    s, c = math.sin(FROM_RAD), math.cos(FROM_RAD)
    q, rate = np.array([-8.06, 3.75, 2.99]), np.zeros(3)
    place, off = on_board(q)
    chain_m = math.sqrt((2.25 - 19.2 / 9.81) / 1025.0 / (math.pi / 4.0))
    text = INPUT.format(*(" ".join(f"{x:.6f}" for x in row) for row in place), chain_m=chain_m)
    (HERE / "lines.txt").write_text(text, encoding="utf-8")
    system = moordyn.Create(str(HERE / "lines.txt"))
    moordyn.Init(system, place.ravel().tolist(), velocities(off, rate).ravel().tolist())
    fairlead = [moordyn.GetLine(system, k) for k in (1, 2, 3)]
    rows, force = [], np.zeros(3)
    for n in range(round((SETTLE_S + FOR_S) / STEP_S) + 1):
        t_s = n * STEP_S - SETTLE_S
        at = max(0.0, t_s) / 0.5
        k = min(int(at), len(shape) - 2)
        along, across = shape[k] + (at - k) * (shape[k + 1] - shape[k])
        along, across = (MEAN_MPS + SPREAD_MPS * along, SPREAD_MPS * across) if t_s > 0 else (
            MEAN_MPS, 0.0)  # fmt: skip
        blow = (along * s + across * c, along * c - across * s)
        if t_s >= -1e-9 and n % 20 == 0:
            tension = [moordyn.GetLineFairTen(line) for line in fairlead]
            anchor = np.linalg.norm(moordyn.GetLineNodeTen(fairlead[0], 0))
            rows.append([round(t_s, 3), *q, *tension, anchor])
        push = boat_forces(q, rate, blow) + force
        hard = np.array([8e3, 12e3, 120e3]) * rate if t_s < 0.0 else 0.0
        rate = rate + STEP_S * gains(q, rate, push - hard)
        q = q + STEP_S * rate
        place, off = on_board(q)
        lines = np.array(
            moordyn.Step(system, place.ravel().tolist(), velocities(off, rate).ravel().tolist(),
                         n * STEP_S, STEP_S)
        ).reshape(3, 3)  # fmt: skip
        force = np.array(
            [lines[:, 0].sum(), lines[:, 1].sum(),
             sum(f[0] * o[1] - f[1] * o[0] for f, o in zip(lines, off, strict=True))]
        )  # fmt: skip
    moordyn.Close(system)
    for made in ("lines.txt", "lines.out"):
        (HERE / made).unlink(missing_ok=True)
    with (HERE / "told.csv").open("w", encoding="utf-8", newline="") as file:
        told = csv.writer(file)
        names = ("t_s", "east_m", "north_m", "heading_rad")
        told.writerow([*names, "chain_n", "west_n", "east_n", "anchor_n"])
        told.writerows([f"{x:.6g}" for x in row] for row in rows)


if __name__ == "__main__":
    main()
