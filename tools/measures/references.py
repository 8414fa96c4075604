"""What others reach in the same process: a general library, a general root finder."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import numpy as np
from measures.library import THERE, library_boat, library_rest
from measures.lies import Drawn, Floats
from measures.lies_checked import place
from scipy.interpolate import CubicHermiteSpline
from scipy.optimize import root

from shorefast.mooring import (
    BedLine,
    Domain,
    LineSegments,
    Load,
    PlaneBed,
    RodeForm,
    RodeLine,
    Scene,
    ShoreLine,
    ShoreLineForm,
    ShoreRope,
    WindForm,
    rode_at_distance,
    shore_line_at_distance,
    solve_rest,
)

_CHAIN = LineSegments(np.array([60.0]), np.array([19.2]), np.array([8.5e6]))
_FORM = WindForm(14.0, 31.0, 13.0, 0.4, 0.95, 0.8, 0.82, 0.45)
_RODE_M = np.linspace(40.0, 57.6, 200)
_LEAST_S = 0.5


def three_lines() -> Drawn:
    """Thirteen metres, a chain and two stern lines over a level bed: what all three can do."""
    rode = RodeLine("rode", 6.3, 0.0, 1.5, 0.0, -56.0, _CHAIN, PlaneBed(-17.0, 0.0, 0.0), 0.0)
    lines = tuple(
        ShoreLine(f"stern {side:g}", -5.6, side, 1.1, -7.0 * side, 28.0, 4.8, 25.3, 1.1, 9e4)
        for side in (1.7, -1.7)
    )
    scene = Scene((rode, *lines), Domain(-40.0, 40.0, -40.0, 30.0), _FORM)
    return Drawn(0, "level", scene, _load(0), 0.0, (0.0, 0.0, math.pi), 6.5)


def _load(k: int) -> Load:
    """A dead load that wanders slowly, as a wind does."""
    east_n, north_n = 600.0 * math.sin(0.03 * k), -900.0 - 300.0 * math.cos(0.02 * k)
    return Load(east_n, north_n, 200.0 * math.sin(0.01 * k), 0.0, 0.0, 1.0)


def per_second(act: Callable[[int], None]) -> float:
    """How often a thing can be done in a second."""
    begun, count = time.perf_counter(), 0
    while time.perf_counter() - begun < _LEAST_S:
        act(count)
        count += 1
    return count / (time.perf_counter() - begun)


def library_per_s() -> float | None:
    """Equilibria a second of the general library's three-line system; None without it."""
    if not THERE:
        return None
    lie = three_lines()
    rest = solve_rest(lie.scene, lie.load, 0.0, lie.start, arm_m=lie.arm_m)
    system = library_boat(lie, lie.load, place(rest))

    def once(k: int) -> None:
        load = _load(k)
        system.bodyList[0].f6Ext = np.array(
            [load.east_n, load.north_n, 0.0, 0.0, 0.0, -load.moment_npm]
        )
        if library_rest(system, tol=1e-3) is None:
            raise ArithmeticError("the library found no equilibrium")

    return per_second(once)


def _curve(line: RodeLine | ShoreLine) -> CubicHermiteSpline:
    """Pull against distance as a table with cubics between: what a numeric tool would make."""
    x_m = np.linspace(20.0, 32.0, 200) if isinstance(line, ShoreLine) else _RODE_M
    forms = [_form(line, float(x)) for x in x_m]
    return CubicHermiteSpline(x_m, [f.pull_n for f in forms], [f.stiffness_npm for f in forms])


def _form(line: RodeLine | ShoreLine, x_m: float) -> RodeForm | ShoreLineForm:
    if isinstance(line, ShoreLine):
        rope = ShoreRope(line.length_m, line.weight_npm, line.axial_stiffness_n)
        return shore_line_at_distance(rope, line.z_m, line.level_m, x_m)
    bed = BedLine(np.array([-90.0, 90.0]), np.full(2, -17.0))
    return rode_at_distance(line.segments, bed, line.friction, line.z_m, x_m)


def root_finder_per_s() -> float:
    """Equilibria a second of scipy.optimize.root on numpy tables of the same three lines."""
    lie = three_lines()
    lines = lie.scene.lines
    curves = [_curve(line) for line in lines]
    body = np.array([[line.x_m, line.y_m] for line in lines])
    far = np.array([[line.east_m, line.north_m] for line in lines])
    at = place(solve_rest(lie.scene, lie.load, 0.0, lie.start, arm_m=lie.arm_m))

    def forces(q: Floats, load: Load) -> Floats:
        sine, cosine = math.sin(q[2]), math.cos(q[2])
        off = body @ np.array([[sine, cosine], [cosine, -sine]])
        gap = far - q[:2] - off
        far_m = np.hypot(gap[:, 0], gap[:, 1])
        pull = np.array([float(curve(x)) for curve, x in zip(curves, far_m, strict=True)])
        f = (pull / far_m)[:, np.newaxis] * gap
        turn = float(np.sum(f[:, 0] * off[:, 1] - f[:, 1] * off[:, 0]))
        east_n, north_n = f.sum(axis=0)
        return np.array(
            [east_n + load.east_n, north_n + load.north_n, (turn + load.moment_npm) / lie.arm_m]
        )

    def once(k: int) -> None:
        found = root(forces, at, (_load(k),), tol=1e-8)
        if np.abs(found.fun).max() > 0.01:
            raise ArithmeticError("the root finder found no equilibrium")
        at[:] = found.x

    return per_second(once)
