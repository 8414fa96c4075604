"""One person a duty, who does two where hands are short, and what nobody can take."""

from __future__ import annotations

import pytest

from shorefast.manoeuvre import Duty, crew_for
from shorefast.stay import Person

WANTED = ("helm", "rower", "bow", "line")


def people(*told):
    return tuple(Person(name, duties, True) for name, duties in told)


def test_four_people_have_one_duty_each():
    crew = crew_for(
        people(("A", ("helm",)), ("B", ("bow",)), ("C", ("line",)), ("D", ("rower",))), WANTED
    )
    assert crew.duties == (
        Duty("A", "helm"), Duty("D", "rower"), Duty("B", "bow"), Duty("C", "line"),
    )  # fmt: skip
    assert crew.missing == ()
    assert crew.doubled == ()


def test_nobody_has_two_duties_while_somebody_has_none():
    # B can do all, and C only what B is told for first
    crew = crew_for(
        people(("A", ("helm",)), ("B", ("rower", "bow", "line")), ("C", ("rower",)),
               ("D", ("bow",))), WANTED
    )  # fmt: skip
    assert {one.duty: one.person for one in crew.duties} == {
        "helm": "A", "rower": "C", "bow": "D", "line": "B",
    }  # fmt: skip
    assert crew.doubled == ()


def test_everybody_gets_the_duty_that_stands_first_where_that_fits():
    crew = crew_for(people(("A", ("bow", "helm")), ("B", ("helm", "bow"))), ("helm", "bow"))
    assert (crew.who("helm"), crew.who("bow")) == ("B", "A")


def test_with_three_the_bow_takes_the_line_once_the_chain_is_held():
    crew = crew_for(people(("A", ("helm",)), ("B", ("bow",)), ("C", ("rower",))), WANTED)
    assert crew.duties[-1] == Duty("B", "line", "bow")
    assert crew.missing == ()
    assert any("one after the other" in one.said for one in crew.basis.assumptions)


def test_with_two_the_helm_tends_the_line_and_the_rower_lets_go():
    crew = crew_for(people(("A", ("helm",)), ("B", ("rower", "bow"))), WANTED)
    assert crew.duties == (
        Duty("A", "helm"), Duty("B", "rower"), Duty("B", "bow", "rower"), Duty("A", "line", "helm"),
    )  # fmt: skip


def test_alone_there_is_nobody_to_carry_a_line():
    crew = crew_for(people(("A", ("helm", "bow", "line", "rower"))), WANTED)
    assert crew.who("helm") == "A"
    assert crew.missing == ("rower", "bow")


def test_what_is_most_needed_is_filled_first():
    crew = crew_for(people(("A", ("helm", "rower"))), ("rower", "helm"))
    assert (crew.who("rower"), crew.missing) == ("A", ("helm",))


def test_who_is_not_able_is_given_nothing():
    told = (Person("A", ("helm",)), Person("B", ("guest",), False))
    crew = crew_for(told, WANTED)
    assert [one.person for one in crew.duties] == ["A", "A"]
    assert crew.missing == ("rower", "bow")


def test_where_nobody_is_told_duties_stand_for_people():
    crew = crew_for((), WANTED)
    assert [one.person for one in crew.duties] == list(WANTED)
    assert not crew.told
    assert crew.basis.findings[0].said == (
        "nobody is told: every duty is reckoned to have its own hand"
    )


@pytest.mark.parametrize("turn", range(4))
def test_of_equal_ways_the_first_told_is_taken_and_it_is_always_the_same(turn):
    names = ["A", "B", "C", "D"]
    told = people(
        *((name, ("helm", "rower", "bow", "line")) for name in names[turn:] + names[:turn])
    )
    first = crew_for(told, WANTED)
    assert first == crew_for(told, WANTED)
    assert first.who("helm") == names[turn]
    assert {one.person for one in first.duties} == set(names)
