"""The engine-stopped rule cannot be passed: every order of events there is, tried.

What may happen is followed here a second time, from the names of the events alone: who is
where and whether the shaft can turn. The rule is the third of the printed cautions.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

import pytest

from shorefast.manoeuvre.sequence import CONDITIONS, EVENTS, Sequence, may_come, step

LONGEST = 4
TO_THE_SHORE = (
    "tend the line", "take her out of gear", "stop the engine", "answer engine stopped",
    "go to the ladder", "take the line off", "call a length off", "start the engine", "land",
    "make the line fast", "take in the slack",
)  # fmt: skip
AND_BACK = (
    "stop the engine", "answer engine stopped", "leave the shore", "come within a length",
    "come up the ladder", "leave the line",
)  # fmt: skip


@dataclass(frozen=True)
class Seen:
    """What somebody on the hill would see, by the events that were done."""

    turning: bool = True
    called: bool = False
    where: str = "aboard"
    bight: bool = False
    watched: bool = False

    def after(self, event):
        told = {
            "stop the engine": {"turning": False},
            "start the engine": {"turning": True, "called": False},
            "answer engine stopped": {"called": True},
            "take the helm": {"called": False},
            "go to the ladder": {"where": "ladder"},
            "step back aboard": {"where": "aboard"},
            "take the line off": {"where": "water", "bight": True},
            "call a length off": {"where": "far"},
            "come within a length": {"where": "water"},
            "land": {"where": "shore"},
            "leave the shore": {"where": "far"},
            "come up the ladder": {"where": "aboard"},
            "take in the slack": {"bight": False},
            "haul the line back": {"bight": False},
            "tend the line": {"watched": True},
            "leave the line": {"watched": False},
        }
        return replace(self, **told.get(event, {}))

    @property
    def harm(self):
        near = self.where in ("ladder", "water")
        return (
            (near and self.turning)
            or (near and not self.called)
            or (near and not self.watched)
            or (self.bight and self.turning and not self.watched)
        )


def _done(state, events):
    for event in events:
        state, waits_for = step(state, event)
        assert waits_for == (), event
    return state


def _reached():
    """Every state and what was seen in it, however many events it takes."""
    begun = (Sequence(), Seen())
    reached, waiting = {begun}, [begun]
    while waiting:
        state, seen = waiting.pop()
        for event in may_come(state):
            after = (step(state, event).state, seen.after(event))
            if after not in reached:
                reached.add(after)
                waiting.append(after)
    return reached


def test_no_order_of_events_of_any_length_brings_a_swimmer_to_a_propeller():
    reached = _reached()
    # every place a hand can be was looked at, so that this is no test of nothing
    assert {seen.where for _, seen in reached} == {"aboard", "ladder", "water", "far", "shore"}
    assert [state for state, seen in reached if seen.harm] == []


def test_what_the_machine_holds_is_what_is_seen():
    for state, seen in _reached():
        assert state.propeller_may_turn == seen.turning
        assert state.somebody_near == (seen.where in ("ladder", "water"))


def test_every_order_of_so_many_events_tried_one_by_one():
    """From a boat in gear, from one made quiet, and with a hand in the water."""
    quiet = ("tend the line", "stop the engine", "answer engine stopped")
    starts = ((), quiet, (*quiet, "go to the ladder", "take the line off"))
    for before in starts:
        begun, seen_first = Sequence(), Seen()
        for event in before:
            begun, seen_first = step(begun, event).state, seen_first.after(event)
        for events in product(EVENTS, repeat=LONGEST):
            state, seen = begun, seen_first
            for event in events:
                state, waits_for = step(state, event)
                if not waits_for:
                    seen = seen.after(event)
                assert not seen.harm, (before, events)


def test_what_has_to_wait_changes_nothing_and_says_what_it_waits_for():
    for state, _ in _reached():
        for event in EVENTS:
            after, waits_for = step(state, event)
            if waits_for:
                assert after == state
                assert all(not CONDITIONS[name](state) for name in waits_for)


def test_the_engine_can_always_be_stopped():
    assert all(step(state, "stop the engine").waits_for == () for state, _ in _reached())


def test_nobody_is_ever_left_where_nothing_can_be_done():
    """From everywhere the hand can come back aboard, the line fast or aboard."""
    reached = {state for state, _ in _reached()}
    home = {state for state in reached if state.hand == "aboard" and state.line != "in the water"}
    while True:
        more = {
            state
            for state in reached - home
            if any(step(state, event).state in home for event in may_come(state))
        }
        if not more:
            break
        home |= more
    assert reached == home


@pytest.mark.parametrize(
    ("before", "event", "waits_for"),
    [
        (
            (),
            "go to the ladder",
            ("engine stopped", "helm has answered", "line tended"),
        ),
        (("tend the line", "stop the engine"), "go to the ladder", ("helm has answered",)),
        (
            ("stop the engine", "answer engine stopped"),
            "go to the ladder",
            ("line tended",),
        ),
        # neutral is not stopped
        (
            ("tend the line", "take her out of gear"),
            "answer engine stopped",
            ("engine stopped",),
        ),
        (TO_THE_SHORE[:6], "start the engine", ("nobody near the stern",)),
        (TO_THE_SHORE[:5], "start the engine", ("nobody near the stern",)),
        (TO_THE_SHORE[:6], "put her in gear", ("engine out of gear", "nobody near the stern")),
        (TO_THE_SHORE[:6], "leave the line", ("line out of the water", "hand aboard")),
        (
            (*TO_THE_SHORE, "leave the shore"),
            "come within a length",
            ("engine stopped", "helm has answered"),
        ),
        # once started, the answer of before counts no more
        (
            (*TO_THE_SHORE[:8], "stop the engine"),
            "come within a length",
            ("helm has answered",),
        ),
        (
            ("tend the line", "stop the engine", "answer engine stopped", "offer the helm"),
            "go to the ladder",
            ("helm held",),
        ),
        # who takes the helm has to answer anew
        (
            (
                "tend the line", "stop the engine", "answer engine stopped", "offer the helm",
                "take the helm",
            ),
            "go to the ladder",
            ("helm has answered",),
        ),
        ((), "offer the helm", ("engine stopped",)),
        (TO_THE_SHORE[:5], "offer the helm", ("nobody near the stern",)),
    ],
)  # fmt: skip
def test_what_is_too_early_is_told_what_it_waits_for(before, event, waits_for):
    state = _done(Sequence(), before)
    assert step(state, event) == (state, waits_for)


def test_a_line_goes_ashore_and_the_hand_comes_back():
    ashore = _done(Sequence(), TO_THE_SHORE)
    assert (ashore.hand, ashore.line, ashore.engine) == ("ashore", "fast", "neutral")
    back = _done(ashore, AND_BACK)
    assert back == Sequence("stopped", True, False, "aboard", "fast", "held")
    # and the next line goes the same way, the engine left stopped
    again = ("tend the line", "go to the ladder", "take the line off", "call a length off", "land")
    assert _done(back, again).line == "in the water"


def test_an_event_nobody_knows_is_no_event():
    with pytest.raises(KeyError):
        step(Sequence(), "jump")
