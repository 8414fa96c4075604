"""The watch bill as a calendar file that any calendar reads."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from datetime import UTC, datetime

from shorefast.briefing.cards.content import CardContent, CardTurn
from shorefast.wording import CardWords

_MAKER = "-//Shorefast//Watch bill//EN"
_NAMESPACE = uuid.UUID("6f1d1f52-3c0e-5b7a-9a63-9f5d5f0b7c11")
_LONGEST = 75
"""A line is folded when it has more octets than this, its end not counted."""
_CALLED_BEFORE = "-PT10M"


def watch_calendar(content: CardContent, words: CardWords, at_utc: datetime) -> bytes:
    """Every turn of the watch as an event in UTC, with a call ten minutes before.

    Parameters
    ----------
    at_utc : datetime
        When the file is made, aware; it changes nothing but the events' stamp. The same
        turn of the same stay keeps its identifier, so that a calendar replaces it.

    Returns
    -------
    bytes
        Nothing where there are no turns: a calendar holds at least one event.

    Source
    ------
    rfc-5545, sections 3.1 (folding, line ends), 3.3.5 (time in UTC), 3.3.11 (escaped
    text), 3.6.1 and 3.6.6 (events and alarms) (from memory).
    """
    if not content.turns:
        return b""
    rows = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{_MAKER}", "CALSCALE:GREGORIAN"]
    for turn in content.turns:
        rows += _event(turn, content, words, at_utc)
    rows.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for row in rows for part in _folded(row)).encode()


def _event(
    turn: CardTurn, content: CardContent, words: CardWords, at_utc: datetime
) -> Iterator[str]:
    vessel, place = content.vessel.name, content.place.bay_name
    same = "\x1f".join((vessel, place, turn.person, _moment(turn.from_utc)))
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid.uuid5(_NAMESPACE, same)}"
    yield f"DTSTAMP:{_moment(at_utc)}"
    yield f"DTSTART:{_moment(turn.from_utc)}"
    yield f"DTEND:{_moment(turn.until_utc)}"
    yield f"SUMMARY:{escaped(words.say('watch.event', person=turn.person))}"
    said = words.say("watch.event_said", vessel=vessel, place=place)
    yield f"DESCRIPTION:{escaped(said)}"
    yield f"LOCATION:{escaped(place)}"
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield f"DESCRIPTION:{escaped(words.say('watch.event_alarm', person=turn.person))}"
    yield f"TRIGGER:{_CALLED_BEFORE}"
    yield "END:VALARM"
    yield "END:VEVENT"


def _moment(at: datetime) -> str:
    return at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")


def escaped(text: str) -> str:
    """Text as a value: backslash, semicolon, comma and new line written out."""
    plain = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    plain = plain.replace("\r\n", "\n").replace("\n", "\\n")
    return "".join(sign for sign in plain if sign.isprintable() or sign == "\u00a0")


def _folded(row: str) -> Iterator[str]:
    """A row in pieces of at most 75 octets, no character torn; all but the first begin blank."""
    piece, size = "", 0
    for sign in row:
        octets = len(sign.encode())
        if size + octets > _LONGEST:
            yield piece
            piece, size = " ", 1
        piece, size = piece + sign, size + octets
    yield piece
