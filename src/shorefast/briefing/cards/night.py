"""The night card: what to read out on the radio, what is expected here, when to wake, the log."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from shorefast.briefing.cards.blocks import (
    BODY,
    SMALL,
    STRONG,
    Cell,
    Column,
    beside_a_blank,
    blank_table,
    bullets,
    figures,
    heading,
    paragraph,
    table,
    ticks,
)
from shorefast.briefing.cards.content import CardContent, CardLoss, CardNight
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece, together
from shorefast.briefing.cards.hours import hour_told
from shorefast.briefing.cards.warned import cautioned
from shorefast.drawing import Style
from shorefast.wording import CardWords, card_words, local

_READ = Style("medium", "ink", 11.0)
_MARKS = 3
_LARGE = Style("bold", "ink", 17.0)
_MOST_HOURS = 60
_LOG_PT = (17.5, 20.0)
_LOG_ROOM_PT = 300.0
"""How high a row of the log is, and what a face has room for. [pt]"""


def night_card(content: CardContent, words: CardWords) -> Card:
    """The card by the bunk: the radio first, then the night's numbers, then the log."""
    pieces = (
        *_who_and_where(content, words),
        *_expected(content, words),
        *cautioned(words, 1, 7, 8),
        *radio(content, words),
        *_in_english(content, words),
        *_if_one_goes(content, words),
        *_lights(content, words),
        *wake(content, words),
        *cautioned(words, 11),
    )
    return Card("night", words.say("night.title"), (), pieces, asks_name=False)


def _who_and_where(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    vessel, place = content.vessel, content.place
    blank = words.say("night.blank")
    names = ("night.call_sign", "night.mmsi", "night.persons", "night.length")
    told = (
        vessel.call_sign or blank,
        _threes(vessel.mmsi) if vessel.mmsi else blank,
        _persons(content, blank),
        words.metres(vessel.length_m),
    )
    shares = (1.15, 1.65, 0.95, 0.95)
    where = [[Cell(words.latitude(place.lat_deg), number=True)]]
    where += [[Cell(words.longitude(place.lon_deg), number=True)]]
    columns = [Column(words.say(key), share) for key, share in zip(names, shares, strict=True)]
    return (
        *paragraph(vessel.name, _LARGE),
        *table(columns, [[Cell(text, number=True) for text in told]]),
        *_spelled(vessel.call_sign, words),
        *table([Column(words.say("night.position"), 1.0)], where),
    )


def _persons(content: CardContent, blank: str) -> str:
    return str(len(content.people)) if content.people else blank


def _threes(mmsi: str) -> str:
    """Nine figures in groups of three, as they are read out."""
    return " ".join(mmsi[at : at + 3] for at in range(0, len(mmsi), 3))


def _spelled(call_sign: str | None, words: CardWords) -> tuple[Piece, ...]:
    """A call sign letter by letter; figures stay figures.

    Source
    ------
    itu-radio-regulations, Appendix 14 (from memory): the alphabet.
    """
    if not call_sign:
        return ()
    alphabet = words.rows("radio.phonetic")
    told = [
        alphabet[ord(sign) - ord("A")] if "A" <= sign <= "Z" else sign
        for sign in call_sign.upper()
        if sign.isalnum()
    ]
    return paragraph(words.say("radio.spelled", sign=call_sign, words=" ".join(told)))


def radio(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """The distress and the urgency call, to be read out word for word.

    Source
    ------
    itu-radio-regulations, Article 32 (from memory): what such calls hold and in which
    order; imo-smcp, part A1 (from memory): the phrases.
    """
    told = _radio_places(content, words)
    pieces: list[Piece] = []
    for call in ("mayday", "pan"):
        pieces += heading(words.say(f"radio.{call}_title"))
        if call == "mayday":
            pieces += paragraph(words.say("radio.how"), SMALL, 1.0, keep=True)
        for row in words.rows(f"radio.{call}"):
            pieces += paragraph(row.format(**told), _READ, 2.5, keep=True)
        pieces += ticks(words.rows(f"radio.{call}_ticks"), _READ)
        for row in words.rows(f"radio.{call}_end"):
            pieces += paragraph(row.format(**told), _READ, 2.5, keep=True)
        pieces[-1] = replace(pieces[-1], keep=False)
    return tuple(pieces)


def _radio_places(content: CardContent, words: CardWords) -> dict[str, str]:
    vessel, place = content.vessel, content.place
    blank = words.say("night.blank")
    known = math.isfinite(place.lat_deg) and math.isfinite(place.lon_deg)
    return {
        "name": vessel.name,
        "call_sign": vessel.call_sign or blank,
        "mmsi": _threes(vessel.mmsi) if vessel.mmsi else blank,
        "latitude": words.latitude(place.lat_deg) if known else blank,
        "longitude": words.longitude(place.lon_deg) if known else blank,
        "persons": _persons(content, blank),
        "length": words.number(vessel.length_m, 1),
        "draught": words.number(vessel.draught_m, 1),
    }


def _in_english(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """The calls once more in English, which every station understands."""
    return () if words.language == "en" else radio(content, card_words("en"))


def _expected(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    night = content.night
    leave = hour_told(night.leave_by_utc, content, words) if night.leave_by_utc else ""
    verdict = words.say(f"night.verdict_{night.verdict.replace(' ', '_')}", clock=leave)
    bow = words.say(
        "night.heading_range",
        low=words.bearing(night.heading_low_rad),
        high=words.bearing(night.heading_high_rad),
    )
    known = math.isfinite(night.heading_low_rad)
    key = (
        (words.say("night.heading"), bow if known else words.unknown),
        (words.say("night.leave_by"), leave or words.say("night.no_leave_by")),
    )
    said = [[Cell(name), Cell(text, style=STRONG)] for name, text in _worst_rows(content, words)]
    return (
        *heading(words.say("night.expected_title")),
        *paragraph(verdict, STRONG),
        *_stuck(content, words),
        *figures(key),
        *table([Column("", 1.0), Column("", 3.2)], said, 0.0)[1:],
    )


def _stuck(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """When leaving is not known to be possible; nothing where it always is, or nobody asked."""
    night = content.night
    if night.leaves_never:
        return paragraph(words.say("night.leaves_never"))
    if not night.stuck:
        return ()
    spells = [
        words.say(
            "night.heading_range",
            low=hour_told(first, content, words),
            high=hour_told(last, content, words),
        )
        if first < last
        else hour_told(first, content, words)
        for first, last in night.stuck
    ]
    return paragraph(words.say("night.stuck", spells=words.say("card.apart").join(spells)))


def _worst_rows(content: CardContent, words: CardWords) -> list[tuple[str, str]]:
    """Worst hour, first to give, least room: a row each."""
    night = content.night
    worst = room = words.unknown
    first = words.say("night.first_unknown")
    if night.worst_utc is not None:
        worst = words.say(
            "night.worst_said",
            clock=hour_told(night.worst_utc, content, words),
            gust=words.knots(night.worst_gust_mps),
            from_bearing=words.bearing(night.worst_from_rad),
        )
    if night.first_to_give is not None:
        first = _first(night, words)
    if night.room_of is not None and night.room_utc is not None:
        room = words.say(
            "night.room_touch" if night.room_m <= 0.0 else "night.room_said",
            metres=words.metres(night.room_m),
            of=words.part(night.room_of),
            what=words.touched(night.room_of),
            clock=hour_told(night.room_utc, content, words),
        )
    names = ("night.worst", "night.first", "night.room")
    return [(words.say(key), said) for key, said in zip(names, (worst, first, room), strict=True)]


def _first(night: CardNight, words: CardWords) -> str:
    """What gives first in the worst hour: a part by its use, a room by its metres."""
    of = night.first_to_give or ""
    if night.first_room_m <= 0.0:
        return words.say("night.first_touch", what=words.touched(of))
    return words.say(
        "night.first_room" if math.isfinite(night.first_wanted_m) else "night.first_said",
        part=words.part(of),
        percent=words.number(100.0 * night.first_use),
        metres=words.metres(night.first_room_m),
        wanted=words.metres(night.first_wanted_m),
    )


def wake(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """When to wake the skipper: what was reckoned, beside lines for the watch's own numbers."""
    marks = [
        (mark.name, f"{words.bearing(mark.bearing_rad)}, {words.metres(mark.distance_m)}", False)
        for mark in content.night.points
    ]
    return together(
        (
            *heading(words.say("night.wake_title")),
            *paragraph(words.say("night.wake_rule")),
            *beside_a_blank(list(_wake_rows(content, words))),
            *paragraph(words.say("night.wake_marks"), SMALL, 3.0, keep=True),
            *beside_a_blank(marks or [("", "", False)] * _MARKS),
        )
    )


def _wake_rows(content: CardContent, words: CardWords) -> Iterator[tuple[str, str, bool]]:
    """What is asked, what is told, whether a number; nothing told where nobody knows."""
    night = content.night
    told = [""] * 6
    asked = list(words.rows("night.wake"))
    asked[:2], told[:2] = _gusts_asked(night, words)
    if math.isfinite(night.wake_low_rad) and math.isfinite(night.wake_high_rad):
        low, high = words.bearing(night.wake_low_rad), words.bearing(night.wake_high_rad)
        told[2] = words.say("night.heading_range", low=low, high=high)
    if night.room_of is not None and math.isfinite(night.wake_room_m):
        of = words.part(night.room_of)
        asked[3] = words.say("night.wake_room", of=of[:1].upper() + of[1:])
        told[3] = words.metres(night.wake_room_m)
    low_water = [one for one in content.off if one.tide == "low"]
    if math.isfinite(night.wake_off_m):
        told[4] = words.metres(night.wake_off_m)
    least = words.metres(min((one.least_m for one in low_water), default=math.nan))
    if low_water and least != told[4]:
        asked[4] = words.say("night.wake_off_low", asked=asked[4], metres=least)
    if night.bad_from_utc is not None and night.bad_until_utc is not None:
        first, last = (
            hour_told(at, content, words) for at in (night.bad_from_utc, night.bad_until_utc)
        )
        told[5] = words.say("night.heading_range", low=first, high=last)
    yield from ((one, said, True) for one, said in zip(asked, told, strict=True) if one)


def _gusts_asked(night: CardNight, words: CardWords) -> tuple[list[str], list[str]]:
    """A gust and where it comes from as one condition, then gusts from elsewhere; "": not asked."""
    asked, told = list(words.rows("night.wake")[:2]), ["", ""]
    if not math.isfinite(night.wake_gust_mps):
        return asked, told
    told[0] = words.knots(night.wake_gust_mps)
    if night.breaks is None:
        return [words.say("night.wake_hardest"), ""], told
    asked[0] = words.say(
        "night.wake_about",
        from_bearing=words.bearing(night.wake_from_rad),
        part=words.part(night.breaks) if night.breaks else words.say("leave_unknown.something"),
    )
    if math.isfinite(night.wake_elsewhere_mps):
        told[1] = words.knots(night.wake_elsewhere_mps)
        asked[1] = asked[1] if night.wake_elsewhere_past else words.say("night.wake_elsewhere")
    return asked, told


def _if_one_goes(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    losses = content.night.losses
    told = (
        paragraph(words.say("night.if_unknown"))
        if losses is None
        else bullets([_loss(one, words) for one in losses])
    )
    return (
        *heading(words.say("night.if_title")),
        *paragraph(words.say("night.if_do"), STRONG),
        *told,
    )


def _loss(one: CardLoss, words: CardWords) -> str:
    return words.say(
        "night.loss",
        name=words.part(one.name),
        said=words.say("card.apart").join(_loss_words(one, words)),
    )


def _loss_words(one: CardLoss, words: CardWords) -> Iterator[str]:
    if not one.found:
        yield words.say("night.loss_unknown")
    elif math.isfinite(one.heading_rad):
        yield words.say(
            "night.loss_bow",
            heading=words.bearing(one.heading_rad),
            moved=words.metres(one.moved_m),
        )
    if one.touches is not None:
        what, known = words.touched(one.touches), math.isfinite(one.after_s)
        key = "night.loss_after" if known else "night.loss_touches"
        yield words.say(key, what=what, time=words.minutes(one.after_s))
    if one.follows:
        yield words.say("night.loss_follows", parts=", ".join(map(words.part, one.follows)))
    elif one.found and one.touches is None:
        yield words.say("night.loss_nothing")


def _lights(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Lights and shape of a vessel of her length at anchor.

    Source
    ------
    imo-colregs, Rule 30 (a) to (c) (from memory): under 50 m one light may do; from
    100 m on the decks are lit.
    """
    length_m = content.vessel.length_m
    size = "under_50" if length_m < 50.0 else "over_50" if length_m < 100.0 else "over_100"
    return (
        *heading(words.say("night.lights_title")),
        *paragraph(words.say(f"night.lights_{size}"), BODY),
        *cautioned(words, 12),
    )


def log(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """A row an hour, the hour already written."""
    first = local(content.from_utc, content.place.zone_name)
    hour = first.replace(minute=0, second=0, microsecond=0)
    last = local(content.until_utc, content.place.zone_name)
    count = min(_MOST_HOURS, int((last - hour) / timedelta(hours=1)))
    hours = [hour_told(hour + timedelta(hours=at), content, words) for at in range(1, count + 1)]
    shares = (1.0, 1.2, 1.2, 1.0, 1.0, 1.2)
    names = list(zip(words.rows("night.log"), shares, strict=True))
    title = heading(words.say("night.log_title"))
    high = max(_LOG_PT[0], min(_LOG_PT[1], _LOG_ROOM_PT / max(len(hours), 1)))
    return (*title, *blank_table(names, hours or [""] * 8, high))
