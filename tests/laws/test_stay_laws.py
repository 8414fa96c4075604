"""Laws of a stay: mirrored, turned, carried elsewhere it is judged the same; more is never less."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache

import numpy as np
import pytest
from shapely.affinity import rotate, scale
from shapely.geometry import LineString, Polygon

from shorefast.basis import Basis
from shorefast.bay import Bay, DepthSurface, Frame, ShorePoint, Soundings, SurfaceGrid
from shorefast.boat import (
    Anchor,
    Cleat,
    Engine,
    Hull,
    LongLine,
    RodePiece,
    Spot,
    Underwater,
    Windage,
    Windlass,
    Yacht,
)  # fmt: skip
from shorefast.stay import Judgement, Lie, LieLine, ProofGiven, Stay, judge
from shorefast.weather import WaterLevel, Wind

BEGIN = datetime(2026, 6, 24, 8, 0, tzinfo=UTC)
HOURS = np.datetime64("2026-06-24T08:00:00") + np.arange(9) * np.timedelta64(3600, "s")
NOTHING = Basis()


def yacht() -> Yacht:
    """Twelve metres, the same to port and starboard."""
    cleats = tuple(
        Cleat(f"{side} quarter", Spot(-5.7, y, 1.2)) for side, y in (("port", -1.5), ("sb", 1.5))
    )
    lines = tuple(LongLine(f"{side} line", "polypropylene", 0.016, 60.0, 2.0)
                  for side in ("port", "sb"))  # fmt: skip
    return Yacht(
        "Made up", Hull(12.0, 4.0, 2.0, 9000.0, 11.0), Windage(12.0, 27.0, 2.8, 0.3, 0.1),
        Spot(6.0, 0.0, 1.4), cleats,
        (Underwater("keel", 0.2, 0.0, 2.0), Underwater("rudder", -5.0, 0.0, 1.7)),
        None, None, Engine(35e3, 0.45, "fixed", 2300.0), Windlass(), Anchor("scoop", 25.0),
        (RodePiece("chain", 0.010, 70.0, grade=30),), None, lines, (), NOTHING,
    )  # fmt: skip


def slope_bay() -> Bay:
    """A straight shore along N = 0, land to the north; the bed falls 1 in 4 to the south."""
    east = np.arange(-120.0, 121.0, 2.0)
    _, north = np.meshgrid(east, east)
    level = 0.25 * north - 0.5
    grid = SurfaceGrid(-120.0, -120.0, 2.0, level, np.full_like(level, 0.1))
    few = np.zeros(1)
    points = tuple(ShorePoint(f"{side} birch", "tree", e, 3.0, 3.0)
                   for side, e in (("port", 12.0), ("sb", -12.0)))  # fmt: skip
    return Bay(
        "Slope", Frame(47.5, -40.0), "UTC", "lowest tide", "mud over clay",
        DepthSurface(grid, NOTHING), Soundings(few, few, few, few),
        LineString([(-200.0, 0.0), (200.0, 0.0)]),
        Polygon([(-200, 0), (200, 0), (200, 200), (-200, 200)]), points, (), (), NOTHING,
    )  # fmt: skip


@cache
def stay() -> Stay:
    draw = np.random.default_rng(21)
    shape = (4, HOURS.size)
    gust = draw.uniform(2.0, 13.0, shape)
    blow = draw.uniform(0.0, 2.0 * math.pi, shape)
    wind = Wind(np.arange(4), HOURS, 0.6 * gust, blow, gust, 0.0, 10.0, NOTHING)
    water = WaterLevel(HOURS, np.linspace(0.3, 2.4, HOURS.size), False, NOTHING)
    lines = tuple(LieLine(f"{side} line", f"{side} quarter", f"{side} birch", 25.5)
                  for side in ("port", "sb"))  # fmt: skip
    # bow to the south, stern to the shore in the north
    lie = Lie(0.0, -72.0, 62.0, math.pi, lines)
    return Stay(
        "Slope", yacht(), slope_bay(), wind, water, BEGIN, BEGIN + timedelta(hours=8), 0.05,
        ProofGiven(2300.0, None, 0.0, 3.0), None, lie, NOTHING,
    )  # fmt: skip


@cache
def judged() -> Judgement:
    return judge(stay()).judgement


def mirrored(one: Stay) -> Stay:
    """East and west changed, port and starboard with them."""
    other = {"port": "sb", "sb": "port"}

    def named(name: str) -> str:
        side, what = name.split(" ")
        return f"{other[side]} {what}"

    grid = one.bay.surface.grid
    turned = grid._replace(level_m=np.ascontiguousarray(grid.level_m[:, ::-1]))
    bay = replace(
        one.bay,
        surface=DepthSurface(turned, NOTHING),
        shore=scale(one.bay.shore, -1.0, 1.0, origin=(0, 0)),
        land=scale(one.bay.land, -1.0, 1.0, origin=(0, 0)),
        points=tuple(replace(p, name=named(p.name), east_m=-p.east_m) for p in one.bay.points),
    )
    lines = tuple(LieLine(*map(named, (x.line, x.cleat, x.point)), x.length_m)
                  for x in one.lie.lines)  # fmt: skip
    return replace(
        one,
        bay=bay,
        wind=replace(one.wind, wind_from_rad=-one.wind.wind_from_rad),
        lie=replace(one.lie, heading_rad=-one.lie.heading_rad, lines=lines),
        proof=replace(one.proof, toward_rad=-one.proof.toward_rad),
    )


def quarter_turned(one: Stay) -> Stay:
    """The whole bay turned a quarter clockwise: north becomes east."""
    quarter = 0.5 * math.pi
    grid = one.bay.surface.grid
    # a place (e, n) goes to (n, -e): rows run to the east, columns to the south
    level = np.ascontiguousarray(grid.level_m.T[::-1, :])
    bay = replace(
        one.bay,
        surface=DepthSurface(grid._replace(level_m=level), NOTHING),
        shore=rotate(one.bay.shore, -90.0, origin=(0, 0)),
        land=rotate(one.bay.land, -90.0, origin=(0, 0)),
        points=tuple(replace(p, east_m=p.north_m, north_m=-p.east_m) for p in one.bay.points),
    )
    lie = replace(
        one.lie, let_go_east_m=one.lie.let_go_north_m, let_go_north_m=-one.lie.let_go_east_m,
        heading_rad=one.lie.heading_rad + quarter,
    )  # fmt: skip
    return replace(
        one, bay=bay, lie=lie,
        wind=replace(one.wind, wind_from_rad=one.wind.wind_from_rad + quarter),
        proof=replace(one.proof, toward_rad=one.proof.toward_rad + quarter),
    )  # fmt: skip


def same(one: Judgement, other: Judgement) -> None:
    assert other.verdict == one.verdict
    assert other.leave_by_utc == one.leave_by_utc
    both = np.isfinite(one.greatest_use) & np.isfinite(other.greatest_use)
    assert both.mean() > 0.97
    # tables of other bearings: what is asked of them is 5 N and 5 mm
    assert other.greatest_use[both] == pytest.approx(one.greatest_use[both], abs=0.01)


def test_a_stay_in_the_mirror_is_judged_the_same():
    there = judge(mirrored(stay())).judgement
    same(judged(), there)
    known = np.isfinite(judged().rest.east_m) & np.isfinite(there.rest.east_m)
    assert there.rest.east_m[known] == pytest.approx(-judged().rest.east_m[known], abs=0.02)
    assert there.rest.north_m[known] == pytest.approx(judged().rest.north_m[known], abs=0.02)


def test_a_bay_turned_by_a_quarter_is_judged_the_same():
    there = judge(quarter_turned(stay())).judgement
    same(judged(), there)
    known = np.isfinite(judged().rest.east_m) & np.isfinite(there.rest.east_m)
    assert there.rest.east_m[known] == pytest.approx(judged().rest.north_m[known], abs=0.02)
    turned = there.rest.heading_rad[known] - judged().rest.heading_rad[known]
    assert np.cos(turned - 0.5 * math.pi) == pytest.approx(1.0, abs=1e-5)


def test_the_order_of_lines_and_of_members_means_nothing():
    one = stay()
    lie = replace(one.lie, lines=one.lie.lines[::-1])
    back = slice(None, None, -1)
    wind = replace(
        one.wind, member=one.wind.member[back], wind_mps=one.wind.wind_mps[back],
        wind_from_rad=one.wind.wind_from_rad[back], gust_mps=one.wind.gust_mps[back],
    )  # fmt: skip
    there = judge(replace(one, lie=lie, wind=wind)).judgement
    assert there.verdict == judged().verdict
    assert there.share_past_limit == pytest.approx(judged().share_past_limit, nan_ok=True)
    flipped, here = there.greatest_use[back], judged().greatest_use
    known = np.isfinite(flipped) & np.isfinite(here)
    assert known.mean() > 0.97
    assert flipped[known] == pytest.approx(here[known], abs=1e-3)


def test_judged_twice_the_same_to_the_bit():
    again = judge(stay()).judgement
    assert np.array_equal(again.greatest_use, judged().greatest_use, equal_nan=True)
    assert np.array_equal(again.rest.east_m, judged().rest.east_m, equal_nan=True)


def test_a_larger_accepted_share_never_leaves_her_less_time():
    one = stay()
    strong = replace(one.wind, gust_mps=1.6 * one.wind.gust_mps)
    last = one.from_utc
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        found = judge(replace(one, wind=strong, accepted_share=share)).judgement
        past = found.past_from_utc or one.until_utc
        assert past >= last
        last = past


def test_a_stronger_wind_never_asks_less_of_the_worst_part():
    one = stay()
    steady = replace(one.wind, wind_from_rad=np.full_like(one.wind.gust_mps, 0.5 * math.pi))
    worst = []
    for factor in (0.5, 0.8, 1.1, 1.4):
        blown = replace(steady, gust_mps=np.full_like(steady.gust_mps, 10.0 * factor))
        worst.append(np.nanmax(judge(replace(one, wind=blown)).judgement.greatest_use))
    assert np.all(np.diff(worst) > 0.0)


def test_a_better_proof_never_asks_more_of_the_anchor():
    uses = []
    for pull_n in (500.0, 1500.0, 2300.0, 4000.0):
        proof = replace(stay().proof, pull_n=pull_n)
        anchor = judge(replace(stay(), proof=proof)).judgement.parts[0]
        uses.append(np.nanmax(anchor.use))
    assert np.all(np.diff(uses) <= 1e-9)


def test_the_whole_bay_lifted_with_its_water_is_the_same_bay():
    """Chart datum is only where counting begins."""
    one, lift_m = stay(), 2.5
    grid = one.bay.surface.grid
    bay = replace(
        one.bay,
        surface=DepthSurface(grid._replace(level_m=grid.level_m + lift_m), NOTHING),
        points=tuple(replace(p, height_m=p.height_m + lift_m) for p in one.bay.points),
    )
    water = replace(one.water, height_m=one.water.height_m + lift_m)
    same(judged(), judge(replace(one, bay=bay, water=water)).judgement)
