"""What the cards are filled with: the stay as judged, and what the manoeuvre worked out."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime
from itertools import groupby
from typing import Any

import numpy as np

from shorefast.app.answers.cards_wake import wake_of
from shorefast.briefing import (
    CardLine,
    CardLoss,
    CardNight,
    CardPerson,
    CardPlace,
    CardStep,
    CardTurn,
    CardVessel,
)
from shorefast.drawing import of_members
from shorefast.manoeuvre import Ashore, Crew, Leaving, LineAshore, watch_bill, watch_keepers
from shorefast.stay import Judged, Judgement, Lie, LieLine, Room, Stay, WithoutOne


def vessel_of(stay: Stay) -> CardVessel:
    """The vessel as she is told of on the radio."""
    boat = stay.boat
    hull = boat.hull
    return CardVessel(boat.name, hull.length_m, hull.draught_m, boat.call_sign, boat.mmsi)


def place_of(stay: Stay, judgement: Judgement, lie: Lie) -> CardPlace:
    """Where she lies: midships as first found; where the anchor is, if nowhere."""
    east_m, north_m = _lies_at(judgement, lie)
    lat_deg, lon_deg = stay.bay.frame.to_earth(east_m, north_m)
    return CardPlace(stay.bay.name, float(lat_deg), float(lon_deg), stay.bay.zone_name)


def _lies_at(judgement: Judgement, lie: Lie) -> tuple[float, float]:
    rest = judgement.rest
    places = np.stack([rest.east_m, rest.north_m], -1).reshape(-1, 2)
    known = places[np.isfinite(places).all(axis=1)]
    if not len(known):
        return lie.let_go_east_m, lie.let_go_north_m
    return float(known[0][0]), float(known[0][1])


def water_m(stay: Stay, lie: Lie) -> float:
    """Charted depth where the anchor is let go; NaN unknown. [m]"""
    place = np.array([lie.let_go_east_m]), np.array([lie.let_go_north_m])
    return -float(np.ravel(stay.bay.surface.level_at(*place))[0])


def night_of(
    stay: Stay,
    judged: Judged,
    without: tuple[WithoutOne, ...] | None = None,
    left: Leaving | None = None,
) -> CardNight:
    """The night's numbers as judged, when she can leave, and when to wake the skipper."""
    judgement = judged.judgement
    told: dict[str, Any] = {"verdict": judgement.verdict} | _leave_by(judgement, left)
    told |= _headings(judgement) | _worst(judgement) | _least_room(stay, judgement)
    if stay.lie is not None:
        told |= wake_of(stay, judged, _lies_at(judgement, stay.lie))
    if without is not None:
        told["losses"] = tuple(map(_loss, without))
    return CardNight(**told)


def _leave_by(judgement: Judgement, left: Leaving | None) -> dict[str, Any]:
    """By when to leave, no later than it is known to be possible; the spells in which it is not."""
    by = judgement.leave_by_utc
    if left is None:
        return {"leave_by_utc": by}
    can = [one.at_utc for one in left.hours if one.feasible == "yes"]
    if by is not None and left.at_leave_by != "yes":
        by = max((at for at in can if at <= by), default=by)
    spells = []
    for known, some in groupby(left.hours, lambda one: one.feasible == "yes"):
        hours = [one.at_utc for one in some]
        spells += [] if known else [(hours[0], hours[-1])]
    return {
        "leave_by_utc": by,
        "leaves_never": bool(left.hours) and not can,
        "stuck": tuple(spells),
    }


def _headings(judgement: Judgement) -> dict[str, float]:
    """How far her bow swings over all that was found, about its mean."""
    heading = judgement.rest.heading_rad[np.isfinite(judgement.rest.heading_rad)]
    if not heading.size:
        return {}
    mean = math.atan2(float(np.sin(heading).mean()), float(np.cos(heading).mean()))
    off = np.mod(heading - mean + math.pi, 2.0 * math.pi) - math.pi
    return {
        "heading_low_rad": mean + float(off.min()),
        "heading_high_rad": mean + float(off.max()),
        "wake_low_rad": mean + float(off.min()),
        "wake_high_rad": mean + float(off.max()),
    }


def _worst(judgement: Judgement) -> dict[str, Any]:
    """The worst hour: its wind, what gives first and its use, all of one state."""
    at = judgement.worst
    if at is None:
        return {}
    told: dict[str, Any] = {
        "worst_utc": moment(judgement.time_utc[at[1]]),
        "worst_gust_mps": float(judgement.gust_mps[at]),
        "worst_from_rad": float(judgement.wind_from_rad[at]),
        "first_to_give": judgement.first_to_give,
        "first_use": float(judgement.greatest_use[at]),
    }
    for room in judgement.room:
        if room.of == judgement.first_to_give:
            told |= {"first_room_m": float(room.room_m[at]), "first_wanted_m": room.least_wanted_m}
    return told


def _least_room(stay: Stay, judgement: Judgement) -> dict[str, Any]:
    """The room that comes nearest to what is wanted, and its hour."""
    share = 1.0 - stay.accepted_share
    found: dict[str, Any] = {}
    least_spare_m = math.inf
    for room in judgement.room:
        room_m = _by_hour(room, share)
        if not np.isfinite(room_m).any():
            continue
        hour = int(np.nanargmin(room_m))
        spare_m = float(room_m[hour]) - room.least_wanted_m
        if spare_m < least_spare_m:
            least_spare_m = spare_m
            found = {
                "room_of": room.of,
                "room_m": float(room_m[hour]),
                "wake_room_m": float(room_m[hour]) if room_m[hour] > 0.0 else math.nan,
                "room_utc": moment(judgement.time_utc[hour]),
            }
    return found


def _by_hour(room: Room, share: float) -> np.ndarray:
    return -of_members(-room.room_m, share)


def _loss(one: WithoutOne) -> CardLoss:
    return CardLoss(
        one.name, one.heading_rad, one.moved_m, one.touches, one.seconds_to_contact,
        one.follows, one.found,
    )  # fmt: skip


def moment(at: np.datetime64) -> datetime:
    """A moment of the judgement, aware."""
    return datetime.fromtimestamp(int(at.astype("datetime64[s]").astype(np.int64)), UTC)


def crewed(stay: Stay, crew: Crew) -> tuple[CardPerson, ...]:
    """Everybody aboard with the duties of this manoeuvre; who has none is a guest."""
    if not crew.told:
        return ()
    keepers = watch_keepers(stay.people)
    people = []
    for one in stay.people:
        duties = [duty.duty for duty in crew.duties if duty.person == one.name] or ["guest"]
        duties += ["watch"] if one.name in keepers else []
        people.append(CardPerson(one.name, tuple(duties)))
    return tuple(people)


def lines_of(lie: Lie, found: Ashore) -> tuple[CardLine, ...]:
    """The lie's lines in its own order, with what taking them ashore needs."""
    led = {(one.line, one.point): one for one in found.lines}
    return tuple(_line(one, led.get((one.line, one.point))) for one in lie.lines)


def _line(one: LieLine, led: LineAshore | None) -> CardLine:
    line = CardLine(one.line, one.cleat, one.point, one.length_m, doubled=one.doubled)
    if led is None:
        return line
    return replace(
        line, order=led.order, weather=led.weather, distance_m=led.distance_m,
        flake_m=led.flake_m, left_m=led.left_m, swim_s=led.swim_s, row_s=led.row_s,
        reserve_m=led.reserve_m, reserve_wanted_m=led.flaked.reserve_m,
    )  # fmt: skip


def steps_of(found: Ashore) -> tuple[CardStep, ...]:
    """The steps of taking the lines ashore."""
    return tuple(
        CardStep(one.number, one.does, one.who, one.waits_for, one.locked) for one in found.steps
    )


def turns_of(stay: Stay) -> tuple[CardTurn, ...]:
    """The watch bill of the stay's hours."""
    bill = watch_bill(
        stay.people, stay.from_utc, stay.until_utc, stay.watch_each_s, stay.bay.zone_name
    )
    return tuple(CardTurn(one.person, one.from_utc, one.until_utc) for one in bill.turns)
