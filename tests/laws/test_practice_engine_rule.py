"""No key and no line of a script brings a hand in the water to a propeller that can turn.

Every order there is, by script and by key, is given in every state that a trip ashore goes
through, and then every order again in every state that is reached, in the same moment or
seconds later. What must not be is looked for in what anybody would see from the shore: the
hand within a boat's length of the stern (caution 3), the shaft turning or not stopped.
"""

from __future__ import annotations

import math
from importlib import import_module
from pathlib import Path

import pytest

import shorefast
from shorefast.app.practice_press import EVERY_KEY, Look, press
from shorefast.app.practice_script import read_script
from shorefast.app.practice_words import Aboard, order_of
from shorefast.manoeuvre import FAILURES, TICK_S, Rehearsal, practice, seen_at, tick
from shorefast.readers import read_stay

DEMO = Path(shorefast.__file__).parent / "demo"
WORDS = (
    "helm port 30", "helm by crew", "ahead 60 %", "astern 100 %", "neutral", "stop engine",
    "engine stopped", "start engine", "let go", "chain to 10 m", "chain by crew", "hold chain",
    "tend line", "leave line", "go to ladder", "step back", "take line 1", "take line 2",
    "come back", "line 1 to 15 m", "line 2 to 40 m", "cast off line 1",
    *(f"fail {kind}" for kind in FAILURES),
)  # fmt: skip
LASTS_S = 4.0
STANDS = 0.02


@pytest.fixture(scope="module", autouse=True)
def _no_bottom():
    """Nothing touches: what is looked for here is not the bed, and it takes most of the time."""
    with pytest.MonkeyPatch.context() as patched:
        ticking = import_module("shorefast.manoeuvre.practice")
        patched.setattr(ticking, "spaces", lambda *_: ())
        yield


def _harm(one, moment):
    """Whether somebody in the water or at the ladder is near a shaft that turns or may."""
    sequence, hand = moment.deck.sequence, moment.deck.hand
    she = seen_at(one, moment)
    turns = abs(she.revs) > STANDS or sequence.engine != "stopped"
    if sequence.hand == "at the ladder":
        return turns
    if hand is None or sequence.hand == "ashore":
        return False
    stern = one.arrival.stern((she.east_m, she.north_m, she.heading_rad))
    near = math.dist(stern, (hand.east_m, hand.north_m)) < one.stay.boat.hull.length_m - 0.05
    return near and turns


def _kind(one, moment):
    """What tells one state from another here."""
    deck, she = moment.deck, seen_at(one, moment)
    hand = deck.hand
    return (
        deck.sequence, hand is None or (hand.line, hand.back, hand.brings, hand.ashore_s > 170.0),
        abs(she.revs) > STANDS, deck.fouled, deck.helm_by_crew,
        frozenset(one.kind for one in deck.failed if one.kind in ("engine stops",
                  "throttle sticks astern", "swimmer in difficulty")),
    )  # fmt: skip


def _trip(one, orders):
    """Moments of a trip as the script beside the bay has it, one of each kind."""
    way, waiting, found = Rehearsal(one), list(orders), {}
    until_s = next(t.at_s for t in orders if t.order.do == "take line") + 420.0
    while way.t_s < until_s:
        now = [t.order for t in waiting if t.at_s <= way.t_s]
        waiting = waiting[len(now) :]
        way.on(now)
        assert not _harm(one, way.moments[-1])
        found.setdefault(_kind(one, way.moments[-1]), way.moments[-1])
    return found


def _actions(one, aboard):
    def ordered(words):
        order = order_of(words, "here", aboard)
        return lambda _moment: (order,)

    def pressed(key):
        def orders(moment):
            way = Rehearsal(one)
            row = way.rows[0]._replace(
                revs=seen_at(one, moment).revs,
                fast=tuple(one.she.is_fast(k + 1) for k in range(len(one.gear))),
            )
            return press(one, moment, row, Look(), key).orders

        return orders

    return [*(ordered(words) for words in WORDS), *(pressed(key) for key in EVERY_KEY)]


def _after(one, moment, orders):
    """Every moment that comes of orders, while time goes on; the first and the last of them."""
    ends = []
    for number in range(round(LASTS_S / TICK_S)):
        moment = tick(one, moment, orders if number == 0 else ()).moment
        assert not _harm(one, moment), orders
        if number == 0:
            ends.append(moment)
    return [*ends, moment]


@pytest.mark.parametrize(
    ("bay", "longest"), [("stone_spur", 2), ("tres_sombras", 1)], ids=["swimmer", "rower"]
)
def test_no_order_and_no_key_passes_the_engine_stopped_rule(bay, longest):
    stay = read_stay(DEMO / bay / "stay.toml")
    aboard = Aboard(len(stay.lie.lines), stay.boat.engine.full_revs_rpm)
    script = read_script(DEMO / bay / "practice.txt", aboard)
    one = practice(stay, script.setting)
    reached = _trip(one, script.orders)
    # the search sees a hand everywhere a hand can be
    assert {kind[0].hand for kind in reached} >= {"aboard", "at the ladder", "near", "clear",
                                                  "ashore"}  # fmt: skip
    actions, waiting = _actions(one, aboard), list(reached.values())
    for _ in range(longest):
        fresh = []
        for moment in waiting:
            for action in actions:
                orders = action(moment)
                if not orders:
                    continue
                for after in _after(one, moment, orders):
                    if _kind(one, after) not in reached:
                        reached[_kind(one, after)] = after
                        fresh.append(after)
        waiting = fresh
    assert len(reached) > 80
