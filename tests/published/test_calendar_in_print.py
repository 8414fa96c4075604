"""The watch bill as a calendar file, held against the rules RFC 5545 prints (from memory)."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from shorefast.briefing import CardContent, CardPlace, CardTurn, CardVessel, watch_calendar
from shorefast.briefing.cards.calendar import escaped
from shorefast.wording import LANGUAGES, card_words

START = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)
MADE = datetime(2026, 6, 20, 8, 0, tzinfo=UTC)
AWKWARD = "Fin; first, second \\ Éowyn-Äänekoski of the very long and windy Torvane Inlet, ñandú"


def content_of(*people, bay="Grey Notch, Torvane Inlet"):
    turns = tuple(
        CardTurn(person, START + timedelta(hours=2 * at), START + timedelta(hours=2 * at + 2))
        for at, person in enumerate(people)
    )
    return CardContent(
        CardVessel("Salt Thistle", 13.2, 2.1), CardPlace(bay, 47.5, -40.0, "Etc/GMT+2"),
        START, START + timedelta(hours=12), 0.4, 64.0, 26.0, (), turns=turns,
    )  # fmt: skip


def made(*people, language="en", at_utc=MADE, **also):
    return watch_calendar(content_of(*people, **also), card_words(language), at_utc)


def unfolded(data):
    """Section 3.1: a line end and one blank behind it are taken out again."""
    return data.decode("utf-8").replace("\r\n ", "").split("\r\n")[:-1]


def read(data):
    """A small reader of our own: components with their properties, text put back."""
    root, stack = {"name": None, "parts": [], "said": {}}, []
    here = root
    for row in unfolded(data):
        name, value = re.fullmatch(r"([A-Z-]+)(?:;[^:]*)?:(.*)", row).groups()
        if name == "BEGIN":
            new = {"name": value, "parts": [], "said": {}}
            here["parts"].append(new)
            stack.append(here)
            here = new
        elif name == "END":
            assert here["name"] == value
            here = stack.pop()
        else:
            assert name not in here["said"]
            here["said"][name] = value
    assert here is root
    (calendar,) = root["parts"]
    return calendar


def plain(value):
    """Section 3.3.11: a backslash before itself, a semicolon, a comma, or n for a new line."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value)


# Section 3.1: lines end in CR LF and should not be longer than 75 octets without it.
@pytest.mark.parametrize("language", LANGUAGES)
def test_lines_end_in_crlf_and_hold_75_octets_at_most(language):
    data = made(AWKWARD, "Torvid", language=language)
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"") and b"\r" not in data.replace(b"\r\n", b"")
    rows = data.split(b"\r\n")
    assert max(map(len, rows)) <= 75
    assert any(row.startswith(b" ") for row in rows)
    # no character is torn: every line is sound by itself
    assert all(row.decode("utf-8") is not None for row in rows)


# Section 3.1 prints "DESCRIPTION:This is a long description that exists on a long line."
# folded at any place and read back as one line.
def test_a_folded_line_is_read_back_as_it_was():
    said = [row for row in unfolded(made(AWKWARD)) if row.startswith("SUMMARY:")]
    assert [plain(row.removeprefix("SUMMARY:")) for row in said] == [f"Anchor watch: {AWKWARD}"]


# Section 3.3.11 prints "Project XYZ Final Review\nConference Room - 3B\nCome Prepared." as one
# value with each line end written \n.
def test_text_is_escaped_as_the_standard_prints_it():
    printed = r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escaped("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.") == printed
    assert escaped("a;b,c\\d") == r"a\;b\,c\\d"


# Section 3.6: a calendar needs PRODID and VERSION 2.0; 3.6.1: an event needs UID and DTSTAMP,
# here DTSTART too; 3.6.6: a displayed alarm needs ACTION, DESCRIPTION and TRIGGER.
def test_everything_that_is_required_is_there():
    calendar = read(made("Sigrun", "Anselm", "Torvid"))
    assert calendar["name"] == "VCALENDAR"
    assert calendar["said"]["VERSION"] == "2.0" and calendar["said"]["PRODID"]
    assert [part["name"] for part in calendar["parts"]] == ["VEVENT"] * 3
    for event in calendar["parts"]:
        assert {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"} <= event["said"].keys()
        (alarm,) = event["parts"]
        assert alarm["name"] == "VALARM" and alarm["said"]["ACTION"] == "DISPLAY"
        assert {"DESCRIPTION", "TRIGGER"} <= alarm["said"].keys()


# Section 3.3.5, form 2, prints 19980119T070000Z for 07:00 UTC on 19 January 1998; 3.3.6 prints
# durations as P15DT5H0M20S.
def test_times_are_utc_in_the_form_printed():
    first, second = read(made("Sigrun", "Anselm"))["parts"]
    assert first["said"]["DTSTART"] == "20260624T193000Z"
    assert first["said"]["DTEND"] == second["said"]["DTSTART"] == "20260624T213000Z"
    assert first["said"]["DTSTAMP"] == "20260620T080000Z"
    assert re.fullmatch(r"-P(\d+D)?(T(\d+H)?(\d+M)?(\d+S)?)?", first["parts"][0]["said"]["TRIGGER"])


# Section 3.8.4.7: the identifier is lasting and no two events share one.
def test_the_same_turn_keeps_its_name_when_the_file_is_made_again():
    def names(data):
        return [event["said"]["UID"] for event in read(data)["parts"]]

    early, late = made("Sigrun", "Sigrun"), made("Sigrun", "Sigrun", at_utc=MADE.replace(hour=9))
    assert names(early) == names(late)
    assert len(set(names(early))) == 2
    assert early != late
    assert early == made("Sigrun", "Sigrun")
    assert not set(names(early)) & set(names(made("Sigrun", "Sigrun", bay="Elsewhere")))


# Section 3.6: a calendar holds at least one component.
def test_without_turns_there_is_no_calendar():
    assert made() == b""


def test_a_sign_nobody_prints_does_not_break_a_line():
    (event,) = read(made("Sig\r\nrun\x07"))["parts"]
    assert plain(event["said"]["SUMMARY"]) == "Anchor watch: Sig\nrun"


def test_who_has_which_hours_is_told_as_it_was_given():
    content = content_of("Sigrun", "Anselm")
    later = replace(content, turns=content.turns[1:])
    (event,) = read(watch_calendar(later, card_words("en"), MADE))["parts"]
    assert plain(event["said"]["SUMMARY"]) == "Anchor watch: Anselm"
    assert plain(event["said"]["LOCATION"]) == "Grey Notch, Torvane Inlet"
