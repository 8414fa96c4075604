"""Keys of practice: each becomes its order, its look, or nothing."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

import shorefast
from shorefast.app.practice_press import EVERY_KEY, Look, press
from shorefast.app.practice_terminal import split_key
from shorefast.app.practice_words import Aboard, order_of, words_of
from shorefast.manoeuvre import Order, Rehearsal, Setting, practice
from shorefast.mooring import kept
from shorefast.readers import read_stay
from shorefast.wording import KEYS

DEMO = Path(shorefast.__file__).parent / "demo"


@pytest.fixture
def way():
    return Rehearsal(practice(read_stay(DEMO / "stone_spur" / "stay.toml"), Setting()))


def _press(way, key, look=None):
    return press(way.practice, way.moments[-1], way.rows[-1], look or Look(), key)


def _listed():
    """The keys as the list shows them, one by one."""
    keys = set()
    for shown, _ in KEYS:
        if shown == "1 to 9":
            keys |= set("123456789")
        else:
            keys |= set(shown.replace(",", "").split())
    return keys


def test_every_key_that_does_something_is_listed_and_the_other_way_round():
    assert _listed() == set(EVERY_KEY)


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("left", "helm port 5"), ("right", "helm starboard 5"), ("m", "helm midships"),
        ("up", "ahead 5 %"), ("down", "astern 5 %"), ("n", "neutral"), ("s", "stop engine"),
        ("a", "engine stopped"), ("g", "start engine"), ("<", "thruster port 50 %"),
        (">", "thruster starboard 50 %"), (".", "thruster off"), ("l", "let go"),
        ("v", "chain to 1 m"), ("V", "chain to 5 m"), ("k", "chain to 0 m"), ("h", "hold chain"),
        ("w", "helm by crew"), ("c", "chain by crew"), ("t", "tend line"), ("o", "go to ladder"),
        ("i", "line 1 to 19 m"), ("u", "line 1 to 21 m"),
    ],
)  # fmt: skip
def test_a_key_is_the_order_it_says(way, key, words):
    orders = _press(way, key).orders
    # the very order that the words of a script give, so that it is written down to the bit
    assert orders == (order_of(words, "here", Aboard(2)),)
    assert words_of(orders[0]) == words


def test_helm_and_engine_go_on_from_what_was_ordered(way):
    way.on(_press(way, "left").orders)
    way.on(_press(way, "left").orders)
    assert way.moments[-1].deck.helm_rad == pytest.approx(-math.radians(10.0))
    for _ in range(12):
        way.on(_press(way, "left").orders)
    # her rudder goes over to 35 degrees
    assert way.moments[-1].deck.helm_rad == pytest.approx(-math.radians(35.0))


def test_helm_taken_back_from_the_crew_is_taken_over_as_it_stands(way):
    way.on([Order("helm by crew")])
    for _ in range(60):
        way.on()
    revs = way.rows[-1].revs
    way.on(_press(way, "left").orders)
    deck = way.moments[-1].deck
    assert not deck.helm_by_crew
    assert deck.revs == revs < 0.0


def test_the_hand_goes_step_by_step(way):
    way.on([Order("tend line"), Order("stop engine")])
    for _ in range(8):
        way.on()
    way.on(_press(way, "a").orders)
    way.on(_press(way, "o").orders)
    assert way.moments[-1].deck.sequence.hand == "at the ladder"
    taken = _press(way, "o", Look(line=2)).orders
    assert taken == (Order("take line", line=2),)
    way.on(taken)
    assert _press(way, "o").orders == (Order("come back"),)


def test_a_line_is_chosen_and_cast_off_only_when_asked_twice(way):
    chosen = _press(way, "2")
    assert chosen.look.line == 2 and chosen.said == way.practice.gear[1].leg.name
    assert _press(way, "7").said == "The lie has 2 lines."
    once = _press(way, "x", chosen.look)
    assert once.orders == () and once.said == "x again casts off line 2."
    assert _press(way, "x", once.look).orders == (Order("cast off", line=2),)
    other = _press(way, "v", once.look)
    assert _press(way, "x", other.look).orders == ()


def test_time_goes_once_twice_five_times_stands_and_goes_back(way):
    look = Look()
    paces = []
    for _ in range(4):
        look = _press(way, "f", look).look
        paces.append(look.pace)
    assert paces == [2, 5, 1, 2]
    assert _press(way, "p", look).look.paused
    assert _press(way, "b").back_s == 30.0
    assert _press(way, "z").look.near
    assert _press(way, "?").look.keys
    assert not _press(way, "l", Look(keys=True)).look.keys
    assert _press(way, "l", Look(keys=True)).orders == ()


def test_it_ends_when_asked_twice_and_says_so_for_no_key(way):
    once = _press(way, "q")
    assert once.said == "q again ends it." and not once.look.over
    assert _press(way, "q", once.look).look.over
    assert _press(way, "y").said == "No such key; ? shows them."


def test_something_fails_that_has_not_failed_yet(way):
    seen = set()
    for _ in range(5):
        orders = _press(way, "F").orders
        seen.add(orders[0].failure.kind)
        way.on(orders)
    assert len(seen) == 5


def test_what_a_terminal_sends_is_cut_into_keys():
    assert split_key("\x1b[Dl") == ("left", "l")
    assert split_key("\x1bOA") == ("up", "")
    assert split_key("q") == ("q", "")
    with pytest.raises(KeyboardInterrupt):
        split_key("\x03")


def test_a_lie_without_lines_has_no_keys_for_them(way):
    made = Rehearsal(replace(way.practice, gear=()))
    for key in "xiuo":
        pressed = _press(made, key)
        assert (pressed.orders, pressed.said) == ((), "The lie has no line.")
    assert _press(made, "1").said == "The lie has no line."
    ticked = made.on([Order("take line", line=1), Order("line to", 20.0, 1)])
    assert {one.waits_for for one in ticked.happened} == {("a line of that number",)}


def test_no_more_of_a_line_is_eased_than_there_is(way):
    way.practice.she.make_fast(1, 20.0)
    way.moments[-1] = replace(way.moments[-1], she=kept(way.practice.she))
    told = way.on([Order("line to", 80.0, 1)]).happened
    # 50 m aboard
    assert told[0].waits_for == ("so much of it is aboard",)
    assert way.moments[-1].deck.line_to_m == (None, None)
