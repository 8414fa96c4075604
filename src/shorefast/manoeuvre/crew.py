"""Who does what while she comes in: one person a duty, and who does two where hands are short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from shorefast.basis import Assumption, Basis, Finding
from shorefast.stay import Person

HELM, BOW, LINE, SWIMMER, ROWER = "helm", "bow", "line", "swimmer", "rower"
CARRIERS = (ROWER, SWIMMER)
# who takes over a duty that has nobody, by the duty already held: the bow's hands are free
# once the chain is held, the carrier's until then, the helm's only with the engine stopped
_TAKEN_OVER_BY = {BOW: (LINE, *CARRIERS), LINE: (BOW, HELM)}
# more people than this are not tried in every place
_MOST_TRIED = 9


@dataclass(frozen=True)
class Duty:
    """Who does what. ``also`` is a duty held besides; None where it is the only one."""

    person: str
    duty: str
    also: str | None = None


@dataclass(frozen=True)
class Crew:
    """The duties of a manoeuvre with their people.

    Attributes
    ----------
    duties : tuple of Duty
        One for each that was wanted and has somebody, in the order they were asked for.
    missing : tuple of str
        Duties that nobody can take.
    told : bool
        Whether anybody aboard is told: else each duty stands for the person who takes it.
    """

    duties: tuple[Duty, ...]
    missing: tuple[str, ...]
    told: bool
    basis: Basis

    def who(self, duty: str) -> str | None:
        """The person of a duty; None where nobody has it."""
        return next((one.person for one in self.duties if one.duty == duty), None)

    @property
    def doubled(self) -> tuple[Duty, ...]:
        """Duties of people who hold another one besides."""
        return tuple(one for one in self.duties if one.also is not None)


def crew_for(people: Sequence[Person], wanted: Sequence[str]) -> Crew:
    """One person for every duty, as far as there are people who can take it.

    Of all ways to share the duties out that leave fewest without anybody, the first ones
    the last, that one is taken in which people get what stands first among their duties;
    of equal ones the first by the order people are told in. Where the bow or the line is
    left over, somebody who has another duty takes it besides; nothing else is doubled.

    Parameters
    ----------
    people : sequence of Person
        Everybody aboard; nobody told: the duties stand for themselves.
    wanted : sequence of str
        Duties, the most needed first.
    """
    if not people:
        said = Finding("People", "nobody is told: every duty is reckoned to have its own hand")
        alone = tuple(Duty(duty, duty) for duty in wanted)
        return Crew(alone, (), False, Basis(findings=(said,)))
    held = _shared_out(people, tuple(wanted))
    duties, missing = [], []
    for duty in wanted:
        over = next((one for one in _TAKEN_OVER_BY.get(duty, ()) if one in held), None)
        if duty in held:
            duties.append(Duty(held[duty], duty))
        elif over is not None:
            duties.append(Duty(held[over], duty, over))
        else:
            missing.append(duty)
    return Crew(tuple(duties), tuple(missing), True, _basis(duties))


def _shared_out(people: Sequence[Person], wanted: tuple[str, ...]) -> dict[str, str]:
    """Duty to person, each person once."""
    able = [one for one in people if one.able and set(one.duties) & set(wanted)][:_MOST_TRIED]
    rows = [
        [None, *(number for number, one in enumerate(able) if duty in one.duties)]
        for duty in wanted
    ]
    good = [row for row in product(*rows) if _each_once(row)]
    best = min(good, key=lambda row: _weight(row, able, wanted))
    return {
        duty: able[number].name
        for duty, number in zip(wanted, best, strict=True)
        if number is not None
    }


def _each_once(row: tuple[int | None, ...]) -> bool:
    taken = [number for number in row if number is not None]
    return len(taken) == len(set(taken))


def _weight(
    row: tuple[int | None, ...], able: list[Person], wanted: tuple[str, ...]
) -> tuple[tuple[int, ...], ...]:
    """What makes one sharing out worse than another, the weightiest first."""
    empty = tuple(int(number is None) for number in row)
    liked = sum(
        able[number].duties.index(duty)
        for number, duty in zip(row, wanted, strict=True)
        if number is not None
    )
    order = tuple(-1 if number is None else number for number in row)
    return (sum(empty),), empty, (liked,), order


def _basis(duties: list[Duty]) -> Basis:
    doubled = [one for one in duties if one.also is not None]
    if not doubled:
        return Basis()
    said = Assumption(
        "Where hands are short the bow and the line are taken by somebody who has another"
        " duty, one after the other",
        "Both at once are too much for one: wait with the second until the first is done",
    )
    return Basis(assumptions=(said,))
