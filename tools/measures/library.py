"""A general mooring-statics library beside ours: one rode, and whole boats on level beds.

The library is moorpy, needed by tests and benchmarks only. Two of its ways are heeded: it
mixes weights in air and water by the height of a line's ends, so a whole scene is handed
over far under its water with weights as they are; and its whole systems know no friction
at the bed, so theirs are frictionless.
"""

from __future__ import annotations

import math
import warnings
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Any

import numpy as np
from measures.lies import Drawn, Floats
from measures.own_lines import Rode

from shorefast.mooring import Load, PlaneBed, RodeLine, ShoreLine

THERE = find_spec("moorpy") is not None
NAME = "a general mooring-statics library (moorpy)"
_G, _UNDER_M = 9.80665, 300.0


@dataclass(frozen=True)
class Told:
    """What the library makes of a rode: pulls [N], what lies [m], the angle at the shank."""

    level_n: float
    down_n: float
    shank_n: float
    lies_m: float
    shank_rad: float


def library_rode(rode: Rode, distance_m: float, rise_m: float) -> Told | None:
    """The library's rode of one piece at a distance; None where it finds none."""
    from moorpy.Catenary import catenary
    from moorpy.helpers import CatenaryError

    ((length_m, weight_npm, stiffness_n),) = rode.pieces
    # its friction is a share of the weight along the bed, ours of the weight across it
    share = rode.friction * math.cos(rode.slope_rad)
    try:
        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore")
            a_n, av_n, b_n, bv_n, more = catenary(
                distance_m, rise_m, length_m, stiffness_n, weight_npm, CB=share,
                alpha=math.degrees(rode.slope_rad), Tol=1e-9, MaxIter=200,
            )  # fmt: skip
    except CatenaryError:
        return None
    lies_m = float(more["LBot"])
    shank = rode.slope_rad if lies_m > 0.0 else math.atan2(av_n, a_n)
    return Told(-float(b_n), -float(bv_n), math.hypot(a_n, av_n), lies_m, shank)


def library_boat(lie: Drawn, load: Load, start: Floats) -> Any:
    """A lie on a level bed under a dead load as a system of the library.

    Raises
    ------
    ValueError
        For a rode of more than one piece or a bed that is not level.
    """
    import moorpy

    rode = lie.scene.lines[0]
    if not isinstance(rode, RodeLine) or rode.segments.length_m.size > 1:
        raise ValueError("one piece of rode wanted")
    if not isinstance(rode.bed, PlaneBed) or rode.bed.rise_east or rode.bed.rise_north:
        raise ValueError("a level bed wanted")
    lower_m = _UNDER_M + lie.level_m
    system = moorpy.System(depth=lower_m - rode.bed.level_at_anchor_m, rho=1025.0, g=_G)
    pushed = np.array([load.east_n, load.north_n, 0.0, 0.0, 0.0, -load.moment_npm])
    pose = np.array([start[0], start[1], -_UNDER_M, 0.0, 0.0, 0.5 * math.pi - start[2]])
    system.addBody(0, pose, f6Ext=pushed, DOFs=[0, 1, 5])
    for line in lie.scene.lines:
        _add(system, line, lower_m, lie.level_m)
    system.initialize()
    return system


def _add(system: Any, line: RodeLine | ShoreLine, lower_m: float, level_m: float) -> None:
    if isinstance(line, RodeLine):
        length_m, weight_npm, stiffness_n = (float(part[0]) for part in line.segments[:3])
        assert isinstance(line.bed, PlaneBed)
        far_m = line.bed.level_at_anchor_m - lower_m
    else:
        length_m, weight_npm = line.length_m, line.weight_npm
        stiffness_n = line.axial_stiffness_n
        far_m = max(line.level_m, level_m) - lower_m
    system.addPoint(1, np.array([line.east_m, line.north_m, far_m]))
    far = len(system.pointList)
    system.addPoint(1, np.zeros(3))
    near = len(system.pointList)
    system.bodyList[0].attachPoint(near, np.array([line.x_m, -line.y_m, line.z_m]))
    kind = {
        "name": line.name, "material": "chain", "d_nom": 0.0, "d_vol": 0.0,
        "m": weight_npm / _G, "w": weight_npm, "EA": stiffness_n,
    }  # fmt: skip
    system.addLine(length_m, kind, pointA=far, pointB=near)


def library_rest(system: Any, tol: float = 1e-6) -> Floats | None:
    """Where the library's boat comes to rest: east, north, heading; None if it finds none."""
    with warnings.catch_warnings(), np.errstate(all="ignore"):
        warnings.simplefilter("ignore")
        try:
            settled = system.solveEquilibrium(tol=tol, maxIter=2000, no_fail=True)
        except Exception:  # noqa: BLE001 - whatever it raises, it found none
            return None
    if not settled:
        return None
    pose = system.bodyList[0].r6
    return np.array([pose[0], pose[1], 0.5 * math.pi - pose[5]])
