"""The watch bill: who looks out when, through the night without a gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from shorefast.basis import Assumption, Basis, Finding
from shorefast.errors import BadInput
from shorefast.stay import Person

WATCH, GUEST = "watch", "guest"
WATCH_EACH_S = 7200.0
"""How long one anchor watch lasts where nobody tells: common practice, no source."""
# nobody is woken for less than this share of a turn: the one before goes on
_LEAST_SHARE = 0.25


@dataclass(frozen=True)
class Turn:
    """One watch: who, from when until when."""

    person: str
    from_utc: datetime
    until_utc: datetime


@dataclass(frozen=True)
class WatchBill:
    """All turns, one after the other; none where nobody can keep one."""

    turns: tuple[Turn, ...]
    basis: Basis


def watch_keepers(people: Sequence[Person]) -> tuple[str, ...]:
    """Who keeps a watch, in the order they are told: first who is good for it.

    Those with the duty "watch"; where nobody has it, able people who are more than
    guests; where there are none either, everybody able.
    """
    able = [one for one in people if one.able]
    told = [one for one in people if WATCH in one.duties]
    crew = [one for one in able if set(one.duties) != {GUEST}]
    return tuple(one.name for one in told or crew or able)


def watch_bill(
    people: Sequence[Person],
    from_utc: datetime,
    until_utc: datetime,
    each_s: float | None,
    zone_name: str,
) -> WatchBill:
    """Turns that cover a span without a gap, one after another round all who keep a watch.

    Each lasts the same in true hours, also where the clocks are changed in the night. The
    first ends on a full hour of the place's clock where one lies within it, so that the
    reliefs after it do too; the last ends with the span, and takes what is left over where
    that is less than a quarter of a turn. Nobody's hours differ from another's by more
    than a turn and a quarter.

    Parameters
    ----------
    people : sequence of Person
    from_utc, until_utc : datetime
        Aware.
    each_s : float or None
        Of one turn; None: two hours. [s]
    zone_name : str
        The place's clock.

    Raises
    ------
    BadInput
        If the span ends before it begins, or a turn has no length.
    """
    each = timedelta(seconds=WATCH_EACH_S if each_s is None else each_s)
    if until_utc <= from_utc:
        raise BadInput(
            "Watch bill", f"it ends {until_utc:%H:%M} UTC", f"it begins {from_utc:%H:%M} UTC",
            "Give an end after the beginning.",
        )  # fmt: skip
    if each <= timedelta(0):
        raise BadInput("Watch bill", "turns of no length", "more than 0 wanted", "Correct it.")
    keepers = watch_keepers(people)
    if not keepers:
        said = Finding("Watch bill", "nobody aboard is told who can keep a watch")
        return WatchBill((), Basis(findings=(said,)))
    ends = _ends(from_utc, until_utc, each, ZoneInfo(zone_name))
    starts = (from_utc, *ends[:-1])
    turns = tuple(
        Turn(keepers[number % len(keepers)], start, end)
        for number, (start, end) in enumerate(zip(starts, ends, strict=True))
    )
    return WatchBill(turns, _basis(each_s, len(keepers)))


def _ends(
    from_utc: datetime, until_utc: datetime, each: timedelta, zone: ZoneInfo
) -> tuple[datetime, ...]:
    """When every turn ends."""
    ends = [_first_end(from_utc, each, zone)]
    while ends[-1] + _LEAST_SHARE * each <= until_utc:
        ends.append(ends[-1] + each)
    ends[-1] = until_utc
    return tuple(ends)


def _first_end(from_utc: datetime, each: timedelta, zone: ZoneInfo) -> datetime:
    """The last full hour of the clock within the first turn; its whole length if none."""
    latest = from_utc + each
    there = latest.astimezone(zone)
    past = timedelta(minutes=there.minute, seconds=there.second, microseconds=there.microsecond)
    return latest - past if latest - past > from_utc else latest


def _basis(each_s: float | None, keepers: int) -> Basis:
    said = []
    if each_s is None:
        said.append(
            Assumption(
                "One anchor watch lasts two hours: common practice, no source",
                "Longer ones let people sleep longer, and nod off on watch",
            )
        )
    if keepers == 1:
        said.append(
            Assumption(
                "One person keeps every watch",
                "Nobody looks out all night: an alarm that wakes, and short sleeps",
            )
        )
    return Basis(assumptions=tuple(said))
