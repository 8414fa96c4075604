"""Zones at the rests: told with the rule's source, whatever lies over them, and when."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from shapely.geometry import Point, box

from shorefast.basis import Finding
from shorefast.bay import Zone
from shorefast.mooring import L_BEARING, L_LYING, Rests
from shorefast.stay import Stay
from shorefast.stay.over_zones import over_zones
from shorefast.stay.rigging import shore_legs

TIMES = np.datetime64("2026-07-22T12:00:00") + np.arange(3) * np.timedelta64(3600, "s")


def lying(stay: Stay, chain_m: float) -> Rests:
    """She lies 20 m south-west of her anchor, three hours on end, so much chain on the bed."""
    lie = stay.lie
    q = np.empty((1, 3, 3))
    q[...] = lie.let_go_east_m - 20.0, lie.let_go_north_m - 20.0, np.pi / 4
    line = np.zeros((1, 3, 1 + len(lie.lines), 8))
    line[..., 0, L_BEARING], line[..., 0, L_LYING] = np.pi / 4, chain_m
    return Rests(q, np.zeros((1, 3), np.int64), line)


def told(stay: Stay, zone: Zone, chain_m: float = 12.0) -> tuple[Finding, ...]:
    level = replace(stay.bay, zones=(zone,))
    return over_zones(replace(stay, bay=level), TIMES, lying(stay, chain_m))


def zone(stay: Stay, kind: str, east_m: float, north_m: float, radius_m: float) -> Zone:
    place = Point(stay.lie.let_go_east_m + east_m, stay.lie.let_go_north_m + north_m)
    return Zone(kind, "over here", place.buffer(radius_m, quad_segs=64), "a sign ashore")


def test_chain_on_the_bed_is_told_with_how_much_of_it_lies_there(k_day):
    (found,) = told(k_day, zone(k_day, "seagrass", -5.0, -5.0, 3.0))
    # from 4.07 to 10.07 m out along the bearing; the bed falls 1 in 5 at most
    assert found == Finding(
        "Chain",
        "up to 6 m of it lie on the bed in the zone 'over here', seagrass (a sign ashore): the"
        " local rule decides",
    )


def test_chain_that_only_touches_a_zone_is_told_with_no_round_nothing(k_day):
    # the zone begins 4.07 m out along the bearing, 30 cm before the chain lifts
    (found,) = told(k_day, zone(k_day, "seagrass", -5.0, -5.0, 3.0), chain_m=4.4)
    assert found.said.startswith("less than 1 m of it lie on the bed in the zone 'over here'")


def test_chain_that_hangs_clear_of_a_zone_says_nothing(k_day):
    assert told(k_day, zone(k_day, "seagrass", -12.0, -12.0, 3.0), chain_m=9.0) == ()


def test_hull_and_keel_over_a_zone_are_told(k_day):
    assert told(k_day, zone(k_day, "bathing", -20.0, -20.0, 1.0), chain_m=1.0) == (
        Finding(
            "Hull and keel",
            "lie over the zone 'over here', bathing (a sign ashore) in 100% of all states: the"
            " local rule decides",
        ),
    )


def test_a_neighbour_drawn_as_a_zone_is_told_with_the_gap(k_day):
    beside = zone(k_day, "neighbour", -10.0, -30.0, 2.0)
    half_beam_m = 0.5 * k_day.boat.hull.beam_m
    gap_m = np.hypot(10.0, 10.0) - 2.0 - half_beam_m
    (found,) = [one for one in told(k_day, beside) if one.where == "Hull and keel"]
    assert found.said == (
        f"come within {gap_m:.0f} m of the zone 'over here', neighbour (a sign ashore)"
    )
    far = zone(k_day, "neighbour", 30.0, -80.0, 2.0)
    assert told(k_day, far) == ()


def test_a_line_over_a_zone_is_told_by_its_name(k_day):
    leg = shore_legs(k_day.boat, k_day.bay, k_day.lie)[0]
    around = Zone(
        "private", "the jetty", Point(leg.point.east_m, leg.point.north_m).buffer(0.5), ""
    )
    assert told(k_day, around) == (
        Finding(leg.name, "leads over the zone 'the jetty', private: the local rule decides"),
    )


@pytest.mark.parametrize(
    ("begins", "ends", "count"), [(-5, 0, 0), (-5, 1, 1), (2, 9, 1), (3, 9, 0), (None, None, 1)]
)
def test_a_zone_counts_only_while_it_is_in_force(k_day, begins, ends, count):
    first = k_day.from_utc.replace(hour=12, minute=0)
    hours = [None if h is None else first + timedelta(hours=h) for h in (begins, ends)]
    held = replace(zone(k_day, "bathing", -20.0, -20.0, 1.0), from_utc=hours[0], until_utc=hours[1])
    assert len(told(k_day, held, chain_m=1.0)) == count


def test_a_rule_is_told_with_its_days(k_day):
    begins = k_day.from_utc.replace(month=5, day=1)
    ends = k_day.from_utc.replace(month=10, day=31)
    grass = zone(k_day, "seagrass", -5.0, -5.0, 3.0)
    (found,) = told(k_day, replace(grass, from_utc=begins, until_utc=ends))
    days = f"from 01 May {begins.year} until 31 Oct {ends.year}"
    assert f"seagrass (a sign ashore, {days}): the local rule decides" in found.said
    (found,) = told(k_day, replace(grass, from_utc=begins, source=""))
    assert f"seagrass (from 01 May {begins.year}): the local rule decides" in found.said


def test_where_no_rest_is_known_nothing_is_told(k_day):
    lost = lying(k_day, 12.0)
    lost.q[...] = np.nan
    everywhere = Zone("bathing", "all", box(-1e4, -1e4, 1e4, 1e4), "")
    stay = replace(k_day, bay=replace(k_day.bay, zones=(everywhere,)))
    assert over_zones(stay, TIMES, lost) == ()


@pytest.mark.parametrize("kind", ["wreck", "obstruction", "foul"])
def test_foul_ground_is_no_matter_of_rules(k_day, kind):
    (found,) = told(k_day, zone(k_day, kind, -5.0, -5.0, 3.0))
    assert found == Finding(
        "Chain",
        f"up to 6 m of it lie on the bed in the zone 'over here', {kind} (a sign ashore): foul"
        " ground, it may not come home",
    )


@pytest.mark.parametrize(
    ("kind", "means"),
    [
        ("wreck", "a charted danger"),
        ("charted rock", "a charted danger"),
        ("foul", "foul ground, it may not come home"),
        ("marine farm", "the local rule decides"),
    ],
)
def test_what_she_lies_over_is_told_as_what_it_is(k_day, kind, means):
    found = told(k_day, zone(k_day, kind, -20.0, -20.0, 1.0), chain_m=1.0)
    assert [one.said for one in found if one.where == "Hull and keel"] == [
        f"lie over the zone 'over here', {kind} (a sign ashore) in 100% of all states: {means}"
    ]
