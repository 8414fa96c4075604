"""Every rest of a lie under one load: where else she could lie, and how firmly."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring.batch import Moored
from shorefast.mooring.cells import level_cell
from shorefast.mooring.following import apart_m, balances_from, rests_from, to_balance
from shorefast.mooring.one_rest import OneRest, described, is_free, pulls_at, weighed
from shorefast.mooring.quick import fresh_near
from shorefast.mooring.rest import (
    FOUND,
    LEFT,
    UNKNOWN,
    UNSETTLED,
    Boat,
    Load,
    State,
    come_to_rest,
    forces,
)
from shorefast.mooring.rest_starts import starts_over
from shorefast.mooring.shapes import Floats, Ints

HEADINGS, ACROSS = 24, 5
# asked again, more finely, where the first search cannot have found all
_FINE_HEADINGS, _FINE_ACROSS = 72, 7
_TABLE_N, _EXACT_N = 1e-2, 1e-6
_SAME_TABLE_M, _SAME_M = 0.05, 0.02
_NUDGE_M = 0.05
_FEW_M = 1.0
_PARTS = 8


@dataclass(frozen=True)
class AllRests:
    """Every rest of a scene under one load.

    stable : the rests, the one with most starts first; empty where there is none
    unstable : balances she does not stay in
    starts : how many starts were tried where all pulls are known
    left, unsettled, unknown : shares of them that leave the space, swing for ever or
        come to where a pull is not known
    complete : whether the count can be whole. Where her lines hold her in with the bow
        all round, as many balances must give way to an odd number of sides as to an
        even one; where her bow is held to an arc, one fewer. None where that does not
        apply (she can leave, lies free, or runs to where a pull is not known).
    """

    stable: tuple[OneRest, ...]
    unstable: tuple[OneRest, ...]
    starts: int
    left: float
    unsettled: float
    unknown: float
    complete: bool | None

    @property
    def none(self) -> bool:
        """Whether she surely has no rest: none found, and no start led to the unknown."""
        return not self.stable and self.unknown == 0.0


class _Asked(NamedTuple):
    """One search: the boat on tables, the boat exactly, the state."""

    table: Boat
    exact: Boat
    state: State


class _Tally(NamedTuple):
    """What a search on tables found.

    rests (rest, 3) with the share of starts of each; balances (balance, 3) of any kind;
    how many starts counted; shares that left, did not settle, ran to the unknown; on how
    many arcs her bow can point, 0 for all round.
    """

    rests: list[Floats]
    share: list[float]
    balances: list[Floats]
    starts: int
    lost: tuple[float, float, float]
    arcs: int


def state_of(ready: Moored, load: Load, level_m: float, active: Floats | None = None) -> State:
    """The state to solve: load, water, lines that are set (all if not given)."""
    on = ready.all_set if active is None else np.asarray(active, float)
    water = level_cell(ready.tables.level_m, level_m)
    return State(level_m, load, on, water, fresh_near(on.size))


def _run(asked: _Asked, starts: Floats, stable: bool) -> tuple[Floats, Ints]:
    """Rests (or balances of any kind) from all starts, on the tables, by threads."""
    q, code = np.empty(starts.shape), np.empty(starts.shape[0], np.int64)
    act = rests_from if stable else balances_from
    cuts = np.linspace(0, starts.shape[0], _PARTS + 1).astype(int)

    def part(k: int) -> None:
        at = slice(cuts[k], cuts[k + 1])
        mine = asked.state._replace(near=fresh_near(asked.state.active.size))
        act(asked.table, mine, _TABLE_N, starts[at], q[at], code[at])

    with ThreadPoolExecutor() as pool:
        list(pool.map(part, range(_PARTS)))
    return q, code


def _joined(places: Floats, arm_m: float, within_m: float) -> tuple[list[Floats], list[int]]:
    """Places joined where closer than a distance, with how many each stands for."""
    kept: list[Floats] = []
    count: list[int] = []
    for q in places:
        for k, other in enumerate(kept):
            if apart_m(q, other, arm_m) < within_m:
                count[k] += 1
                break
        else:
            kept.append(q)
            count.append(1)
    return kept, count


def _one_free(
    asked: _Asked, places: list[Floats], share: list[float]
) -> tuple[list[Floats], list[float]]:
    """Places where nothing pulls and nothing moves her made one, with all their share."""
    kept: list[Floats] = []
    shares: list[float] = []
    free = -1
    for q, part in zip(places, share, strict=True):
        slack = is_free(pulls_at(asked.table, asked.state, q))
        if slack and free >= 0:
            shares[free] += part
            continue
        free = len(kept) if slack else free
        kept.append(q)
        shares.append(part)
    return kept, shares


def _known(asked: _Asked, places: Floats) -> NDArray[np.bool_]:
    """Whether every pull is known at each place (place,)."""
    force, stiff = np.empty(3), np.empty((3, 3))
    sizes = [forces(asked.table, asked.state, q, force, stiff) for q in places]
    return np.asarray(np.isfinite(sizes), bool)


def _arcs(known: NDArray[np.bool_]) -> int:
    """On how many arcs of heading her lines let her lie; 0 where they do all round."""
    # held so tightly that no bow that was asked fits, she is held to one
    return int((known & ~np.roll(known, 1)).sum()) if known.any() else 1


def _beyond_tables(asked: _Asked, starts: Floats) -> _Tally:
    """Rests of a boat held harder than tables go: few starts, every line solved anew."""
    few, _ = _joined(starts, asked.exact.space.arm_m, _FEW_M)
    begun = np.array(few)
    q, code = np.empty(begun.shape), np.empty(len(few), np.int64)
    rests_from(asked.exact, asked.state, _TABLE_N, begun, q, code)
    found = list(q[code == FOUND])
    lost = [float((code == what).mean()) for what in (LEFT, UNSETTLED, UNKNOWN)]
    share = [1.0 / len(few)] * len(found)
    return _Tally(found, share, [], len(few), (lost[0], lost[1], lost[2]), 1)


def _search(ready: Moored, asked: _Asked, headings: int, across: int) -> _Tally:
    state, arm_m = asked.state, asked.table.space.arm_m
    begun = starts_over(ready.scene, state.active, state.level_m, headings, across)
    best_known = _known(asked, begun.best)
    starts = begun.q[_known(asked, begun.q)]
    if starts.size == 0:
        return _beyond_tables(asked, begun.q)
    q, code = _run(asked, starts, stable=True)
    rests, count = _joined(q[code == FOUND], arm_m, _SAME_TABLE_M)
    # with a bow that hardly fits lie the ridges between two ways round
    any_q, any_code = _run(asked, np.vstack([starts, begun.best[best_known]]), stable=False)
    balances, _ = _joined(any_q[any_code == FOUND], arm_m, _SAME_TABLE_M)
    number = starts.shape[0]
    lost = [float((code == what).sum()) / number for what in (LEFT, UNSETTLED, UNKNOWN)]
    rests, share = _one_free(asked, rests, [k / number for k in count])
    balances, _ = _one_free(asked, balances, [0.0] * len(balances))
    return _Tally(
        rests, share, balances, starts.shape[0], (lost[0], lost[1], lost[2]), _arcs(best_known)
    )


def _polished(asked: _Asked, q: Floats) -> Floats | None:
    """The balance beside ``q`` with every line solved anew; None if there is none near."""
    at = q.copy()
    if to_balance(asked.exact, asked.state, _EXACT_N, at):
        return at
    at = q.copy()
    code = come_to_rest(asked.exact, asked.state, _EXACT_N, at)
    return at if code == FOUND else None


def _gathered(asked: _Asked, tally: _Tally) -> list[OneRest]:
    """Rests and balances polished, told and joined; shares of joined ones added."""
    found: list[OneRest] = []
    arm_m = asked.exact.space.arm_m
    places = list(zip(tally.rests, tally.share, strict=True))
    places += [(q, 0.0) for q in tally.balances]
    for q, share in places:
        at = _polished(asked, q)
        if at is not None:
            _put(found, described(asked.exact, asked.state, at, share), arm_m)
    return found


def _put(found: list[OneRest], one: OneRest, arm_m: float) -> None:
    """Add a balance, or its share to the one that it is."""
    for k, other in enumerate(found):
        free = one.kind == other.kind == "free"
        if free or apart_m(one.q, other.q, arm_m) < _SAME_M:
            found[k] = _with_share(other, other.share + one.share)
            return
    found.append(one)


def _with_share(one: OneRest, share: float) -> OneRest:
    return OneRest(**{**vars(one), "share": share})


def _sides(asked: _Asked, found: list[OneRest]) -> None:
    """Run down both sides of every ridge: rests with few starts lie there."""
    arm_m = asked.exact.space.arm_m
    force, stiff = np.empty(3), np.empty((3, 3))
    for ridge in [one for one in found if one.kind == "ridge"]:
        forces(asked.exact, asked.state, ridge.q, force, stiff)
        value, along = np.linalg.eig(weighed(stiff, arm_m))
        down = np.real(along[:, int(np.argmin(value.real))])
        down = down / math.sqrt(down[0] ** 2 + down[1] ** 2 + (arm_m * down[2]) ** 2)
        for side in (_NUDGE_M, -_NUDGE_M):
            q = ridge.q + side * down
            if come_to_rest(asked.table, asked.state, _TABLE_N, q) != FOUND:
                continue
            if any(apart_m(q, one.q, arm_m) < _SAME_TABLE_M for one in found):
                continue
            at = _polished(asked, q)
            if at is not None:
                _put(found, described(asked.exact, asked.state, at, 0.0), arm_m)


def _whole(found: list[OneRest], tally: _Tally) -> bool | None:
    """Whether the balances add up, by the sign of their stiffness (Poincare and Hopf)."""
    if any(one.kind == "free" for one in found) or tally.lost[0] > 0.0 or tally.lost[2] > 0.0:
        return None
    signs = [int(np.sign(np.prod(one.eigenvalue_npm).real)) for one in found]
    return sum(signs) == tally.arcs


def all_rests(ready: Moored, load: Load, level_m: float, active: Floats | None = None) -> AllRests:
    """Every place she can lie in under a load, with the bow any way round.

    Damped motion and Newton's method from starts over all she can reach (24 bows, 25
    places each), on tables; what they find is solved again with every line anew, and
    what is the same is joined. Both sides of every ridge are run down. Where the count
    cannot be whole the search is done again more finely.

    Parameters
    ----------
    ready : Moored
        With tables that hold the water level.
    load : Load
        Steady; forces, moment and wind.
    level_m : float
        Water above datum. [m]
    active : array (line,), optional
        1 for a line that is set, 0 for one that is gone; all are set if not given.

    Returns
    -------
    AllRests
        Residuals below 1 N and 10 N m at each. Where nothing is set she has no rest.
    """
    state = state_of(ready, load, level_m, active)
    asked = _Asked(ready.boat, ready.boat._replace(exact=True), state)
    tally = _search(ready, asked, HEADINGS, ACROSS)
    found = _found(asked, tally)
    complete = _whole(found, tally)
    if complete is False:
        tally = _search(ready, asked, _FINE_HEADINGS, _FINE_ACROSS)
        found = _found(asked, tally)
        complete = _whole(found, tally)
    stable = [one for one in found if one.kind in ("rest", "free")]
    stable.sort(key=lambda one: -one.share)
    unstable = tuple(one for one in found if one.kind not in ("rest", "free"))
    return AllRests(tuple(stable), unstable, tally.starts, *tally.lost, complete)


def _found(asked: _Asked, tally: _Tally) -> list[OneRest]:
    """All balances inside the space, solved with every line anew."""
    found = _gathered(asked, tally)
    _sides(asked, found)
    west, east, south, north, _ = asked.table.space
    return [one for one in found if west <= one.east_m <= east and south <= one.north_m <= north]
