"""What wear, ends, edges, slings and strong points do to the limits of a stay's parts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.basis import Finding
from shorefast.boat import RodePiece, Sling
from shorefast.mooring import L_BEARING, L_FAR, L_TENSION
from shorefast.stay import Stay, judge
from shorefast.stay.answer import PartUse
from shorefast.stay.gear import gear_basis
from shorefast.stay.limits import Limit, part_use
from shorefast.stay.parts import ground_of, parts_in_use
from shorefast.stay.rigging import rig
from shorefast.wording import verdict_words, worst_words

PULL_N = 2000.0


def parts_of(stay: Stay, pulls_n: tuple[float, ...] = (PULL_N,) * 3) -> dict[str, PartUse]:
    """The parts by name, each line of the lie under a pull of its own."""
    line = np.zeros((1, 1, len(pulls_n), 8))
    line[..., L_TENSION] = line[..., L_FAR] = pulls_n
    line[..., L_BEARING] = stay.lie.heading_rad
    rigged = rig(stay, 1.0)
    return {part.name: part for part in parts_in_use(stay, rigged, ground_of(stay, None), line)}


def with_boat(stay: Stay, **changed) -> Stay:
    return replace(stay, boat=replace(stay.boat, **changed))


def with_lines(stay: Stay, *changes: dict) -> Stay:
    lines = [replace(line, **one) for line, one in zip(stay.lie.lines, changes, strict=True)]
    return replace(stay, lie=replace(stay.lie, lines=tuple(lines)))


def with_gear(stay: Stay, **changed) -> Stay:
    """The same of every line aboard."""
    return with_boat(stay, lines=tuple(replace(line, **changed) for line in stay.boat.lines))


def limit_n(part: PartUse) -> float:
    return float(part.limit_n[0, 0])


def worn(stay: Stay, worn_m: float | None) -> Stay:
    return with_boat(stay, rode=(replace(stay.boat.rode[0], worn_m=worn_m),))


# ISO 4565 as printed: 10 mm, grade 30 parts at 50 kN, a quarter of it is its working load.
def test_worn_chain_carries_by_the_square_of_its_thinnest_wire(k_day):
    new, thin = (parts_of(worn(k_day, wire))["chain"] for wire in (None, 9.1e-3))
    assert limit_n(new) == pytest.approx(12_500.0)
    # 0.91 squared is 0.8281
    assert limit_n(thin) == pytest.approx(12_500.0 * 0.8281)
    assert thin.breaking_n == pytest.approx(50_000.0 * 0.8281)
    assert float(thin.use[0, 0]) == pytest.approx(PULL_N / (12_500.0 * 0.8281))
    assert new.limit_source == "working load by ISO 4565"
    assert thin.limit_source == "working load by ISO 4565, 83% of it left at 9.1 mm of wire"


def test_the_more_wire_is_gone_the_less_chain_carries_and_unworn_it_is_as_new(k_day):
    wires = (None, 10.5e-3, 10e-3, 9.999e-3, 9.5e-3, 8e-3)
    limits = [limit_n(parts_of(worn(k_day, wire))["chain"]) for wire in wires]
    assert limits[0] == limits[1] == limits[2]
    assert limits[3] == pytest.approx(limits[2], rel=1e-3)
    assert np.all(np.diff(limits[2:]) < 0.0)


def test_chain_worn_past_its_renewal_is_told_among_the_findings(k_day):
    stay = worn(k_day, 9e-3)
    assert (
        Finding(
            "Chain",
            "10 % of the diameter is gone; from 10 % on chain is retired"
            " (common practice, no source)",
        )
        in gear_basis(stay).findings
    )
    assert parts_of(stay)["chain"].limit_source == (
        "working load by ISO 4565, 81% of it left at 9 mm of wire;"
        " past the limit where chain is renewed"
    )


# US 3-strand table as printed: nylon of 16 mm parts at 39.6 kN; OCIMF: a splice leaves 0.90;
# UFC 4-159-03: wet nylon 0.85. Aged rope 0.90 is ours.
def test_rope_in_the_rode_is_spliced_wet_and_as_old_as_it_is(k_day):
    chain = replace(k_day.boat.rode[0], length_m=20.0)
    rope = RodePiece("rope", 16e-3, 60.0, fibre="nylon", age_years=1.0)
    young = parts_of(with_boat(k_day, rode=(chain, rope)))["rode rope"]
    assert limit_n(young) == pytest.approx(0.5 * 39_600.0 * 0.90 * 0.85)
    assert young.limit_source == (
        "half of what parts it (common practice): US 3-strand table less eye splice and wet"
    )
    for age_years in (None, 5.0):
        old = with_boat(k_day, rode=(chain, replace(rope, age_years=age_years)))
        assert limit_n(parts_of(old)["rode rope"]) == pytest.approx(0.90 * limit_n(young))


def test_what_is_not_out_carries_nothing_and_decides_nothing(k_day):
    thin = RodePiece("chain", 6e-3, 40.0, grade=30)
    rope = RodePiece("rope", 12e-3, 40.0, fibre="nylon")
    parts = parts_of(with_boat(k_day, rode=(*k_day.boat.rode, thin, rope)))
    assert limit_n(parts["chain"]) == pytest.approx(12_500.0)
    assert "rode rope" not in parts


# US 3-strand table: polypropylene of 12 mm; knots as printed by Plymouth, splice by OCIMF.
def test_a_knot_leaves_two_thirds_of_what_a_splice_does_and_unsaid_it_is_a_knot(k_day):
    name = "port stern line to spur ring south"
    knot, splice, unsaid = (
        limit_n(parts_of(with_gear(k_day, ends=ends))[name]) for ends in ("knot", "splice", None)
    )
    # 0.60 over 0.90
    assert knot / splice == pytest.approx(2.0 / 3.0)
    assert unsaid == knot
    told = "nobody says how it ends; reckoned with a bowline, which leaves 60%; an eye splice"
    both = "port stern line, starboard stern line"
    assert Finding(both, f"{told} leaves 90%") in gear_basis(k_day).findings
    assert not [one for one in gear_basis(with_gear(k_day, ends="knot")).findings
                if one.said.startswith(told)]  # fmt: skip


def test_what_the_sun_may_have_taken_is_told_and_takes_nothing(k_day):
    both = "port stern line, starboard stern line"
    # the handbook's span for a summer is 0.5 to 0.8; two multiply
    assert (
        Finding(
            both,
            "what the sun took is not in it: 2 summers in it would leave 25% to 64%"
            " (handbook figures from memory, rope without protection)",
        )
        in gear_basis(k_day).findings
    )
    assert (
        Finding(both, "what the sun took is not in it: nobody has printed it for nylon")
        in gear_basis(with_gear(k_day, fibre="nylon")).findings
    )
    unsaid = gear_basis(with_gear(k_day, age_years=None)).findings
    assert (
        Finding(
            both,
            "what the sun took is not in it: a summer in it would leave 50% to 80%"
            " (handbook figures from memory, rope without protection)",
        )
        in unsaid
    )
    new = gear_basis(with_gear(k_day, age_years=0.0)).findings
    assert not [one for one in new if "the sun" in one.said]


def test_an_age_nobody_tells_is_told_of_the_lines_that_are_led(k_day):
    both = "port stern line, starboard stern line"
    said = Finding(both, "age unknown; reckoned as 2 years or more")
    assert said in gear_basis(with_gear(k_day, age_years=None)).findings
    assert said not in gear_basis(k_day).findings


def over_edge(stay: Stay, radius_m: float | None) -> PartUse:
    turn = None if radius_m is None else 0.6
    edge = {"edge_radius_m": radius_m, "edge_turn_rad": turn}
    return parts_of(with_lines(stay, edge, {}))["port stern line to spur ring south"]


# A half is left where the edge's diameter is the rope's (handbook share, from memory).
def test_an_edge_as_thick_as_the_line_takes_half_of_it(k_day):
    free, bent = over_edge(k_day, None), over_edge(k_day, 6e-3)
    assert limit_n(bent) == pytest.approx(0.5 * limit_n(free))
    assert float(bent.use[0, 0]) == pytest.approx(2.0 * float(free.use[0, 0]))
    assert bent.limit_source == (
        "half of what parts it (common practice): US 3-strand table less bowline, age and"
        " an edge of 6 mm radius"
    )


def test_the_rounder_the_edge_the_more_the_line_keeps(k_day):
    limits = [limit_n(over_edge(k_day, radius_m)) for radius_m in (6e-3, 20e-3, 0.1, 1.0, 5.0)]
    assert np.all(np.diff(limits) > 0.0)
    assert limits[-1] == pytest.approx(limit_n(over_edge(k_day, None)), rel=0.03)


def test_over_an_edge_thinner_than_itself_nobody_knows_and_the_verdict_is_unknown(k_day):
    bent = over_edge(k_day, 2e-3)
    assert math.isnan(limit_n(bent)) and np.isnan(bent.use).all()
    assert bent.limit_source == (
        "unknown: nobody has printed what a rope keeps over an edge thinner than itself"
    )
    edge = {"edge_radius_m": 2e-3, "edge_turn_rad": 0.6}
    found = judge(with_lines(k_day, edge, {})).judgement
    assert found.verdict == "unknown"
    assert (
        Finding(
            "port stern line",
            "nobody has printed what a rope keeps over an edge thinner than itself",
        )
        in found.basis.findings
    )


def with_sling(stay: Stay, strength_n: float | None) -> Stay:
    boat = with_boat(stay, slings=(Sling("strop", "webbing", 3.0, strength_n),))
    return with_lines(boat, {"sling": "strop"}, {})


# EN 1492 (from memory): a choked sling carries 0.8 of its marked load.
def test_a_sling_at_the_point_is_a_part_of_its_own(k_day):
    sling = parts_of(with_sling(k_day, 10_000.0))["strop round spur ring south"]
    assert sling.kind == "sling"
    assert limit_n(sling) == pytest.approx(8_000.0)
    assert float(sling.use[0, 0]) == pytest.approx(0.25)
    assert sling.limit_source == (
        "0.8 of its 1000 kg in the boat file, since choked (EN 1492, from memory)"
    )


def test_a_sling_nobody_knows_is_told_with_its_load(k_day):
    sling = parts_of(with_sling(k_day, None))["strop round spur ring south"]
    assert math.isnan(limit_n(sling)) and np.isnan(sling.use).all()
    assert float(sling.load_n[0, 0]) == PULL_N
    assert sling.limit_source == "unknown: the boat file does not tell"


def test_a_sling_too_weak_decides_and_one_unknown_does_not(k_day):
    weak, unknown = (judge(with_sling(k_day, n)).judgement for n in (50.0, None))
    assert weak.verdict in ("no", "leave by")
    assert weak.first_to_give == "strop round spur ring south"
    assert unknown.verdict == "holds"


def test_two_lines_to_one_point_pull_at_it_together_and_at_their_sling(k_day):
    ring = k_day.lie.lines[0].point
    stay = with_boat(k_day, slings=(Sling("strop", "webbing", 3.0, 10_000.0),))
    stay = with_lines(stay, {"sling": "strop"}, {"sling": "strop", "point": ring})
    parts = parts_of(stay, (500.0, 1000.0, 3000.0))
    assert float(parts[f"{ring} ashore"].load_n[0, 0]) == 4000.0
    assert float(parts[f"strop round {ring}"].load_n[0, 0]) == 4000.0


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("ring", "unknown: the bay file does not tell"),
        (
            "Tree",
            "unknown; wanted is a living tree, rooted in soil and not in scree, 30 cm thick or more"
            " where the sling lies, close to the ground (rule of thumb, no source)",
        ),
        # 2 x 2 kN over a half: 8 kN, 0.8 t, at 2.6 t a cubic metre
        (
            "big boulder",
            "unknown; wanted is a boulder of 0.8 t or more, 0.3 cubic metres, with the sling low"
            " (rule of thumb, no source)",
        ),
        (
            "rock",
            "unknown; wanted is rock that is one with the hill, without a crack, that rings and"
            " does not sound hollow; no size can be named (rule of thumb, no source)",
        ),
    ],
)
def test_a_point_of_unknown_strength_is_told_with_a_rule_of_thumb(k_day, kind, said):
    points = tuple(replace(point, kind=kind) for point in k_day.bay.points)
    point = parts_of(replace(k_day, bay=replace(k_day.bay, points=points)))[
        "spur ring south ashore"
    ]
    assert point.limit_source == said
    assert math.isnan(limit_n(point))
    assert float(point.load_n[0, 0]) == PULL_N


def test_where_no_load_is_known_no_size_is_named(k_day):
    points = tuple(replace(point, kind="boulder") for point in k_day.bay.points)
    stay = replace(k_day, bay=replace(k_day.bay, points=points))
    part = parts_of(stay, (math.nan,) * 3)["spur ring south ashore"]
    assert part.limit_source == "unknown: the bay file does not tell"


def test_a_known_cleat_stands_beside_what_the_standard_wants(k_day):
    known = tuple(replace(cleat, strength_n=9000.0) for cleat in k_day.boat.cleats)
    standard = parts_of(k_day)["port quarter cleat"]
    part = parts_of(with_boat(k_day, cleats=known))["port quarter cleat"]
    assert limit_n(part) == 9000.0
    wanted = f"{float(f'{limit_n(standard) / 9.80665:.2g}'):.0f} kg"
    assert part.limit_source == f"boat file; ISO 15084 wants {wanted} there"


def test_too_few_strong_points_for_such_a_hull_are_told(k_day):
    assert not [one for one in gear_basis(k_day).findings if one.where == "Cleats"]
    long = with_boat(k_day, hull=replace(k_day.boat.hull, length_m=19.0),
                     cleats=k_day.boat.cleats[:3])  # fmt: skip
    said = "ISO 15084 wants {} of a hull as long, or one may be missing from the boat file"
    assert [one.said for one in gear_basis(long).findings if one.where == "Cleats"] == [
        f"1 forward; {said.format(2)}",
        f"0 to port amidships; {said.format(1)}",
        f"0 to starboard amidships; {said.format(1)}",
    ]


# EN 13889 (from memory): a tested shackle of 10 mm is marked 1 t.
def test_shackles_are_told_with_what_one_of_the_chains_size_is_marked(k_day):
    told = "they carry what the chain does, and a tested one no thicker than it is marked 1000 kg"
    assert (
        Finding(
            "Shackles",
            f"nobody says what those at the anchor carry; {told} (EN 13889, from memory)",
        )
        in gear_basis(k_day).findings
    )
    chain = replace(k_day.boat.rode[0], length_m=20.0)
    mixed = with_boat(k_day, rode=(chain, RodePiece("rope", 16e-3, 60.0, fibre="nylon")))
    assert (
        Finding(
            "Shackles",
            "nobody says what those at the anchor and between the pieces carry;"
            f" {told} (EN 13889, from memory)",
        )
        in gear_basis(mixed).findings
    )
    rope = with_boat(k_day, rode=(RodePiece("rope", 16e-3, 60.0, fibre="nylon"),))
    assert not [one for one in gear_basis(rope).findings if one.where == "Shackles"]


def test_a_limit_of_nothing_makes_a_use_past_every_limit_and_no_endless_one():
    limit = Limit(np.array([0.0, 0.0, 500.0, math.nan]), "made up")
    told = part_use("anchor", "anchor", limit, np.array([800.0, 0.0, 250.0, 800.0]))
    # use that is endless is kept for a boat that touches
    assert told.use[:3].tolist() == [999.0, 0.0, 0.5] and math.isnan(told.use[3])


def test_an_anchor_pulled_up_too_steeply_to_hold_is_never_said_to_touch(k_day):
    steep = replace(k_day, lie=replace(k_day.lie, chain_out_m=17.0, lines=()))
    judged = judge(steep)
    anchor = judged.judgement.parts[0]
    most = float(np.nanmax(anchor.use))
    assert float(anchor.limit_n[anchor.use == most].min()) == 0.0
    assert np.isfinite(judged.judgement.greatest_use).all()
    said = [*verdict_words(steep, judged.judgement), worst_words(steep, judged.judgement)]
    assert not any("touch" in one for one in said)
    assert "the anchor carries" in said[-1] and "over 9 of its limit" in said[-1]
