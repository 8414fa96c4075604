"""The night card's calls, spelling and lights, held against the rules in print (from memory)."""

import itertools
import re
from datetime import UTC, datetime, timedelta

import pytest

from shorefast.briefing import CardContent, CardPerson, CardPlace, CardVessel
from shorefast.briefing.cards.faces import card_faces
from shorefast.briefing.cards.night import night_card
from shorefast.wording import LANGUAGES, card_words

START = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)


def content_of(length_m=13.2, call_sign="ZQST7"):
    people = tuple(CardPerson(name, ("guest",)) for name in ("Sigrun", "Anselm", "Torvid"))
    return CardContent(
        CardVessel("Salt Thistle", length_m, 2.1, call_sign, "999000123"),
        CardPlace("Grey Notch", 47.5005, -40.0007, "Etc/GMT+2"),
        START, START + timedelta(hours=12), 0.4, 64.0, 26.0, (), people,
    )  # fmt: skip


def said(content, language="en"):
    words = card_words(language)
    faces = card_faces(night_card(content, words), content, words)
    return " ".join(text for page in faces for _, text in page.labels).replace("\u00a0", " ")


def call_of(whole, begin, end):
    start = whole.index(begin)
    return whole[start : whole.index(end, start)]


# Radio Regulations, 32.13B to 32.13D: the distress call is the signal MAYDAY three times, THIS
# IS, the name three times, call sign, MMSI; the message the signal, the name, call sign, MMSI,
# the position, the nature of the distress, the kind of assistance, other useful information.
@pytest.mark.parametrize(
    ("language", "this_is", "position", "nature", "assistance", "persons", "over"),
    [
        ("en", "This is", "My position is", "I am aground", "I require immediate assistance",
         "3 persons on board", "Over."),
        ("fr", "Ici", "Ma position est", "Je suis échoué", "Je demande une assistance immédiate",
         "3 personnes à bord", "À vous."),
        ("es", "Aquí", "Mi posición es", "Estoy varado", "Necesito auxilio inmediato",
         "3 personas a bordo", "Cambio."),
    ],
)  # fmt: skip
def test_the_distress_call_says_all_in_the_order_of_the_regulations(
    language, this_is, position, nature, assistance, persons, over
):
    call = call_of(said(content_of(), language), "MAYDAY, MAYDAY, MAYDAY.", over)
    wanted = [
        "MAYDAY, MAYDAY, MAYDAY.", f"{this_is} Salt Thistle, Salt Thistle, Salt Thistle.",
        "ZQST7", "MMSI 999 000 123", "MAYDAY. Salt Thistle. ZQST7. 999 000 123.", position,
        nature, assistance, persons,
    ]  # fmt: skip
    places = [call.index(one) for one in wanted]
    assert places == sorted(places)


# 32.16: the urgency signal PAN PAN three times, the stations addressed, THIS IS, the name three
# times, call sign, MMSI; then the message.
def test_the_urgency_call_is_addressed_to_all_stations():
    call = call_of(said(content_of()), "PAN PAN, PAN PAN, PAN PAN.", "Over.")
    wanted = [
        "PAN PAN, PAN PAN, PAN PAN.", "All stations, all stations, all stations.",
        "This is Salt Thistle, Salt Thistle, Salt Thistle.", "ZQST7", "999 000 123",
        "My position is", "I am dragging anchor", "3 persons on board",
    ]  # fmt: skip
    places = [call.index(one) for one in wanted]
    assert places == sorted(places)


# IMO SMCP, part A1: "I am aground.", "I am flooding.", "I am on fire.", "I have lost person(s)
# overboard.", "I require medical assistance."; general: "Over".
@pytest.mark.parametrize(
    "phrase",
    ["I am aground.", "I am flooding.", "I am on fire.", "I require medical assistance.", "Over."],
)
def test_the_phrases_are_those_of_the_standard(phrase):
    assert phrase in said(content_of())


# Radio Regulations, Appendix 14: Alfa, Juliett, Whiskey, X-ray as they are spelled there.
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_call_sign_is_spelled_with_the_alphabet_of_the_regulations(language):
    words = card_words(language).rows("radio.phonetic")
    assert len(words) == 26
    assert [word[0] for word in words] == [chr(65 + n) for n in range(26)]
    assert {words[0], words[9], words[22], words[23]} == {"Alfa", "Juliett", "Whiskey", "X-ray"}
    whole = said(content_of(call_sign="AJWX7"), language)
    assert "Alfa Juliett Whiskey X-ray 7" in whole


# COLREGs, Rule 30 (a) and (b): an all-round white light or one ball in the fore part, and a
# second lower light at the stern; under 50 m one all-round white light where it can best be
# seen will do. (c): from 100 m on the decks are lit.
@pytest.mark.parametrize(
    ("length_m", "light"),
    [
        (13.2, "An all-round white light where it is best seen"),
        (49.9, "An all-round white light where it is best seen"),
        (50.0, "An all-round white light forward, a lower one at the stern; by day one ball"),
        (100.0, "An all-round white light forward, a lower one at the stern, and the deck lit"),
    ],
)
def test_the_lights_are_those_of_rule_30_for_her_length(length_m, light):
    whole = said(content_of(length_m))
    assert light in whole and "by day one ball in the fore part" in whole


# ITU-R M.585: a maritime identity has nine figures.
def test_an_identity_is_read_out_whole_in_threes():
    figures = re.search(r"MMSI (\d{3} \d{3} \d{3})\.", said(content_of())).group(1)
    assert figures.replace(" ", "") == "999000123"


def test_every_unknown_of_the_calls_has_a_line_to_write_on():
    bare = CardContent(
        CardVessel("Quill", 11.8, 1.9), CardPlace("Spur", float("nan"), float("nan"), "Etc/GMT+2"),
        START, START + timedelta(hours=8), 0.4, 48.0, 15.0, (),
    )  # fmt: skip
    whole = said(bare)
    for one in ("Call sign ______.", "MMSI ______.", "My position is ______, ______.",
                "______ persons on board."):  # fmt: skip
        assert one in whole
    assert not [pair for pair in itertools.pairwise(whole.split()) if pair == ("nan", "minutes")]
