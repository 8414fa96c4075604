"""What is told of the lies chosen between: uses, the unknown, rules, ties, losses."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from shorefast.bay import ShorePoint, Zone
from shorefast.boat import Cleat
from shorefast.mooring import L_BEARING, L_LYING, Rests
from shorefast.readers import read_stay
from shorefast.stay import Stay
from shorefast.stay.choose_answer import Choice, Finalist
from shorefast.stay.choose_ashore import SternEnds
from shorefast.stay.choose_final import alike, finalist, ranked
from shorefast.stay.choose_helps import elsewhere, helps
from shorefast.stay.choose_lies import Berth
from shorefast.stay.choose_lying import amiss, on_board, over_deck
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import Hunt
from shorefast.stay.outlines import placed
from shorefast.stay.over_zones import over_zones
from shorefast.stay.plan import LieLine
from shorefast.stay.without_answer import WithoutOne
from shorefast.wording import choice_words, finalist_words, help_words

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module")
def given(k_day: Stay) -> Finalist:
    """Behind the spur by day till five, holding."""
    return finalist(replace(k_day, until_utc=k_day.from_utc + timedelta(hours=3)))


def chosen(*found: Finalist) -> Choice:
    """A choice between these."""
    first = found[0]
    return Choice(first.stay, found, (), (), 0, 0, False, (), first.judged.judgement.basis)


def test_the_part_named_is_used_as_much_as_told_in_some_member():
    # in one member of 51 the breast line is used more than anything: it is spared, and so
    # the use told is another member's, whose stern line has it
    found = finalist(read_stay(DEMO / "grey_notch" / "stay_d_breast.toml"))
    answer = found.judged.judgement
    hour = answer.time_utc.tolist().index(found.worst_utc.replace(tzinfo=None))
    (part,) = (part for part in answer.parts if part.name == found.first_to_give)
    assert found.use in part.use[:, hour]


def till(stay: Stay, hours: float) -> Stay:
    """The stay with a forecast that ends so many hours after its beginning."""
    end = np.datetime64((stay.from_utc + timedelta(hours=hours)).replace(tzinfo=None))
    kept = stay.wind.time_utc <= end
    wind = replace(
        stay.wind,
        time_utc=stay.wind.time_utc[kept],
        wind_mps=stay.wind.wind_mps[:, kept],
        gust_mps=stay.wind.gust_mps[:, kept],
        wind_from_rad=stay.wind.wind_from_rad[:, kept],
    )
    return replace(stay, wind=wind)


def test_a_lie_that_holds_as_far_as_the_forecast_tells_is_no_worse_than_one_that_does_not(k_day):
    known = till(replace(k_day, until_utc=k_day.from_utc + timedelta(hours=6)), 4.0)
    lie = known.lie
    # anchor let go 10 m nearer in, on the same chain: a limit is passed while all is known
    near = replace(
        lie, let_go_east_m=lie.let_go_east_m + 7.0, let_go_north_m=lie.let_go_north_m - 7.0
    )
    good, bad = finalist(known), finalist(replace(known, lie=near))
    assert good.judged.judgement.verdict == "unknown"
    assert bad.judged.judgement.verdict == "leave by"
    assert good.unknown_from is not None
    assert known.from_utc + timedelta(hours=4) < good.unknown_from
    # leave by: an hour before nobody knows, as before a limit
    assert good.until >= good.unknown_from - timedelta(hours=1, minutes=15)
    assert 0.0 < good.use < 1.0
    assert ranked([bad, good])[0].lie == good.lie
    said = choice_words(chosen(good))
    assert "whether she can lie on is unknown from" in said
    assert "the forecast does not tell the wind" in said
    assert "no lie" not in said


def test_a_use_nobody_knows_is_told_as_unknown(k_day):
    known = till(k_day, 1.0)
    one = finalist(replace(known, from_utc=known.from_utc + timedelta(hours=3)))
    assert math.isnan(one.told_use)
    assert one.first_to_give is None
    assert "unknown" in finalist_words(one.stay, one)[0]
    assert "over 9" not in " ".join(finalist_words(one.stay, one))
    assert choice_words(chosen(one)).startswith("Whether she can lie here is unknown: ")


def test_the_stay_files_own_lie_over_a_zone_comes_last_whatever_its_use(given):
    lie = given.lie
    place = Point(lie.let_go_east_m, lie.let_go_north_m).buffer(1.5)
    zone = Zone("no anchoring", "works", place, "local notice")
    bay = replace(given.stay.bay, zones=(zone,))
    barred = finalist(replace(given.stay, bay=bay))
    worse = replace(given, use=2.0 * given.use, given=False)
    assert barred.use == pytest.approx(given.use, rel=1e-12)
    assert barred.against == "the anchor would be let go in the zone 'works'"
    assert [one.against for one in ranked([barred, worse])] == [None, barred.against]
    assert choice_words(chosen(barred)).startswith("No lie was found that fits here; ")


@pytest.mark.parametrize(
    ("uses", "numbers"),
    [
        ((0.500, 0.514, 0.528), (1, 1, 3)),  # the third ties with the second only
        ((0.070, 0.075, 0.081), (1, 1, 3)),  # within a hundredth nobody tells one from the other
        ((0.500, 0.520), (1, 2)),
    ],
)
def test_ties_are_with_the_best_of_those_that_tie(given, monkeypatch, uses, numbers):
    monkeypatch.setattr("shorefast.stay.choose_final.if_one_goes", lambda stay, judged: ())
    found = ranked([replace(given, use=use) for use in uses])
    assert tuple(one.tie for one in found) == numbers


def lost(name: str, kind: str = "line", **how: object) -> WithoutOne:
    """One loss after which all is well, but for what is told otherwise."""
    plain = WithoutOne(
        name, True, 0.0, 0.0, 0.0, 0.0, "chain", 0.4, False, 3.0, None, kind=kind,
        share_followed=0.0, share_touches=0.0, share_unknown=0.0, share_drags=0.0,
    )  # fmt: skip
    return replace(plain, **how)


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ({"touches": "water under the rudder"}, "once she loses port line: she may touch"),
        ({"share_touches": 0.1}, "once she loses port line: she may touch"),
        ({"drags": True, "next_use": 1.3}, "once she loses port line: the anchor may drag"),
        ({"share_drags": 0.2, "next_use": 1.6}, "once she loses port line: the anchor may drag"),
        ({"breaks": True, "follows": ("snubber",)}, "once she loses port line: snubber parts"),
        ({"adrift": True}, "once she loses port line: nothing holds her"),
    ],
)
def test_what_follows_a_loss_is_told_and_stands_in_the_sentence(given, how, said):
    one = replace(given, losses=(lost("port line", **how), lost("anchor", "anchor")))
    assert one.not_survived == ("port line",)
    words = finalist_words(one.stay, one)
    assert said in words
    assert "after any other loss nothing follows: 0.40 of a limit at most" in words
    assert "It does not stand the loss of port line;" in choice_words(chosen(one))


def test_a_loss_nobody_can_follow_is_unknown_and_not_survived_is_not_said(given):
    dark = lost("port line", found=False, next_part=None, next_use=math.nan, share_unknown=1.0)
    one = replace(given, losses=(dark, lost("anchor", "anchor")))
    assert one.not_survived == ()
    assert one.not_known == ("port line",)
    assert "once she loses port line: what follows is unknown" in finalist_words(one.stay, one)
    assert "What follows the loss of port line is unknown;" in choice_words(chosen(one))


def test_the_lie_that_stands_a_loss_is_named_where_the_best_does_not(given):
    weak = replace(given, losses=(lost("port line", breaks=True, follows=("chain",)),))
    sturdy = replace(given, use=given.use + 0.2, losses=(lost("port line"),))
    said = choice_words(chosen(weak, sturdy))
    at = f"at {sturdy.use:.2f} for {weak.use:.2f}"
    assert said.endswith(f"; lie 2, {at}, stands every single loss but the anchor's.")
    assert "not stand" not in choice_words(chosen(sturdy, weak))


def test_a_line_past_its_limit_after_a_loss_is_not_told_as_nothing(given):
    one = replace(given, losses=(lost("port line", next_use=1.4),))
    assert finalist_words(one.stay, one)[-1] == (
        "after any one loss nothing follows: 1.40 of a limit at most, past it, but nothing parts"
    )


# A lie that ends at five is asked what a loss does till then, not in the night after.
def test_losses_are_asked_for_the_hours_she_lies_there(given, monkeypatch):
    asked = []
    monkeypatch.setattr(
        "shorefast.stay.choose_final.if_one_goes", lambda stay, judged: asked.append(stay) or ()
    )
    early = given.stay.from_utc + timedelta(hours=1)
    answer = replace(given.judged.judgement, verdict="leave by")
    ranked([replace(given, until=early, judged=replace(given.judged, judgement=answer))])
    assert {stay.until_utc for stay in asked} == {early}


def test_what_one_change_does_is_what_judge_says_of_it(k_day):
    # anchor let go 6 m too near: less chain or farther off must help
    lie = k_day.lie
    near = replace(
        lie, let_go_east_m=lie.let_go_east_m + 4.2, let_go_north_m=lie.let_go_north_m - 4.2
    )
    stay = replace(k_day, lie=near, until_utc=k_day.from_utc + timedelta(hours=5))
    now = finalist(stay)
    found = helps(replace(stay, lie=None), now)
    assert found
    for one in found:
        again = finalist(one.stay)
        assert (again.use, again.until) == (one.use, one.until)
        assert again.until > now.until or again.use < now.use
    said = help_words(replace(chosen(now), helps=found))
    assert all(f"instead of {now.use:.2f}" in words for words in said)


def test_a_line_led_elsewhere_is_among_the_changes(k_day):
    now = finalist(replace(k_day, until_utc=k_day.from_utc + timedelta(hours=1)))
    hunt = Hunt(replace(k_day, lie=None), Rules(k_day))
    made = dict(elsewhere(hunt, now.candidate))
    moved = [one.lie.lines for one in made.values()]
    assert all(len(lines) == len(k_day.lie.lines) for lines in moved)
    assert any("from port quarter to spur ring north instead of" in words for words in made)


# Shapely crosses the same stretches one by one: a witness that knows no sides.
def test_lines_that_cross_as_she_lies_are_found_as_by_geometry(k_day):
    rng = np.random.default_rng(11)
    points = {point.name: (point.east_m, point.north_m) for point in k_day.bay.points}
    cleats = {cleat.name: cleat.spot for cleat in k_day.boat.cleats}
    names, spots = list(points), list(cleats)
    seen = set()
    for _ in range(300):
        lines = tuple(
            LieLine("port stern line", str(rng.choice(spots)), str(rng.choice(names)), 20.0)
            for _ in range(2)
        )
        lie = replace(k_day.lie, lines=lines)
        q = np.array([*rng.uniform(-60.0, 60.0, 2), rng.uniform(0.0, 2.0 * math.pi)])
        inboard = [(k_day.boat.roller.x_m, 0.0)] + [
            (cleats[line.cleat].x_m, cleats[line.cleat].y_m) for line in lines
        ]
        far = [(lie.let_go_east_m, lie.let_go_north_m)] + [points[line.point] for line in lines]
        near = placed(np.array(inboard), q)
        led = [LineString([a, b]) for a, b in zip(near, far, strict=True)]
        crossing = any(led[i].crosses(led[j]) for i in range(3) for j in range(i))
        why = amiss(k_day, lie, q)
        assert crossing == (why == "as she lies two of her lines would cross, or one her chain")
        middle = 0.5 * k_day.boat.hull.length_m
        keel = LineString(placed(np.array([(-middle, 0.0), (middle, 0.0)]), q))
        across = any(keel.crosses(one) for one in led[1:])
        if not crossing:
            assert across == (why == "as she lies a line would lead across her own deck")
        seen.add((crossing, across))
    assert len(seen) == 4


def test_what_few_states_do_is_let_be(k_day):
    q = np.array([[-20.0, 20.0, 2.0 * math.pi * 315.0 / 360.0]] * 100)
    assert amiss(k_day, k_day.lie, q) is None
    q[:4, 2] += math.pi
    assert amiss(k_day, k_day.lie, q) is None
    q[:40, 2] += math.pi
    assert amiss(k_day, k_day.lie, q) is not None


def test_a_bow_line_may_not_lead_over_the_foredeck_to_the_other_side(k_day):
    """From the starboard bow to a point on the port beam: over the pulpit and the chain."""
    at = Berth(SternEnds((), 0.0, 0.0, 0.0), 0.0, 400.0, 400.0, 0.0)
    boat = k_day.boat
    (cleat,) = (one for one in boat.cleats if one.name == "starboard bow")
    abeam = ShorePoint("to port", "ring", 370.0, 410.0, 2.0)
    q = np.array([400.0, 400.0, 0.0])
    spot = (cleat.spot.x_m, cleat.spot.y_m)
    assert over_deck(boat, spot, on_board(q, abeam.east_m, abeam.north_m))
    rules = Rules(replace(k_day, bay=replace(k_day.bay, land=None, zones=())))
    assert rules.of_line(at, cleat, abeam) == "a line would lead across the boat herself"
    own = ShorePoint("to starboard", "ring", 430.0, 410.0, 2.0)
    assert rules.of_line(at, cleat, own) is None


def test_crossed_stern_lines_behind_her_are_no_matter_of_the_deck(k_day):
    (port,) = (one for one in k_day.boat.cleats if one.name == "port quarter")
    assert isinstance(port, Cleat)
    q = np.array([0.0, 0.0, 0.0])
    assert not over_deck(k_day.boat, (port.spot.x_m, port.spot.y_m), on_board(q, 9.0, -25.0))


def test_a_little_chain_in_a_zone_is_told_as_more_than_nothing(k_day):
    lie = k_day.lie
    q = np.empty((1, 1, 3))
    q[...] = lie.let_go_east_m - 20.0, lie.let_go_north_m - 20.0, math.pi / 4
    line = np.zeros((1, 1, 1 + len(lie.lines), 8))
    line[..., 0, L_BEARING], line[..., 0, L_LYING] = math.pi / 4, 6.0
    place = Point(lie.let_go_east_m - 5.0, lie.let_go_north_m - 5.0).buffer(1.3, quad_segs=64)
    zone = Zone("seagrass", "over here", place, "a sign ashore")
    stay = replace(k_day, bay=replace(k_day.bay, zones=(zone,)))
    times = np.array([np.datetime64(k_day.from_utc.replace(tzinfo=None))])
    (found,) = over_zones(stay, times, Rests(q, np.zeros((1, 1), np.int64), line))
    # the zone begins 5.77 m out: some two decimetres of six metres lie in it
    assert found.said.startswith("up to 1 m of it lie on the bed in the zone")


def test_the_same_lie_twice_is_one(given):
    nearly = replace(given.lie, let_go_east_m=given.lie.let_go_east_m + 0.4)
    assert alike(given, replace(given, stay=replace(given.stay, lie=nearly)))
    other = replace(given.lie, lines=given.lie.lines[:1])
    assert not alike(given, replace(given, stay=replace(given.stay, lie=other)))
