"""Choosing a lie in a small made bay: mirrored, in more wind, with a zone, by brute force."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString, box

from shorefast.bay import ShorePoint, Zone
from shorefast.readers import read_stay
from shorefast.stay import Neighbour, choose, choose_loss, choose_search
from shorefast.stay.choose_ashore import ashore, stern_ends
from shorefast.stay.choose_lies import berth, let_go, plain_lie
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import LOST, Hunt, hour_use
from shorefast.stay.choose_stages import berths, plain

STAY = Path(__file__).parents[2] / "src" / "shorefast" / "demo" / "stone_spur" / "stay_k_day.toml"
HOURS = (datetime(2026, 7, 22, 14, tzinfo=UTC), datetime(2026, 7, 22, 17, tzinfo=UTC))
# a shore along the east-west axis, the water to its south, a bed that falls one in four
SLOPE = 0.25


def points(side: float) -> tuple[ShorePoint, ...]:
    """Two rings a stern line each, and one to the side of the wind."""
    places = (("ring one", -9.0, 2.0), ("ring two", 9.0, 2.0), ("ring three", 38.0, 3.0))
    return tuple(ShorePoint(name, "ring", side * e, n, 1.6) for name, e, n in places)


def made(side: float = 1.0, wind_share: float = 1.0, zones: tuple[Zone, ...] = ()):
    """The small bay; side -1 is its mirror image in the north-south axis, wind and all."""
    stay = read_stay(STAY)
    grid = stay.bay.surface.grid
    step_m = 2.0
    east = np.arange(-120.0, 121.0, step_m)
    north = np.arange(-120.0, 13.0, step_m)
    level = np.where(north > 0.0, 0.4 * north, SLOPE * north)[:, None] + 0.0 * east
    grid = grid._replace(
        west_m=-120.0, south_m=-120.0, step_m=step_m, level_m=level, deviation_m=0.0 * level + 0.1
    )
    surface = replace(stay.bay.surface, grid=grid, drawn_from=None)
    bay = replace(
        stay.bay,
        surface=surface,
        shore=LineString([(-120.0, 0.0), (120.0, 0.0)]),
        land=box(-120.0, 0.0, 120.0, 60.0),
        points=points(side),
        zones=zones,
        sectors=(),
    )
    # the sea breeze comes from before her port bow, or from before the other one
    blows = side * (stay.wind.wind_from_rad[:3] + math.radians(-90.0))
    wind = replace(
        stay.wind,
        member=stay.wind.member[:3],
        wind_mps=wind_share * stay.wind.wind_mps[:3],
        gust_mps=wind_share * stay.wind.gust_mps[:3],
        wind_from_rad=np.mod(blows, 2.0 * math.pi),
    )
    return replace(
        stay, bay=bay, wind=wind, lie=None, from_utc=HOURS[0], until_utc=HOURS[1], neighbours=()
    )


@pytest.fixture(scope="module")
def chosen():
    return choose(made())


def test_the_small_bay_has_a_lie_that_holds(chosen):
    best = chosen.finalists[0]
    assert best.whole
    assert 0.0 < best.use < 1.0
    assert not best.unproven


# Every sum is mirrored but for rounding; lengths are cut to ten centimetres.
def test_a_mirrored_bay_has_the_mirrored_choice(chosen):
    mirrored = choose(made(side=-1.0)).finalists[0]
    best = chosen.finalists[0]
    assert mirrored.use == pytest.approx(best.use, rel=0.03)
    assert {line.point for line in mirrored.lie.lines} == {line.point for line in best.lie.lines}
    assert mirrored.lie.let_go_east_m == pytest.approx(-best.lie.let_go_east_m, abs=1.5)
    assert mirrored.lie.let_go_north_m == pytest.approx(best.lie.let_go_north_m, abs=1.5)


# Asked again in one thread, where it was asked in two: one run more shows both.
def test_the_same_to_the_bit_when_asked_again(chosen, monkeypatch):
    for module in (choose_search, choose_loss):
        monkeypatch.setattr(module, "THREADS", 1)
    again = choose(made())
    assert [one.lie for one in again.finalists] == [one.lie for one in chosen.finalists]
    assert [one.use for one in again.finalists] == [one.use for one in chosen.finalists]
    assert again.helps == chosen.helps
    for one, other in zip(again.finalists, chosen.finalists, strict=True):
        now, before = one.judged.judgement, other.judged.judgement
        assert np.array_equal(now.greatest_use, before.greatest_use, equal_nan=True)
    assert (again.tried, again.hours, again.dropped) == (chosen.tried, chosen.hours, chosen.dropped)


def test_more_wind_never_makes_the_best_lie_better(chosen):
    assert choose(made(wind_share=1.15)).finalists[0].use >= chosen.finalists[0].use


def _plain(stay):
    found = ashore(stay)
    ready = replace(stay, bay=replace(stay.bay, points=found.points))
    hunt = Hunt(ready, Rules(ready))
    return plain(hunt, berths(hunt, stern_ends(ready, ready.bay.points)), 0.1), hunt.dropped


def plain_lies(stay):
    made_ones, dropped = _plain(stay)
    return [one.lie for one in made_ones], dropped


def test_a_zone_where_no_anchor_may_lie_drops_exactly_the_lies_let_go_in_it():
    zone = Zone("no anchoring", "works", box(-10.0, -60.0, 25.0, -35.0), "local notice")
    free, _ = plain_lies(made())
    with_zone, dropped = plain_lies(made(zones=(zone,)))
    inside = [lie for lie in free if zone.shape.intersects(_at(lie))]
    assert inside
    assert with_zone == [lie for lie in free if lie not in inside]
    why = "the anchor would be let go in the zone 'works', no anchoring"
    assert dropped == Counter({**_without(dropped, why), why: len(inside)})


# Shapely lays both chains straight, bow to anchor, and says which cross.
def test_a_neighbours_chain_drops_exactly_the_lies_whose_chain_would_cross_it():
    # she lies off to starboard, her anchor 40 m to the west of her bow
    there = Neighbour("Fennel", 45.0, -44.0, 10.0, 3.2, 1.5 * math.pi, 0.0, 40.0, 1.5 * math.pi)
    stay = made()
    chain = LineString([(40.0, -44.0), (0.0, -44.0)])
    free = {_named(one): one for one in _plain(stay)[0]}
    kept, dropped = _plain(replace(stay, neighbours=(there,)))
    crossing = {name for name, one in free.items() if _led(stay.boat, one).intersects(chain)}
    assert 0 < len(crossing) < len(free)
    # what leads close by her hull is left out for that, and what would lie on her
    gone = set(free) - {_named(one) for one in kept}
    assert crossing <= gone
    assert dropped["the chain would cross Fennel's"] == len(crossing)


def _named(one):
    return (one.lie, one.berth.off_m, one.berth.heading_rad)


def _led(boat, one):
    at = one.berth
    bow = at.east_m + boat.roller.x_m * math.sin(at.heading_rad)
    return LineString(
        [
            (bow, at.north_m + boat.roller.x_m * math.cos(at.heading_rad)),
            (one.lie.let_go_east_m, one.lie.let_go_north_m),
        ]
    )


def _without(counts, why):
    return {key: count for key, count in counts.items() if key != why}


def _at(lie):
    return box(lie.let_go_east_m, lie.let_go_north_m, lie.let_go_east_m, lie.let_go_north_m)


def test_brute_force_over_the_small_bay_finds_nothing_better(chosen):
    """All pairs of ends, distances off, turns, chains and anchors on a grid, with every member."""
    stay = chosen.stay
    hunt = Hunt(stay, Rules(stay))
    level_m = hunt.trier(hunt.whole).middle_m
    reach: dict[tuple[float, int], float] = {}
    tried = []
    ends = [one for one in stern_ends(stay, stay.bay.points) if not one.unproven]
    for one, off, turn, chain_m in product(
        ends, (8.0, 13.0, 18.0), (-0.35, 0.0, 0.35), (30.0, 40.0, 50.0)
    ):
        at = berth(stay.boat, one, off, turn)
        if hunt.rules.of_berth(at) is not None:
            continue
        anchor = let_go(stay, at, chain_m, at.heading_rad, reach)
        if anchor is not None:
            tried += hunt.kept([plain_lie(stay, at, anchor, chain_m, level_m)], "no line")
    scores = [one for one in hunt.scored(tried, hunt.whole) if one.proof_holds and one.whole]
    assert len(scores) > 20
    assert min(one.use for one in scores) >= chosen.finalists[0].use * 0.97


# Off a rock in the water nothing but rounding would tell one way from another.
def test_off_a_rock_with_water_all_round_she_may_lie_on_every_side():
    rock = ShorePoint("rock", "rock", 0.0, -60.0, 2.0)
    stay = made()
    bay = replace(stay.bay, points=(rock,))
    ways = {round(math.degrees(e.seaward_rad)) for e in stern_ends(replace(stay, bay=bay), (rock,))}
    assert {0, 90, 180, 270} <= ways


# One member, one hour, one line aboard and no known point: as little as there can be.
def test_with_one_line_and_no_known_point_a_lie_is_found_and_said_to_be_unproven():
    stay = made()
    wind = stay.wind
    few = replace(
        wind,
        member=wind.member[:1],
        wind_mps=wind.wind_mps[:1],
        gust_mps=wind.gust_mps[:1],
        wind_from_rad=wind.wind_from_rad[:1],
    )
    bare = replace(
        stay,
        wind=few,
        until_utc=HOURS[0] + timedelta(hours=1),
        bay=replace(stay.bay, points=()),
        boat=replace(stay.boat, lines=stay.boat.lines[:1]),
    )
    found = choose(bare)
    assert found.finalists
    assert all(one.unproven for one in found.finalists)
    assert {line.line for line in found.finalists[0].lie.lines} == {stay.boat.lines[0].name}


def test_the_use_that_counts_is_over_one_exactly_where_too_many_members_are():
    rng = np.random.default_rng(3)
    greatest = rng.uniform(0.2, 1.4, size=(40, 30))
    use = hour_use(np.arange(40), greatest, 0.05)
    assert np.array_equal(use > 1.0, (greatest > 1.0).mean(axis=0) > 0.05)


def test_a_use_that_nobody_knows_counts_as_lost():
    greatest = np.full((1, 2), np.nan)
    greatest[0, 1] = 0.4
    assert hour_use(np.zeros(1, int), greatest, 0.05).tolist() == [LOST, 0.4]
