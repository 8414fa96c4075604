"""Where she runs from one way of lying to another between two hours of a stay."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Finding
from shorefast.mooring.batch import Moored, Rests
from shorefast.mooring.every_rest import AllRests, all_rests
from shorefast.mooring.following import apart_m, branches_of_members
from shorefast.mooring.one_rest import OneRest
from shorefast.mooring.rest import Load
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3

_WITHIN_N = 1e-2
_PARTS = 16
_HERE_M = 0.25
VANISHED, ANOTHER = 1, 2


@dataclass(frozen=True)
class BranchMove:
    """One move from a way of lying to another.

    member, time : indices; the move comes between ``time - 1`` and ``time``
    vanished : whether the rest she lay in ends on the way (else it goes on, and the
        place told is another one)
    share : share of the change of wind and water at which it ends; 1 where it goes on
    q_from, q_to : east [m], north [m], heading [rad] of the two hours
    q_last : the last place of the rest she lay in, or where it goes on to
    shift_m, turn_rad : from the one hour to the other; the turn clockwise
    """

    member: int
    time: int
    vanished: bool
    share: float
    q_from: Floats
    q_to: Floats
    q_last: Floats
    shift_m: float
    turn_rad: float


@dataclass(frozen=True)
class BranchMoves:
    """All such moves of a stay.

    states : how many changes from hour to hour were looked at
    broken : how many could not be, since one of the two hours has no rest
    moves : in order of time, then member
    """

    states: int
    broken: int
    moves: tuple[BranchMove, ...]

    @property
    def members(self) -> int:
        """In how many members she moves so."""
        return len({move.member for move in self.moves})

    @property
    def first(self) -> BranchMove | None:
        """The earliest."""
        return self.moves[0] if self.moves else None

    @property
    def worst(self) -> BranchMove | None:
        """The one she runs farthest in."""
        return max(self.moves, key=lambda move: move.shift_m, default=None)


def _move(m: int, t: int, kind: int, told: Floats, q: Floats) -> BranchMove:
    before, after = q[m, t - 1], q[m, t]
    turn = (after[2] - before[2] + math.pi) % (2.0 * math.pi) - math.pi
    vanished = kind == VANISHED
    return BranchMove(
        m, t, vanished, float(told[0]), before.copy(), after.copy(),
        (told[1:4] if vanished else told[4:7]).copy(),
        float(math.hypot(*(after - before)[:2])), float(turn),
    )  # fmt: skip


def branch_moves(
    ready: Moored,
    solved: Rests,
    winds: tuple[Floats, Floats, Floats],
    active: Floats,
    extra: Load | None = None,
) -> BranchMoves:
    """Where, between two hours, she leaves the way of lying she was in.

    A move that load over stiffness explains is passed over at once. The others are
    followed: the rest of the hour before, in small steps of wind and water on the
    straight way to the hour after. Where it ends, or goes on to elsewhere, she moved.

    Parameters
    ----------
    ready : Moored
        As it was solved with.
    solved : Rests
        Rests (member, time) from ``rests``.
    winds : (level_m, wind_mps, from_rad)
        Arrays (member, time), as given to ``rests``.
    active : array (line,)
    extra : Load, optional
        As given to ``rests``.
    """
    shape = solved.code.shape
    level, wind, blow = (np.array(np.broadcast_to(a, shape), float, order="C") for a in winds)
    steady = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)
    kind, told = np.zeros(shape, np.int64), np.full((*shape, 7), np.nan)
    cuts = np.linspace(0, shape[0], min(_PARTS, shape[0]) + 1).astype(int)
    mask = np.asarray(active, float)

    def part(k: int) -> None:
        branches_of_members(
            ready.boat, (level, wind, blow), ready.tables.level_m, mask, steady, _WITHIN_N,
            (int(cuts[k]), int(cuts[k + 1])), solved.q, solved.code, kind, told,
        )  # fmt: skip

    with ThreadPoolExecutor() as pool:
        list(pool.map(part, range(cuts.size - 1)))
    return _told(kind, told, solved.q)


def _told(kind: Ints, told: Floats, q: Floats) -> BranchMoves:
    later = kind[:, 1:]
    at = np.argwhere(later.T > 0)
    moves = tuple(_move(int(m), int(t) + 1, int(later[m, t]), told[m, t + 1], q) for t, m in at)
    return BranchMoves(int((later >= 0).sum()), int((later < 0).sum()), moves)


def other_rests(found: AllRests, q: Floats, arm_m: float) -> tuple[OneRest, ...]:
    """The stable rests of one state that are not where she lies."""
    return tuple(one for one in found.stable if apart_m(one.q, q, arm_m) >= _HERE_M)


def others_at(
    ready: Moored, load: Load, level_m: float, q: Floats, active: Floats | None = None
) -> tuple[OneRest, ...]:
    """The OTHER stable rests under a load: where else she could come to lie."""
    return other_rests(all_rests(ready, load, level_m, active), q, ready.boat.space.arm_m)


def move_words(move: BranchMove) -> str:
    """A move in words: how far, how much she turns, and why."""
    turn = abs(round(math.degrees(move.turn_rad)))
    side = "right" if move.turn_rad > 0.0 else "left"
    why = (
        "the place she lay in gives out"
        if move.vanished
        else "the place she lay in goes on, and the one told is another"
    )
    return f"she runs {move.shift_m:.1f} m and turns {turn} degrees to the {side}: {why}"


def move_findings(moves: BranchMoves, hour: str) -> tuple[Finding, ...]:
    """The findings of a stay's moves; ``hour`` names the time of the first. Empty if none."""
    if moves.first is None:
        return ()
    count = len(moves.moves)
    said = (
        f"in {count} of {moves.states} states she leaves one way of lying for another,"
        f" first at {hour}: {move_words(moves.first)}"
    )
    return (Finding("Rest", said),)


def other_findings(others: tuple[OneRest, ...], hour: str) -> tuple[Finding, ...]:
    """The finding that she could lie elsewhere in an hour. Empty if she could not."""
    if not others:
        return ()
    places = ", ".join(
        f"{one.east_m:.0f} m east {one.north_m:.0f} m north heading"
        f" {round(math.degrees(one.heading_rad)) % 360:03d}"
        for one in others
    )
    return (Finding("Rest", f"at {hour} she could also lie elsewhere: {places}"),)
