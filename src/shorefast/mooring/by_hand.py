"""What a metre on each line does: how the rest and every tension answer to each change."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from shorefast.errors import NoRest
from shorefast.mooring.batch import Moored
from shorefast.mooring.every_rest import state_of
from shorefast.mooring.following import to_balance
from shorefast.mooring.hands import Lever, Setting, levers_of
from shorefast.mooring.rest import Boat, Load, State, forces
from shorefast.mooring.scene import ShoreLine, packed
from shorefast.mooring.shapes import Floats, RodeForm
from shorefast.mooring.solve import line_form

_WITHIN_N = 1e-6
# a line this near to slack may come taut, or go slack, within a hand's breadth
_NEAR_SLACK_M = 0.25
_UNLIKE = 0.02


@dataclass(frozen=True)
class Answer:
    """How she answers to one unit: shift [m], turn clockwise [rad], tensions (line,) [N]."""

    east_m: float
    north_m: float
    heading_rad: float
    tension_n: Floats


@dataclass(frozen=True)
class ByHand:
    """How the rest answers to one thing a hand or the weather can change.

    name, unit : what is changed, and one unit of it
    more, less : the answer to more and to less of it, each for one unit more; the same,
        and that of a very small change, but at a kink
    kink : the lines that come taut or go slack within a hand's breadth (0.05 m, 0.2 m/s,
        0.02 rad, 50 N); the two answers are then those of such a change either way,
        for one unit, NaN where she does not stay beside this rest
    """

    name: str
    unit: str
    more: Answer
    less: Answer
    kink: tuple[str, ...]


class _At(NamedTuple):
    """A rest solved exactly: boat, state, place, stiffness, what it was made of."""

    boat: Boat
    state: State
    q: Floats
    stiff: Floats
    setting: Setting


def _boat_of(boat: Boat, setting: Setting) -> Boat:
    return boat._replace(lines=packed(setting.scene), exact=True)


def _at(boat: Boat, state: State, q: Floats, setting: Setting) -> _At:
    """The rest beside ``q`` under a setting.

    Raises
    ------
    NoRest
        If there is none.
    """
    boat = _boat_of(boat, setting)
    state = state._replace(load=setting.load, level_m=setting.level_m)
    at, force, stiff = q.copy(), np.empty(3), np.empty((3, 3))
    if not to_balance(boat, state, _WITHIN_N, at) or np.abs(at - q).max() > 1.0:
        raise NoRest(
            "By hand",
            f"no rest beside {q[0]:.1f} m east, {q[1]:.1f} m north",
            "the answer to a small change is asked of a rest",
            "Give the place of a rest that was found.",
        )
    forces(boat, state, at, force, stiff)
    return _At(boat, state, at, stiff, setting)


def _force_gain(at: _At, lever: Lever) -> Floats:
    """Force gained a unit at the place as it is (3,): by a central difference."""
    mask = np.zeros_like(at.state.active)
    for i in lever.lines:
        mask[i] = at.state.active[i]
    calm = Load(0.0, 0.0, 0.0, 0.0, 0.0, 1.0)
    gain, stiff = np.empty((2, 3)), np.empty((3, 3))
    for row, by in enumerate((lever.step, -lever.step)):
        new = lever.after(at.setting, by)
        load = new.load if lever.load else calm
        state = at.state._replace(load=load, level_m=new.level_m, active=mask)
        forces(_boat_of(at.boat, new), state, at.q, gain[row], stiff)
    return np.asarray((gain[0] - gain[1]) / (2.0 * lever.step))


def _tensions(at: _At, setting: Setting, q: Floats) -> Floats:
    """Tension aboard of every line (line,); NaN for one that is gone. [N]"""
    lines = packed(setting.scene)
    tension = np.full(at.state.active.size, np.nan)
    for i in np.flatnonzero(at.state.active):
        form = line_form(setting.scene, lines, int(i), q, setting.level_m)
        tension[i] = form.tension_n if isinstance(form, RodeForm) else form.cleat_tension_n
    return np.asarray(np.where(np.isnan(tension) & (at.state.active > 0), 0.0, tension))


def _answer(at: _At, lever: Lever) -> Answer:
    """The answer by the implicit function theorem: stiffness times move is force gained."""
    move = np.linalg.solve(at.stiff, _force_gain(at, lever))
    # no line's ends move more than the step itself while its tension is looked at
    step = lever.step / max(1.0, float(np.abs(move).max()) * lever.step / 1e-4)
    ends = [_tensions(at, lever.after(at.setting, by), at.q + by * move) for by in (step, -step)]
    gain = (ends[0] - ends[1]) / (2.0 * step)
    return Answer(float(move[0]), float(move[1]), float(move[2]), gain)


def _gaps(at: _At) -> Floats:
    """How far each set line is past slack (line,), below 0 where it hangs; inf where gone. [m]

    A line ashore counts as slack while its ends are nearer than it is long: what it
    pulls by its own weight before that is little, and grows by leaps just there.
    """
    scene, level_m = at.setting.scene, at.setting.level_m
    lines = packed(scene)
    gap = np.full(at.state.active.size, np.inf)
    for i in np.flatnonzero(at.state.active):
        line = scene.lines[i]
        form = line_form(scene, lines, int(i), at.q, level_m)
        if isinstance(line, ShoreLine):
            rise_m = max(0.0, line.level_m - level_m) - line.z_m
            gap[i] = math.hypot(form.distance_m, rise_m) - line.length_m
        else:
            gap[i] = form.distance_m - form.slack_distance_m
    return gap


def _unlike(one: Answer, other: Answer) -> bool:
    a, b = (
        np.array([x.east_m, x.north_m, x.heading_rad, *np.nan_to_num(x.tension_n)])
        for x in (one, other)
    )
    return not bool(np.all(np.abs(a - b) <= _UNLIKE * np.maximum(np.abs(a), np.abs(b)) + 1e-9))


def _aside(at: _At, lever: Lever, by: float) -> tuple[Answer, Floats]:
    """The answer to a change as large as a hand makes it, solved anew, and gaps after it."""
    try:
        there = _at(at.boat, at.state, at.q, lever.after(at.setting, by))
    except NoRest:
        nan = math.nan
        count = at.state.active.size
        return Answer(nan, nan, nan, np.full(count, nan)), np.full(count, nan)
    move = (there.q - at.q) / by
    before, after = (_tensions(x, x.setting, x.q) for x in (at, there))
    gain = (after - before) / by
    return Answer(float(move[0]), float(move[1]), float(move[2]), gain), _gaps(there)


def _both_sides(at: _At, lever: Lever) -> ByHand:
    """The answers to more and to less, where a line may come taut or go slack."""
    more, gap_more = _aside(at, lever, lever.breadth)
    less, gap_less = _aside(at, lever, -lever.breadth)
    names = tuple(
        line.name
        for line, one, other in zip(at.setting.scene.lines, gap_more, gap_less, strict=True)
        if (one > 0.0) != (other > 0.0)
    )
    if not names or not _unlike(more, less):
        one = _answer(at, lever)
        return ByHand(lever.name, lever.unit, one, one, ())
    return ByHand(lever.name, lever.unit, more, less, names)


def by_hand(
    ready: Moored, load: Load, level_m: float, q: Floats, active: Floats | None = None
) -> tuple[ByHand, ...]:
    """How a rest answers to everything that can be changed about it.

    Each shore line's length, chain out, where the anchor was let go, the height of each
    point, each cleat's place, the water level, wind speed and direction, a push at bow,
    stern or ahead. First order, every line solved anew; the bed stays where it is.

    Parameters
    ----------
    ready : Moored
    load : Load
        Steady; forces, moment and wind.
    level_m : float
        Water above datum. [m]
    q : array (3,)
        The rest: east [m], north [m], heading [rad], as found by any path.
    active : array (line,), optional
        1 for a line that is set.

    Returns
    -------
    tuple of ByHand
        Changes of lines that are gone are left out.

    Raises
    ------
    NoRest
        If there is no rest beside ``q``.
    """
    state = state_of(ready, load, level_m, active)
    scene = ready.scene
    setting = Setting(scene, load, level_m, float(q[2]))
    at = _at(ready.boat, state, np.array(q, float), setting)
    at = at._replace(setting=setting._replace(heading_rad=float(at.q[2])))
    near = np.abs(_gaps(at)) < _NEAR_SLACK_M
    told = []
    for lever in levers_of(scene, ready.boat.space.arm_m):
        if lever.lines and not any(state.active[i] for i in lever.lines):
            continue
        if near.any():
            told.append(_both_sides(at, lever))
            continue
        one = _answer(at, lever)
        told.append(ByHand(lever.name, lever.unit, one, one, ()))
    return tuple(told)
