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
from shorefast.stay.rigging import Rigged
from shorefast.stay.room import room_of
from shorefast.stay.sea import heave_m
from shorefast.stay.without_next import Next, States, adrift, moved_m, turned_rad, unknown
from shorefast.stay.without_things import ANCHOR, CHAIN

Floats = NDArray[np.float64]
Some = NDArray[np.bool_]
# nearer than this to where she lay her room is what it was [m]
_SAME_M = 0.005
_ON_THE_RODE = (ANCHOR, CHAIN, "rode rope", "snubber")
# what weighs more than any use: something follows, she may touch, nothing holds her
_FOLLOWS, _UNKNOWN, _TOUCHES, _ADRIFT = 1e2, 1e3, 2e3, 4e3
# no use and no number of parts weighs as much as the next of these
_MOST_USE, _MOST_PARTS = 99.0, 8


@dataclass(frozen=True)
class Weighed:
    """The next rests of one loss weighed, state by state.

    names, use (entry, state) : of all that counts, NaN where unknown
    past : something over its limit, or not known to be within it; touch : no room left to
    something at the last rest; drags : the anchor asked for more than it is trusted with at
    the first or the last; adrift : nothing holds her
    unknown : wind, water, where she lay or lies is not known, or a limit that may be passed
    badness (state,) : for finding the worst, of states in which she is known to have lain
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
    use = _none_of_what_went(judged.rigged, found, names, use[:, 0])
    touch = np.any([room.touches for room in rooms], axis=0)
    loose, lost = adrift(found.last), unknown(found.last, states)
    greatest = np.nan_to_num(use, nan=-1.0).max(axis=0)
    untold = np.isnan(use).any(axis=0) & (found.last.code == FOUND) & (greatest <= 1.0)
    told = np.isfinite(sum(states.path))
    dark = lost | untold | ~told | ~np.isfinite(states.q).all(axis=-1)
    badness = (
        np.minimum(greatest, _MOST_USE)
        + _FOLLOWS * np.minimum(found.followed, _MOST_PARTS)
        + _UNKNOWN * lost + _TOUCHES * touch + _ADRIFT * loose
    )  # fmt: skip
    return Weighed(
        names, use, rooms,
        past=(greatest > 1.0) | dark | loose, touch=touch,
        drags=_drags(stay, judged, found), adrift=loose, unknown=dark,
        badness=np.where(told, badness, -2.0),
    )  # fmt: skip


def _none_of_what_went(rigged: Rigged, found: Next, names: list[str], use: Floats) -> Floats:
    """The uses, nothing asked any more of a line that is gone, whatever it would carry."""
    line = {leg.name: i for i, leg in enumerate(rigged.legs, start=1)}
    line |= dict.fromkeys(_ON_THE_RODE, 0)
    known, at_rest = use.copy(), found.first.code == FOUND
    for k, name in enumerate(names):
        if line.get(name, -1) in found.gone:
            known[k, at_rest] = 0.0
    return known


def _drags(stay: Stay, judged: Judged, found: Next) -> Some:
    """Whether the anchor is asked for more than it is trusted with, at the first or last rest."""
    drags = np.zeros(found.first.code.shape, np.bool_)
    for rests in (found.first, found.last) if found.followed.any() else (found.first,):
        parts = parts_in_use(stay, judged.rigged, judged.ground, rests.line[None])
        anchor = next(part for part in parts if part.name == ANCHOR)
        drags |= np.nan_to_num(anchor.use[0], nan=0.0) > 1.0
    return drags


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
