"""What comes about in practice by itself: the swim, lines, windlass, anchor, gusts."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.manoeuvre import (
    Deck,
    Order,
    Sequence,
    Setting,
    Timed,
    debrief,
    practice,
    rehearse,
)
from shorefast.manoeuvre.practice_wind import air_of
from shorefast.mooring import kept
from shorefast.readers import read_stay

DEMO = Path(shorefast.__file__).parent / "demo"
CALM = Setting(wind_mps=0.0, from_rad=0.0)
SWIM = (
    Timed(0.0, Order("tend line")), Timed(0.0, Order("stop engine")),
    Timed(3.0, Order("engine stopped")), Timed(4.0, Order("go to ladder")),
    Timed(5.0, Order("take line", line=1)),
)  # fmt: skip


@pytest.fixture(scope="module")
def cove():
    return read_stay(DEMO / "stone_spur" / "stay.toml")


def _lying(stay, setting=CALM, fast=()):
    """At her planned place, the anchor down, the engine out of gear, the water still."""
    made = practice(stay, setting)
    made.she.put(*made.arrival.planned)
    made.she.anchored(*made.arrival.anchor, 48.0)
    for number in fast:
        made.she.make_fast(number, 20.2)
    deck = Deck(Sequence(engine="neutral"), line_to_m=(None, None))
    return replace(made, begins=replace(made.begins, she=kept(made.she), deck=deck))


def _first(done, kind):
    return next(one for one in done.happened if one.kind == kind)


def test_a_swim_takes_as_long_as_by_hand(cove):
    done = rehearse(_lying(cove), SWIM, 300.0)
    landed = _first(done, "hand ashore")
    stern = done.practice.arrival.stern(done.practice.arrival.planned)
    far_m = math.dist(stern, (landed.east_m, landed.north_m))
    # by hand: c = 1025 x 0.02 x pi x 0.012 / (2 x 30) = 0.01288 a metre of a 12 mm line, 0.6 m/s;
    # t = 2 / (3 c v) ((1 + c s)^1.5 - 1); she drifts a little, and half a second is a tick
    wanted_s = 2.0 / (3.0 * 0.01288 * 0.6) * ((1.0 + 0.01288 * far_m) ** 1.5 - 1.0)
    assert 12.0 < far_m < 25.0
    assert landed.t_s - 5.0 == pytest.approx(wanted_s, abs=2.5)
    # three minutes to land, climb and make fast
    assert _first(done, "line fast").t_s - landed.t_s == pytest.approx(180.0, abs=1.0)


def test_a_line_that_does_not_reach_is_told_and_not_made_fast(cove):
    made = _lying(cove)
    made = replace(made, gear=(replace(made.gear[0], most_m=10.0), made.gear[1]))
    done = rehearse(made, SWIM, 300.0)
    short = _first(done, "line too short")
    row = next(row for row in done.rows if row.t_s == short.t_s)
    # Quill's port quarter cleat is 5.7 m aft of midships and 1.5 m to port, by her boat file
    sine, cosine = math.sin(row.heading_rad), math.cos(row.heading_rad)
    cleat = (row.east_m - 5.7 * sine - 1.5 * cosine, row.north_m - 5.7 * cosine + 1.5 * sine)
    point = done.practice.gear[0].leg.point
    far_m = math.dist(cleat, (point.east_m, point.north_m))
    # a metre of slack is left it, and there are ten
    assert short.value == pytest.approx(far_m + 1.0 - 10.0, abs=1e-6)
    assert done.rows[-1].fast == (False, False)
    assert [one.kind for one in done.happened].count("line too short") == 1


def test_a_line_loaded_past_what_parts_it_parts(cove):
    made = _lying(cove, fast=(1, 2))
    made = replace(made, gear=(replace(made.gear[0], parts_n=200.0), made.gear[1]))
    done = rehearse(made, (Timed(0.0, Order("tend line")), Timed(0.0, Order("revs", 0.6))), 40.0)
    parted = _first(done, "line parts")
    assert parted.of == made.gear[0].leg.name and parted.value > 200.0
    assert done.rows[-1].fast == (False, True)


def test_a_windlass_heaving_against_more_than_it_can_stalls(cove):
    made = _lying(cove, fast=(1, 2))
    made.she.windlass_n = 300.0
    orders = (Timed(0.0, Order("tend line")), Timed(0.0, Order("revs", -0.3)),
              Timed(30.0, Order("chain to", 30.0)))  # fmt: skip
    done = rehearse(made, orders, 60.0)
    assert _first(done, "windlass stalls").value > 300.0
    assert done.rows[-1].chain_m > 40.0


def test_the_anchor_comes_up_when_all_but_the_depth_is_hove_in(cove):
    done = rehearse(_lying(cove), (Timed(0.0, Order("chain to", 0.0)),), 260.0)
    kinds = [one.kind for one in done.happened]
    assert "anchor up" in kinds
    assert done.rows[-1].anchor == "stowed"
    assert debrief(done).anchor_m is None


def test_heaving_in_on_a_dragging_anchor_is_a_rule_broken(cove):
    made = _lying(cove, Setting(wind_mps=9.0, from_rad=cove.lie.heading_rad))
    made = replace(made, holding_n=150.0)
    done = rehearse(made, (Timed(5.0, Order("chain to", 25.0)),), 120.0)
    assert "heaved while dragging" in [one.rule for one in debrief(done).broken]


def test_chain_let_run_and_way_that_overruns_the_windlass_are_rules_broken(cove):
    heap = (Timed(0.0, Order("neutral")), Timed(1.0, Order("let go")),
            Timed(60.0, Order("chain to", 45.0)))  # fmt: skip
    done = rehearse(practice(cove, CALM), heap, 140.0)
    assert [one.rule for one in debrief(done).broken] == ["chain ahead of her way"]
    hasty = (Timed(0.0, Order("let go")), Timed(0.0, Order("chain by crew")),
             Timed(0.0, Order("revs", -0.7)))  # fmt: skip
    done = rehearse(practice(cove, CALM), hasty, 90.0)
    rules = {one.rule for one in debrief(done).broken}
    assert "faster than the windlass" in rules


def test_nobody_who_is_told_swims_in_cold_water(cove):
    # caution 10: below about 15 C no swimmer
    cold = replace(cove, water_k=281.15)
    done = rehearse(_lying(cold), SWIM, 20.0)
    refused = [one for one in done.happened if one.kind == "refused"]
    assert refused[-1].waits_for == ("somebody to carry it: cold and no tender",)
    assert done.moments[-1].deck.hand is None


def test_gusty_wind_has_the_hours_mean_and_its_hardest_gust(cove):
    one = practice(cove, Setting(wind_mps=7.0, from_rad=1.0, gusts=True, seed=3))
    air = air_of(one.arrival, True, 3)
    mean = float(air.speed_mps.mean())
    assert mean == pytest.approx(one.arrival.felt_mps(7.0), rel=2e-3)
    # three seconds are six of the record's steps
    assert air.every_s == 0.5
    row = np.concatenate([air.speed_mps[-5:], air.speed_mps])
    hardest = np.convolve(row, np.ones(6) / 6.0, "valid").max()
    told = one.arrival.wind.gust_mps / one.arrival.wind.mean_mps
    assert hardest / mean == pytest.approx(told, rel=1e-2)
    assert abs(float(np.angle(np.exp(1j * (air.from_rad - 1.0)).mean()))) < 0.05


def test_a_wind_told_is_practised_whatever_the_forecast_says(cove):
    one = practice(cove, Setting(wind_mps=6.0, from_rad=2.0))
    assert one.arrival.wind.mean_mps == pytest.approx(6.0)
    assert one.arrival.wind.from_rad == pytest.approx(2.0)
    only = practice(cove, Setting(from_rad=2.0))
    assert only.arrival.wind.mean_mps == pytest.approx(
        practice(cove, Setting()).arrival.wind.mean_mps
    )
