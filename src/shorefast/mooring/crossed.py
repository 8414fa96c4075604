"""Lines that cross in plan, and lines so tight that a hand's breadth doubles their load."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from shorefast.basis import Finding
from shorefast.mooring.batch import Moored
from shorefast.mooring.every_rest import state_of
from shorefast.mooring.rest import FOUND, Load, come_to_rest
from shorefast.mooring.scene import RodeLine, Scene, ShoreLine, packed
from shorefast.mooring.shapes import Floats
from shorefast.mooring.solve import line_form

SHORTER_M = 0.1
_AT_END = 1e-6
_NO_SAG = 0.5
_WITHIN_N = 1e-6


@dataclass(frozen=True)
class Crossing:
    """Two lines that cross, seen from above, and where."""

    first: str
    second: str
    east_m: float
    north_m: float

    @property
    def finding(self) -> Finding:
        """The same in words."""
        said = f"{self.first} and {self.second} cross: they chafe where they touch"
        return Finding("Lines", said)


@dataclass(frozen=True)
class BarTight:
    """A line without sag whose load more than doubles when it is shortened by 0.1 m.

    tension_n : at the cleat now; shorter_n : after 0.1 m is hauled in, she lying anew
    """

    name: str
    tension_n: float
    shorter_n: float

    @property
    def finding(self) -> Finding:
        """The same in words."""
        said = (
            f"{self.name} is bar-tight: 0.1 m shorter it carries"
            f" {self.shorter_n / 1e3:.1f} kN instead of {self.tension_n / 1e3:.1f} kN"
        )
        return Finding("Lines", said)


def _ends(line: RodeLine | ShoreLine, q: Floats) -> tuple[Floats, Floats]:
    """Plan positions of a line's body point and far end."""
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    aboard = np.array(
        [q[0] + line.x_m * sine + line.y_m * cosine, q[1] + line.x_m * cosine - line.y_m * sine]
    )
    return aboard, np.array([line.east_m, line.north_m])


def _meet(one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> Floats | None:
    """Where two stretches cross within both; None where they do not, or share an end."""
    a, b = one[1] - one[0], other[1] - other[0]
    area = a[0] * b[1] - a[1] * b[0]
    if area == 0.0:
        return None
    gap = other[0] - one[0]
    s = (gap[0] * b[1] - gap[1] * b[0]) / area
    t = (gap[0] * a[1] - gap[1] * a[0]) / area
    inside = _AT_END < s < 1.0 - _AT_END and _AT_END < t < 1.0 - _AT_END
    return np.asarray(one[0] + s * a) if inside else None


def crossings(scene: Scene, q: Floats, active: Floats) -> tuple[Crossing, ...]:
    """Pairs of set lines that cross in plan where she lies.

    Lines are drawn straight from cleat or roller to their far ends; two from one cleat
    or to one point do not cross. How high each hangs is left out.
    """
    found = []
    on = [line for line, set_now in zip(scene.lines, active, strict=True) if set_now]
    for one, other in combinations(on, 2):
        place = _meet(_ends(one, q), _ends(other, q))
        if place is not None:
            found.append(Crossing(one.name, other.name, float(place[0]), float(place[1])))
    return tuple(found)


def _tension_n(scene: Scene, i: int, q: Floats, level_m: float) -> tuple[float, float]:
    """Tension at the cleat of shore line ``i``, and its stiffness. [N], [N/m]"""
    form = line_form(scene, packed(scene), i, q, level_m)
    return float(getattr(form, "cleat_tension_n", math.nan)), form.stiffness_npm


def bar_tight(
    ready: Moored, load: Load, level_m: float, q: Floats, active: Floats | None = None
) -> tuple[BarTight, ...]:
    """Shore lines whose load changes by more than they carry for 0.1 m of shortening.

    Only lines whose sag is used up (most of their give is the rope's own stretch)
    count: a line that hangs in a bight may double its few newtons too. She is brought
    to rest anew with each line shortened, every line solved exactly.
    """
    state = state_of(ready, load, level_m, active)
    found = []
    for i, line in enumerate(ready.scene.lines):
        if not isinstance(line, ShoreLine) or not state.active[i]:
            continue
        now_n, stiff_npm = _tension_n(ready.scene, i, q, level_m)
        if not stiff_npm > _NO_SAG * line.tangent_n(now_n) / line.length_m:
            continue
        less = replace(line, length_m=line.length_m - SHORTER_M)
        scene = replace(
            ready.scene, lines=(*ready.scene.lines[:i], less, *ready.scene.lines[i + 1 :])
        )
        boat = ready.boat._replace(lines=packed(scene), exact=True)
        at = np.array(q, float)
        if come_to_rest(boat, state, _WITHIN_N, at) != FOUND:
            continue
        then_n, _ = _tension_n(scene, i, at, level_m)
        if then_n - now_n > now_n:
            found.append(BarTight(line.name, now_n, then_n))
    return tuple(found)
