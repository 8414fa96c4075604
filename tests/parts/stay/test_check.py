"""What a stay is refused for, and what is only said, word for word."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from shapely.geometry import Point

from shorefast.basis import Finding
from shorefast.bay import ShorePoint, Zone
from shorefast.boat import Anchor
from shorefast.errors import BadInput
from shorefast.stay import LieLine, Stay, check, judge


def with_lie(stay: Stay, **changed) -> Stay:
    return replace(stay, lie=replace(stay.lie, **changed))


def with_line(stay: Stay, **changed) -> Stay:
    first = replace(stay.lie.lines[0], **changed)
    return with_lie(stay, lines=(first, *stay.lie.lines[1:]))


def said(stay: Stay) -> str:
    with pytest.raises(BadInput) as refused:
        check(stay)
    return str(refused.value)


def test_a_line_nobody_knows_is_refused(k_day):
    assert said(with_line(k_day, line="long line")) == (
        "Lie, line 1: line 'long line', known are port stern line, starboard stern line. "
        "Name one of these, or add it to the boat file."
    )


def test_a_cleat_nobody_knows_is_refused(k_day):
    assert said(with_line(k_day, cleat="midship")) == (
        "Lie, line 1: cleat 'midship', known are port quarter, starboard quarter, port bow, "
        "starboard bow. Name one of these, or add it to the boat file."
    )


def test_a_point_nobody_knows_is_refused(k_day):
    known = ", ".join(point.name for point in k_day.bay.points)
    assert said(with_line(k_day, point="old pine")) == (
        f"Lie, line 1: point 'old pine', known are {known}. "
        "Name one of these, or add it to the bay file."
    )


def test_a_second_anchor_not_aboard_is_refused(k_day):
    assert said(with_lie(k_day, second_anchor_ahead_m=6.0)) == (
        "Lie, second_anchor_ahead_m: 6.0 m asked, no second anchor aboard. "
        "Add [second_anchor] with class and mass_kg to the boat file, or leave it out."
    )


def test_a_second_anchor_on_land_is_refused(k_day):
    boat = replace(k_day.boat, second_anchor=Anchor("fluke", 10.0))
    ashore = with_lie(replace(k_day, boat=boat), second_anchor_ahead_m=100.0, heading_rad=1.5)
    assert said(ashore) == (
        "Lie, second_anchor_ahead_m: 100.0 m ahead of the first, that is on land. "
        "Give less chain between the two, or let the first go farther off."
    )


def test_a_sling_nobody_knows_is_refused(k_day):
    assert said(with_line(k_day, sling="strop")) == (
        "Lie, line 1: sling 'strop', known are rope sling one, rope sling two. "
        "Name one of these, or add it to the boat file."
    )
    bare = replace(k_day, boat=replace(k_day.boat, slings=()))
    assert "known are none." in said(with_line(bare, sling="strop"))


def test_one_sling_round_two_points_is_refused(k_day):
    lines = tuple(replace(line, sling="rope sling one") for line in k_day.lie.lines)
    assert said(with_lie(k_day, lines=lines)) == (
        "Lie, line 2: sling 'rope sling one', it lies round spur ring south already. "
        "Take another sling for spur ring north."
    )


# Ten millimetres of grade 30 part at 50 kN as printed in ISO 4565; at 8 mm of wire at 0.64 of it.
def test_a_proof_harder_than_what_parts_the_worn_rode_is_refused(k_day):
    rode = (replace(k_day.boat.rode[0], worn_m=8e-3),)
    worn = replace(k_day, boat=replace(k_day.boat, rode=rode))
    check(replace(worn, proof=replace(k_day.proof, pull_n=31_000.0)))
    assert said(replace(worn, proof=replace(k_day.proof, pull_n=33_000.0))) == (
        "[proof] pull: 33000 N, the rode parts at 32000 N. "
        "Correct it; an engine pulls some thousand newtons."
    )


def test_in_a_bay_without_points_none_are_named(k_day):
    bare = replace(k_day, bay=replace(k_day.bay, points=()))
    assert said(bare) == (
        "Lie, line 1: point 'spur ring south', known are none. "
        "Name one of these, or add it to the bay file."
    )


def test_a_line_longer_than_it_is_aboard_is_refused(k_day):
    assert said(with_line(k_day, length_m=61.5)) == (
        "Lie, line 1: 61.5 m of port stern line asked, 50.0 m aboard. "
        "Give 50 m or less, or take a longer line."
    )


def test_a_doubled_line_needs_twice_its_length(k_day):
    assert said(with_line(k_day, length_m=26.0, doubled=True)) == (
        "Lie, line 1: 52.0 m of port stern line asked, 50.0 m aboard. "
        "Give 25 m or less each way, or take a longer line."
    )


def test_one_line_on_two_points_has_only_its_own_length(k_day):
    second = LieLine("port stern line", "port quarter", "spur ring north", 35.0)
    stay = with_lie(k_day, lines=(*k_day.lie.lines, second))
    assert said(stay) == (
        "Line port stern line: 55.2 m asked over all its legs, 50.0 m aboard. "
        "Shorten a leg, or take another line for it."
    )


def test_more_chain_than_is_aboard_is_refused(k_day):
    with pytest.raises(BadInput) as refused:
        judge(with_lie(k_day, chain_out_m=62.0))
    assert str(refused.value) == (
        "Rode: 62 m asked, 50 m aboard. "
        "Give 50 m or less, or add the missing length to the gear list."
    )


@pytest.mark.parametrize("out_m", [0.0, -5.0, float("nan")])
def test_no_chain_out_is_refused(k_day, out_m):
    assert said(with_lie(k_day, chain_out_m=out_m)) == (
        f"Lie, chain_out_m: {out_m:g} m, more than 0 wanted. Correct it."
    )


def test_an_anchor_on_land_is_refused(k_day):
    assert k_day.bay.land.contains(Point(49.5, -49.5))
    assert said(with_lie(k_day, let_go_east_m=49.5, let_go_north_m=-49.5)) == (
        "Lie, let_go: 50 m east, -50 m north, that is on land. "
        "Correct the place; latitude and longitude may have changed places."
    )


def test_a_point_far_inland_is_refused(k_day):
    far = ShorePoint("far oak", "tree", 400.0, -300.0, 20.0)
    stay = replace(k_day, bay=replace(k_day.bay, points=(*k_day.bay.points, far)))
    away_m = stay.bay.shore.distance(Point(400.0, -300.0))
    assert said(with_line(stay, point="far oak")) == (
        f"Point far oak: {away_m:.0f} m from the shore line, "
        "a point to make fast lies within 150 m of it. "
        "Correct its place; latitude and longitude may have changed places."
    )


def test_a_question_about_a_lie_wants_one(k_day):
    name = k_day.bay.name
    assert said(replace(k_day, lie=None)) == (
        f"{name}: no [lie] given, this question is about one lie. "
        "Add [lie] with let_go, chain_out_m, heading_deg and its lines."
    )


def zone(kind: str, around: tuple[float, float], radius_m: float) -> Zone:
    return Zone(kind, "over here", Point(around).buffer(radius_m), "a sign ashore")


def told(stay: Stay, *zones: Zone) -> tuple[Finding, ...]:
    return check(replace(stay, bay=replace(stay.bay, zones=zones)))


def test_an_anchor_in_a_forbidden_zone_is_said_with_the_rule_and_its_source(k_day):
    assert told(k_day, zone("bathing", (-49.5, 49.5), 5.0)) == (
        Finding(
            "Anchor",
            "let go in the zone 'over here', bathing (a sign ashore): the local rule decides",
        ),
    )


def test_a_point_where_no_lines_may_be_is_said(k_day):
    point = next(p for p in k_day.bay.points if p.name == "spur ring south")
    (found,) = told(k_day, zone("no lines", (point.east_m, point.north_m), 2.0))
    assert found == Finding(
        "spur ring south", "stands in the zone 'over here', no lines (a sign ashore)"
    )


def test_a_zone_no_longer_in_force_says_nothing(k_day):
    over = replace(
        zone("bathing", (-49.5, 49.5), 5.0), until_utc=k_day.from_utc - timedelta(hours=1)
    )
    assert told(k_day, over) == ()


def test_a_ring_that_drowns_is_said(k_day):
    water = replace(k_day.water, height_m=k_day.water.height_m + 2.0)
    highest_m = float(water.height_m.max())
    under_m = highest_m - 1.6
    sentence = f"{under_m:.1f} m under water at {highest_m:.1f} m of tide"
    found = [f for f in check(replace(k_day, water=water)) if "under water" in f.said]
    assert found == [
        Finding("spur ring south", sentence), Finding("spur ring north", sentence)
    ]  # fmt: skip


def test_lying_to_the_anchor_alone_is_said(k_day):
    found = check(with_lie(replace(k_day, bay=replace(k_day.bay, zones=())), lines=()))
    assert found == (Finding("Lie", "no lines ashore: she swings to her anchor alone"),)


def test_an_anchor_beyond_all_soundings_is_said(k_day):
    open_sea = replace(k_day.bay, zones=(), land=None)
    found = check(with_lie(replace(k_day, bay=open_sea), let_go_east_m=-900.0))
    assert found == (
        Finding(
            "Bed at the anchor",
            "unknown: no sounding is near enough (a berth wants them closer than 40 m)",
        ),
    )
