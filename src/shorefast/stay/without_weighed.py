"""If one goes: the next rests against limits and room."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring import FOUND
from shorefast.stay.answer import Room
from shorefast.stay.judge import Judged, uses
from shorefast.stay.parts import parts_in_use
from shorefast.stay.plan import Stay
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m
from shorefast.stay.without_next import Next, States, adrift, moved_m, turned_rad, unknown
from shorefast.stay.without_things import ANCHOR

Floats = NDArray[np.float64]
Some = NDArray[np.bool_]
# nearer than this to where she lay her room is what it was [m]
_SAME_M = 0.005
# what weighs more than any use: something follows, she may touch, nothing holds her
_FOLLOWS, _UNKNOWN, _TOUCHES, _ADRIFT = 1e2, 1e3, 2e3, 4e3


@dataclass(frozen=True)
class Weighed:
    """The next rests of one loss weighed, state by state.

    names, use (entry, state) : of all that counts, NaN where unknown
    past : something over its limit; touch : no room left to something at the last rest;
    drags : the anchor asked for more than it is trusted with; adrift : nothing holds her
    badness (state,) : for finding the worst
    """

    names: list[str]
    use: Floats
    rooms: tuple[Room, ...]
    past: Some
    touch: Some
    drags: Some
    adrift: Some
    unknown: Some
    badness: Floats

    @property
    def least_room_m(self) -> float:
        """The least of all rooms in all states; NaN where none is known. [m]"""
        least = [np.nanmin(r.room_m) for r in self.rooms if np.isfinite(r.room_m).any()]
        return float(min(least)) if least else float("nan")

    def touches_what(self, state: int) -> str | None:
        """What has no room left in one state, the least first; None where all has."""
        found = [(float(r.room_m[state]), r.of) for r in self.rooms if r.touches[state]]
        return min(found)[1] if found else None


def touched(badness: float) -> float:
    """The least badness of a state as bad: she touches, or nothing holds her; else its own."""
    return next((step for step in (_ADRIFT, _TOUCHES) if badness >= step), badness)


def weigh_next(stay: Stay, judged: Judged, states: States, found: Next) -> Weighed:
    """Uses at the first next rest, room at the last; states as judged."""
    return weighed_of(stay, judged, states, found, _rooms(stay, judged, states, found))


def weighed_of(
    stay: Stay, judged: Judged, states: States, found: Next, rooms: tuple[Room, ...]
) -> Weighed:
    """As ``weigh_next``, the rooms given, arrays (state,); any states."""
    parts = parts_in_use(stay, judged.rigged, judged.ground, found.first.line[None])
    flat = tuple(Room(r.of, r.room_m[None], r.least_wanted_m, beside_m=r.beside_m) for r in rooms)
    names, use = uses(parts, flat)
    use = use[:, 0]
    anchor = next(part for part in parts if part.name == ANCHOR)
    touch = np.any([room.touches for room in rooms], axis=0)
    loose, lost = adrift(found.last), unknown(found.last, states)
    greatest = np.nan_to_num(use, nan=-1.0).max(axis=0)
    dark = lost | (np.isnan(use).any(axis=0) & (found.last.code == FOUND) & (greatest <= 1.0))
    badness = (
        greatest + _FOLLOWS * found.followed + _UNKNOWN * lost + _TOUCHES * touch + _ADRIFT * loose
    )
    told = np.isfinite(sum(states.path))
    return Weighed(
        names, use, rooms,
        past=((greatest > 1.0) | lost | loose) & told, touch=touch,
        drags=np.nan_to_num(anchor.use[0], nan=0.0) > 1.0, adrift=loose, unknown=dark & told,
        badness=np.where(told, badness, -2.0),
    )  # fmt: skip


def rooms_at(stay: Stay, states: States, q: Floats) -> tuple[Room, ...]:
    """Room of every part in some states, arrays (state,)."""
    level_m = states.path.level_m - states.down_m
    return room_of(stay, q, level_m, heave_m(stay), between=False)


def _rooms(stay: Stay, judged: Judged, states: States, found: Next) -> tuple[Room, ...]:
    """Room at the last rests; where she hardly moved, what was judged there. (state,)"""
    q = found.last.q
    arm_m = 0.5 * stay.boat.hull.length_m
    shift_m = moved_m(q, states.q) + arm_m * np.abs(turned_rad(q, states.q))
    new = ~(shift_m < _SAME_M)
    rooms = []
    there = rooms_at(stay, states.some(new), q[new])
    for before, now in zip(judged.judgement.room, there, strict=True):
        room_m = before.room_m.ravel().copy()
        room_m[new] = now.room_m
        rooms.append(Room(before.of, room_m, before.least_wanted_m, beside_m=before.beside_m))
    return tuple(rooms)
