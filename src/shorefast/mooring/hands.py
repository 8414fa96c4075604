"""What a hand, or the weather, can change about a lie: each as one small change."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from shorefast.mooring.rest import Load
from shorefast.mooring.scene import PlaneBed, RodeLine, Scene, ShoreLine

# small enough for a difference; and what a hand, or a breath of wind, may make of it
_STEP_M, _STEP_RAD, _STEP_MPS, _STEP_N = 1e-4, 1e-5, 1e-4, 1.0
_BREADTH_M, _BREADTH_RAD, _BREADTH_MPS, _BREADTH_N = 0.05, 0.02, 0.2, 50.0


class Setting(NamedTuple):
    """All that decides where she lies: lines, load, water level, her heading now."""

    scene: Scene
    load: Load
    level_m: float
    heading_rad: float


class Lever(NamedTuple):
    """One thing that can be changed.

    name, unit : what it is and what one unit of it is; lines : those it acts on
    directly; load : whether it changes the load; step : a change small enough to take
    differences with; breadth : a change a hand may make; after : the setting after one
    """

    name: str
    unit: str
    lines: tuple[int, ...]
    load: bool
    step: float
    breadth: float
    after: Callable[[Setting, float], Setting]


def _moved(
    change: Callable[[RodeLine | ShoreLine, float], RodeLine | ShoreLine], lines: tuple[int, ...]
) -> Callable[[Setting, float], Setting]:
    def after(now: Setting, by: float) -> Setting:
        kept = tuple(
            change(line, by) if i in lines else line for i, line in enumerate(now.scene.lines)
        )
        return now._replace(scene=replace(now.scene, lines=kept))

    return after


def _field(name: str) -> Callable[[RodeLine | ShoreLine, float], RodeLine | ShoreLine]:
    return lambda line, by: replace(line, **{name: getattr(line, name) + by})


def _chain(line: RodeLine | ShoreLine, by_m: float) -> RodeLine | ShoreLine:
    """More chain: what is inside a snubber's hook stays as it is."""
    assert isinstance(line, RodeLine)
    return line.veered(by_m)


def _let_go(east: float, north: float) -> Callable[[RodeLine | ShoreLine, float], RodeLine]:
    """The anchor elsewhere; the bed stays where it is."""

    def change(line: RodeLine | ShoreLine, by_m: float) -> RodeLine:
        assert isinstance(line, RodeLine)
        bed = line.bed
        if isinstance(bed, PlaneBed):
            rise = bed.rise_east * east + bed.rise_north * north
            bed = replace(bed, level_at_anchor_m=bed.level_at_anchor_m + by_m * rise)
        return replace(
            line, east_m=line.east_m + by_m * east, north_m=line.north_m + by_m * north, bed=bed
        )

    return change


def _grouped(scene: Scene, key: Callable[[RodeLine | ShoreLine], object]) -> list[tuple[int, ...]]:
    """Shore lines that share a cleat or a point."""
    groups: dict[object, list[int]] = {}
    for i, line in enumerate(scene.lines):
        if isinstance(line, ShoreLine):
            groups.setdefault(key(line), []).append(i)
    return [tuple(group) for group in groups.values()]


def _line_levers(scene: Scene) -> list[Lever]:
    levers = []
    for i, line in enumerate(scene.lines):
        at = (i,)
        if isinstance(line, ShoreLine):
            length = _moved(_field("length_m"), at)
            levers.append(
                Lever(f"{line.name}: length", "m", at, False, _STEP_M, _BREADTH_M, length)
            )
            continue
        for what, change in (
            ("chain out", _chain),
            ("let go farther east", _let_go(1.0, 0.0)),
            ("let go farther north", _let_go(0.0, 1.0)),
        ):
            told = f"{line.name}: {what}"
            levers.append(Lever(told, "m", at, False, _STEP_M, _BREADTH_M, _moved(change, at)))
    return levers


def _shared_levers(scene: Scene) -> list[Lever]:
    def names(group: tuple[int, ...]) -> str:
        return " and ".join(scene.lines[i].name for i in group)

    levers = [
        Lever(
            f"{names(g)}: point higher",
            "m",
            g,
            False,
            _STEP_M,
            _BREADTH_M,
            _moved(_field("level_m"), g),
        )
        for g in _grouped(scene, lambda line: (line.east_m, line.north_m))
    ]
    for group in _grouped(scene, lambda line: (line.x_m, line.y_m)):
        for field, words in (("x_m", "forward"), ("y_m", "to starboard")):
            told = f"{names(group)}: cleat farther {words}"
            change = _moved(_field(field), group)
            levers.append(Lever(told, "m", group, False, _STEP_M, _BREADTH_M, change))
    return levers


def _push(ahead: float, starboard: float, at_m: float) -> Callable[[Setting, float], Setting]:
    """A push on the hull, body axes, at a place forward of her middle."""

    def after(now: Setting, by_n: float) -> Setting:
        sine, cosine = math.sin(now.heading_rad), math.cos(now.heading_rad)
        load = now.load
        return now._replace(
            load=load._replace(
                east_n=load.east_n + by_n * (ahead * sine + starboard * cosine),
                north_n=load.north_n + by_n * (ahead * cosine - starboard * sine),
                moment_npm=load.moment_npm + by_n * starboard * at_m,
            )
        )

    return after


def _more(field: str) -> Callable[[Setting, float], Setting]:
    return lambda now, by: now._replace(
        load=now.load._replace(**{field: getattr(now.load, field) + by})
    )


def levers_of(scene: Scene, arm_m: float) -> tuple[Lever, ...]:
    """Everything a hand or the weather can change; ``arm_m`` from her middle to bow or stern."""
    every = tuple(range(len(scene.lines)))
    weather = [
        Lever("water level", "m", every, False, _STEP_M, _BREADTH_M,
              lambda now, by: now._replace(level_m=now.level_m + by)),
        Lever("wind speed", "m/s", (), True, _STEP_MPS, _BREADTH_MPS, _more("wind_mps")),
        Lever("wind veering", "rad", (), True, _STEP_RAD, _BREADTH_RAD, _more("wind_from_rad")),
        Lever("push to starboard at the bow", "N", (), True, _STEP_N, _BREADTH_N,
              _push(0.0, 1.0, arm_m)),
        Lever("push to starboard at the stern", "N", (), True, _STEP_N, _BREADTH_N,
              _push(0.0, 1.0, -arm_m)),
        Lever("push ahead", "N", (), True, _STEP_N, _BREADTH_N, _push(1.0, 0.0, 0.0)),
    ]  # fmt: skip
    return (*_line_levers(scene), *_shared_levers(scene), *weather)
