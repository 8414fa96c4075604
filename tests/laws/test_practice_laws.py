"""Practice: a mirror mirrors it, the same comes again to the bit, what is undone never was."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

import shorefast
from shorefast.app.practice_script import Script, read_script, script_rows
from shorefast.app.practice_words import Aboard
from shorefast.manoeuvre import (
    TICK_S,
    Failure,
    Order,
    Rehearsal,
    Setting,
    Timed,
    debrief,
    practice,
    rehearse,
)
from shorefast.mooring import Breeze, Orders, kept, put_back
from shorefast.readers import read_stay

DEMO = Path(shorefast.__file__).parent / "demo"
BREEZY = Setting(wind_mps=4.0, from_rad=math.radians(75.0))
GUSTY = replace(BREEZY, gusts=True, seed=5)
IN = (Timed(0.0, Order("helm by crew")), Timed(0.0, Order("chain by crew")))
# by hand alone, the chain never tight: a snatch would make much of the last digits
BY_HAND = (
    Timed(0.0, Order("revs", -0.3)),
    Timed(5.0, Order("helm", math.radians(-10.0))),
    Timed(20.0, Order("let go")),
    Timed(55.0, Order("revs", 0.2)),
    Timed(60.0, Order("helm", math.radians(15.0))),
    Timed(61.0, Order("chain to", 40.0)),
    Timed(80.0, Order("thruster", 0.5)),
    Timed(90.0, Order("revs", -0.2)),
)


@pytest.fixture(scope="module")
def cove():
    return read_stay(DEMO / "stone_spur" / "stay.toml")


def _turned(shape):
    return None if shape is None else shapely.transform(shape, lambda xy: xy * (-1.0, 1.0))


def _other_side(name):
    words = {"port": "starboard", "starboard": "port"}
    return " ".join(words.get(word, word) for word in name.split())


def _boat_mirrored(boat):
    cleats = tuple(replace(one, spot=replace(one.spot, y_m=-one.spot.y_m)) for one in boat.cleats)
    under = tuple(replace(one, y_m=-one.y_m) for one in boat.underwater)
    walks = {"port": "starboard", "starboard": "port"}.get(boat.engine.walks_astern)
    return replace(
        boat,
        cleats=cleats,
        underwater=under,
        roller=replace(boat.roller, y_m=-boat.roller.y_m),
        engine=replace(boat.engine, walks_astern=walks),
    )


def mirrored(stay):
    """The same stay with east and west, port and starboard changed over."""
    bay, grid, lie = stay.bay, stay.bay.surface.grid, stay.lie
    columns = grid.level_m.shape[1]
    turned = grid._replace(
        west_m=-(grid.west_m + grid.step_m * (columns - 1)),
        level_m=np.ascontiguousarray(grid.level_m[:, ::-1]),
        deviation_m=np.ascontiguousarray(grid.deviation_m[:, ::-1]),
    )
    bay = replace(
        bay,
        surface=replace(bay.surface, grid=turned, drawn_from=None),
        shore=_turned(bay.shore),
        land=_turned(bay.land),
        points=tuple(replace(one, east_m=-one.east_m) for one in bay.points),
        zones=(),
    )
    return replace(
        stay,
        bay=bay,
        boat=_boat_mirrored(stay.boat),
        wind=replace(stay.wind, wind_from_rad=-stay.wind.wind_from_rad),
        lie=replace(lie, let_go_east_m=-lie.let_go_east_m, heading_rad=-lie.heading_rad),
    )


def _begun_alike(one, other):
    """The mirrored one begun where the first begins: that is sought to a tenth of a metre."""
    way = replace(other.way, start_across_m=-one.way.start_across_m, early_m=one.way.early_m)
    starts = way.pose_at(way.begins_at_m, way.start_across_m)
    other.she.put(*starts)
    begins = replace(other.begins, she=kept(other.she))
    return replace(other, way=way, starts=starts, begins=begins)


def _mirrored_order(order):
    turns = order.do in ("helm", "thruster") and order.value is not None
    return replace(order, value=-order.value) if turns else order


@pytest.mark.parametrize("script", [IN, BY_HAND], ids=["by the crew", "by hand"])
def test_the_other_side_of_a_mirror_is_practised_alike(cove, script):
    first = practice(cove, BREEZY)
    here = rehearse(first, script, 240.0)
    there_set = replace(BREEZY, from_rad=-BREEZY.from_rad)
    other = _begun_alike(first, practice(mirrored(cove), there_set))
    turned = tuple(Timed(one.at_s, _mirrored_order(one.order)) for one in script)
    there = rehearse(other, turned, 240.0)
    a = np.array([(r.east_m, r.north_m, r.chain_m, r.pull_n) for r in here.rows])
    b = np.array([(-r.east_m, r.north_m, r.chain_m, r.pull_n) for r in there.rows])
    # the order of sums in the grid's cells is another: millimetres, and newtons at a snatch
    np.testing.assert_allclose(a[:, :3], b[:, :3], atol=5e-3)
    np.testing.assert_allclose(a[:, 3], b[:, 3], atol=20.0)
    heading = [math.remainder(r.heading_rad + s.heading_rad, 2 * math.pi)
               for r, s in zip(here.rows, there.rows, strict=True)]  # fmt: skip
    assert max(map(abs, heading)) < 1e-3
    assert [one.kind for one in here.happened] == [one.kind for one in there.happened]


def _bits(done):
    return [(one.she.values, one.she.t_s) for one in done.moments]


def test_the_same_practice_is_the_same_to_the_bit_and_another_seed_is_not(cove):
    script = (*IN, Timed(60.0, Order("fail", failure=Failure("gust", 0.0))))
    first = rehearse(practice(cove, GUSTY), script, 150.0)
    again = rehearse(practice(cove, GUSTY), script, 150.0)
    other = rehearse(practice(cove, replace(GUSTY, seed=6)), script, 150.0)
    assert _bits(first) == _bits(again)
    assert first.happened == again.happened
    assert first.moments == again.moments
    assert _bits(first)[-1] != _bits(other)[-1]


def test_what_is_undone_never_was(cove):
    one = practice(cove, GUSTY)
    way = Rehearsal(one)
    way.on([timed.order for timed in IN])
    while way.t_s < 90.0:
        way.on()
    before = way.moments[-1]
    for number in range(60):
        way.on([Order("revs", 0.9), Order("helm", 0.5)] if number == 3 else [])
    way.back(30.0)
    assert way.moments[-1] == before
    # and what comes after is as if nothing had been ordered in between
    straight = rehearse(one, IN, 150.0)
    while way.t_s < 150.0:
        way.on()
    told = way.told()
    assert _bits(told) == _bits(straight)
    assert told.orders == straight.orders
    assert told.happened == straight.happened


def test_a_practice_that_is_ended_ends_there_and_then(cove):
    one = practice(cove, BREEZY)
    way = Rehearsal(one)
    way.on([timed.order for timed in IN])
    while way.t_s < 40.0:
        way.on()
    way.end()
    done = way.told()
    again = rehearse(one, done.orders)
    assert _bits(again) == _bits(done)
    assert again.orders == done.orders


def test_going_back_past_the_beginning_is_the_beginning(cove):
    way = Rehearsal(practice(cove, BREEZY))
    way.on([Order("revs", -0.5)])
    way.back(1000.0)
    assert way.t_s == 0.0
    assert way.moments == [way.practice.begins]
    assert way.orders == []


def test_a_practice_written_down_comes_again_to_the_bit(cove, tmp_path):
    setting = replace(GUSTY, failures=(Failure("anchor drags", 100.0, 392.2660),))
    script = (
        *IN,
        Timed(95.5, Order("helm", math.radians(7.3))),
        Timed(96.0, Order("revs", -0.333)),
        Timed(110.0, Order("say", words="breaking off")),
    )
    done = rehearse(practice(cove, setting), script, 170.0)
    file = tmp_path / "practice.txt"
    rows = script_rows(Script(setting, done.orders))
    file.write_text("\n".join(rows), encoding="utf-8")
    read = read_script(file, Aboard(len(cove.lie.lines)))
    assert read.setting == setting
    assert read.orders == done.orders
    again = rehearse(practice(cove, read.setting), read.orders, 170.0)
    assert _bits(again) == _bits(done)


def test_a_moment_kept_is_brought_back_to_the_bit(cove):
    she = practice(cove, BREEZY).arrival.handled()
    she.put(10.0, 20.0, 0.5, -0.3)
    she.make_fast(1, 22.0)
    breeze, orders = Breeze(5.0, 1.0, 0.2), Orders(0.1, -0.4, 0.0, 0.2)
    she.on_for(20.0, orders, breeze)
    middle = kept(she)
    she.on_for(20.0, orders, breeze)
    end = kept(she)
    put_back(she, middle)
    assert kept(she) == middle
    she.on_for(20.0, orders, breeze)
    assert kept(she) == end


def test_she_never_goes_through_the_bottom_or_the_shore(cove):
    done = rehearse(practice(cove, BREEZY), (Timed(0.0, Order("revs", -1.0)),), 300.0)
    assert "touches" in {one.kind for one in done.happened}
    told = debrief(done)
    assert told.least[1].room_m > 0.0
    # aground she has no way on her
    first = next(one.t_s for one in done.happened if one.kind == "touches")
    row = next(row for row in done.rows if row.t_s > first + TICK_S)
    assert abs(row.ahead_mps) < 0.3


def test_in_a_calm_without_an_order_she_lies_where_she_is(cove):
    calm = practice(cove, Setting(wind_mps=0.0, from_rad=0.0))
    done = rehearse(calm, (), 60.0)
    assert done.rows[-1].east_m == pytest.approx(calm.starts[0], abs=1e-9)
    assert done.rows[-1].north_m == pytest.approx(calm.starts[1], abs=1e-9)
    assert done.happened == ()
