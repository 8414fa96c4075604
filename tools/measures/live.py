"""How long a run's new soundings take until the lie is judged on them."""

from __future__ import annotations

from dataclasses import replace
from importlib import resources
from pathlib import Path

import numpy as np
from measures.figure import Figure, best_s, measured

from shorefast.bay import Bounds, Soundings, fit_surface, joined
from shorefast.readers import read_stay
from shorefast.stay import Judged, Run, Stay, judge, take_in

CHARTED, NEW = 20_000, 500


def _box(stay: Stay) -> Bounds:
    grid = stay.bay.surface.grid
    rows, columns = grid.level_m.shape
    east_m = grid.west_m + (columns - 1) * grid.step_m
    return Bounds(grid.west_m, grid.south_m, east_m, grid.south_m + (rows - 1) * grid.step_m)


def _stay() -> Stay:
    """The notch by night for 51 members, its bed sounded 20,000 times."""
    demo = Path(str(resources.files("shorefast") / "demo" / "grey_notch"))
    stay = read_stay(demo / "stay_d.toml")
    grid, draw = stay.bay.surface.grid, np.random.default_rng(5)
    rows, columns = grid.level_m.shape
    east = grid.west_m + draw.uniform(0.0, (columns - 1) * grid.step_m, 3 * CHARTED)
    north = grid.south_m + draw.uniform(0.0, (rows - 1) * grid.step_m, 3 * CHARTED)
    level = stay.bay.surface.level_at(east, north) + draw.normal(0.0, 0.1, east.size)
    kept = np.flatnonzero(np.isfinite(level))[:CHARTED]
    if kept.size < CHARTED:
        raise ValueError(f"only {kept.size} soundings on a known bed")
    told = Soundings(east[kept], north[kept], level[kept], np.full(kept.size, 0.15))
    surface = fit_surface(told, bounds=_box(stay), land=stay.bay.land)
    return replace(stay, bay=replace(stay.bay, surface=surface, soundings=told))


def _run(stay: Stay, judged: Judged) -> Soundings:
    """To and fro over the berth and the chain, 0.3 m above the bed as it was."""
    rest, lie = judged.judgement.rest, stay.lie
    assert lie is not None
    share = np.linspace(0.0, 1.0, NEW)
    east = rest.east_m[0, 0] + share * (lie.let_go_east_m - rest.east_m[0, 0])
    north = rest.north_m[0, 0] + share * (lie.let_go_north_m - rest.north_m[0, 0])
    across = 4.0 * np.sin(9.0 * np.pi * share)
    east, north = east + across, north - across
    level = stay.bay.surface.level_at(east, north) + 0.3
    return Soundings(east, north, level, np.full(NEW, 0.3))


def _all_anew(stay: Stay, new: Soundings) -> Judged:
    """What it takes without a bed that takes soundings in."""
    everything = joined([stay.bay.soundings, new])
    surface = fit_surface(everything, bounds=_box(stay), land=stay.bay.land)
    return judge(replace(stay, bay=replace(stay.bay, surface=surface)))


def live_soundings() -> Figure:
    """500 new soundings into a bay of 20,000 and the whole stay judged again, warm."""
    stay = _stay()
    judged = judge(stay)
    new = _run(stay, judged)

    def again() -> None:
        judge(take_in(stay, [Run("run", new)]).stay, judged)

    again()
    cold, warm = (judge(take_in(stay, [Run("run", new)]).stay, kept) for kept in (None, judged))
    uses = (cold.judgement.greatest_use, warm.judgement.greatest_use)
    if not np.array_equal(*uses, equal_nan=True):
        raise ValueError("another answer than without anything kept")
    beside = ("the bed drawn from all and judged", best_s(lambda: _all_anew(stay, new), 2))
    return measured("live-soundings", best_s(again, 5), "s", "< 1", beside)
