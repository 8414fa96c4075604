"""The watch bill covers the night without a gap, fairly, across midnight and changed clocks."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from shorefast.errors import BadInput
from shorefast.manoeuvre import watch_bill, watch_keepers
from shorefast.stay import Person

HOUR = timedelta(hours=1)
THREE = tuple(Person(name, ("watch",)) for name in ("A", "B", "C"))


def at(text):
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def bill(people, begins, ends, each_s=7200.0, zone="UTC"):
    return watch_bill(people, at(begins), at(ends), each_s, zone)


def hours(turns):
    sums = {}
    for one in turns:
        sums[one.person] = sums.get(one.person, timedelta()) + (one.until_utc - one.from_utc)
    return sums


def whole(turns, begins, ends):
    assert turns[0].from_utc == at(begins)
    assert turns[-1].until_utc == at(ends)
    assert all(one.until_utc == other.from_utc for one, other in pairwise(turns))
    assert all(one.until_utc > one.from_utc for one in turns)


# Written by hand: 22 to 8 are ten hours, five turns of two, A twice, B twice, C once.
def test_a_night_of_ten_hours_among_three_over_midnight():
    turns = bill(THREE, "2026-06-24T22:00", "2026-06-25T08:00").turns
    assert [(one.person, f"{one.from_utc:%H:%M}") for one in turns] == [
        ("A", "22:00"), ("B", "00:00"), ("C", "02:00"), ("A", "04:00"), ("B", "06:00"),
    ]  # fmt: skip
    whole(turns, "2026-06-24T22:00", "2026-06-25T08:00")


def test_reliefs_come_at_full_hours_of_the_places_clock():
    # 20:40 UTC is 22:40 on this coast in June: the first relief at midnight there
    turns = bill(THREE, "2026-06-24T20:40", "2026-06-25T05:00", zone="Europe/Oslo").turns
    there = [one.until_utc.astimezone(ZoneInfo("Europe/Oslo")) for one in turns]
    assert [f"{moment:%H:%M}" for moment in there] == ["00:00", "02:00", "04:00", "06:00", "07:00"]


def test_a_clock_of_half_hours_has_its_full_hours_too():
    # India is five and a half hours ahead: 16:40 UTC is 22:10 there, two hours on 00:10
    turns = bill(THREE, "2026-06-24T16:40", "2026-06-24T22:30", zone="Asia/Kolkata").turns
    assert f"{turns[0].until_utc:%H:%M}" == "18:30"


# European Union summer time ends 2026-10-25 01:00 UTC and begins 2026-03-29 01:00 UTC
# (directive 2000/84/EC, from memory): those nights have an hour more and an hour less.
@pytest.mark.parametrize(
    ("begins", "ends", "true_hours"),
    [
        ("2026-10-24T20:00", "2026-10-25T07:00", 11),
        ("2026-03-28T21:00", "2026-03-29T06:00", 9),
    ],
)
def test_the_night_the_clocks_change_nobody_stands_a_double_watch(begins, ends, true_hours):
    turns = bill(THREE, begins, ends, zone="Europe/Oslo").turns
    whole(turns, begins, ends)
    assert sum(hours(turns).values(), timedelta()) == true_hours * HOUR
    assert max(one.until_utc - one.from_utc for one in turns) <= 2 * HOUR
    # 22:00 there in both, summer or winter clock, to 8:00 there
    first, last = (
        moment.astimezone(ZoneInfo("Europe/Oslo"))
        for moment in (turns[0].from_utc, turns[-1].until_utc)
    )
    assert (f"{first:%H:%M}", f"{last:%H:%M}") == ("22:00", "08:00")


@pytest.mark.parametrize("count", [1, 2, 3, 5])
@pytest.mark.parametrize("begin_minute", [0, 7, 40])
@pytest.mark.parametrize("length_minutes", [30, 119, 121, 450, 722, 1440])
@pytest.mark.parametrize("each_s", [2700.0, 5400.0, 7200.0, 14400.0])
def test_no_night_has_a_gap_and_nobody_much_more_than_another(
    count, begin_minute, length_minutes, each_s
):
    people = tuple(Person(f"P{number}", ("watch",)) for number in range(count))
    begin = at(f"2026-10-24T20:{begin_minute:02d}")
    end = begin + timedelta(minutes=length_minutes)
    turns = watch_bill(people, begin, end, each_s, "Europe/Oslo").turns
    assert (turns[0].from_utc, turns[-1].until_utc) == (begin, end)
    assert all(one.until_utc == other.from_utc for one, other in pairwise(turns))
    each = timedelta(seconds=each_s)
    assert max(one.until_utc - one.from_utc for one in turns) <= 1.25 * each
    stood = [hours(turns).get(one.name, timedelta()) for one in people]
    assert max(stood) - min(stood) <= 1.25 * each
    if count > 1:
        assert all(one.person != other.person for one, other in pairwise(turns))


def test_nobody_is_woken_for_the_last_minutes():
    turns = bill(THREE, "2026-06-24T22:00", "2026-06-25T02:10").turns
    assert [one.until_utc for one in turns] == [at("2026-06-25T00:00"), at("2026-06-25T02:10")]


def test_only_those_who_can_keep_a_watch_do():
    told = (
        Person("A", ("helm", "watch")),
        Person("B", ("guest",), False),
        Person("C", ("watch",), False),
        Person("D", ("bow",)),
    )
    assert watch_keepers(told) == ("A", "C")
    # nobody told for it: able people who are more than guests, then able guests
    assert watch_keepers(told[1:2] + told[3:]) == ("D",)
    assert watch_keepers((Person("E", ("guest",)), told[1])) == ("E",)
    assert watch_keepers(told[1:2]) == ()


def test_nobody_to_keep_a_watch_is_a_finding():
    found = bill((Person("B", ("guest",), False),), "2026-06-24T22:00", "2026-06-25T08:00")
    assert found.turns == ()
    assert found.basis.findings[0].said == "nobody aboard is told who can keep a watch"


def test_a_length_nobody_tells_is_two_hours_and_one_alone_is_said():
    one = bill(THREE[:1], "2026-06-24T22:00", "2026-06-25T04:00", None)
    assert len(one.turns) == 3
    said = [assumption.said for assumption in one.basis.assumptions]
    assert said == [
        "One anchor watch lasts two hours: common practice, no source",
        "One person keeps every watch",
    ]


@pytest.mark.parametrize(
    ("ends", "each_s", "sentence"),
    [
        (
            "2026-06-24T21:00", 7200.0,
            "Watch bill: it ends 21:00 UTC, it begins 22:00 UTC. Give an end after the beginning.",
        ),
        (
            "2026-06-25T04:00", 0.0,
            "Watch bill: turns of no length, more than 0 wanted. Correct it.",
        ),
    ],
)  # fmt: skip
def test_a_night_that_cannot_be_is_answered(ends, each_s, sentence):
    with pytest.raises(BadInput) as trouble:
        bill(THREE, "2026-06-24T22:00", ends, each_s)
    assert trouble.value.sentence == sentence
