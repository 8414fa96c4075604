"""The cards' catalogue: the same keys and places in every language, none idle."""

import itertools
import math
import re
import string

import pytest

from shorefast.errors import BadInput
from shorefast.wording import CAUTIONS, LANGUAGES, card_words

OTHERS = [language for language in LANGUAGES if language != "en"]


def places(text):
    rows = (text,) if isinstance(text, str) else text
    return sorted(name for row in rows for _, name, _, _ in string.Formatter().parse(row) if name)


@pytest.mark.parametrize("language", OTHERS)
def test_every_language_has_every_text_and_no_other(language):
    assert card_words(language).texts.keys() == card_words("en").texts.keys()


@pytest.mark.parametrize(
    ("language", "key"), list(itertools.product(OTHERS, card_words("en").texts))
)
def test_a_text_asks_for_the_same_things_in_every_language(language, key):
    english, other = card_words("en").texts[key], card_words(language).texts[key]
    assert type(english) is type(other)
    assert places(english) == places(other)
    if not isinstance(english, str):
        assert len(english) == len(other)


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_is_empty_but_the_mark_of_english(language):
    empty = [key for key, text in card_words(language).texts.items() if not all(text)]
    assert empty == (["card.foot"] if language == "en" else [])


def test_the_cautions_are_those_of_every_face():
    words = card_words("en")
    assert tuple(words.say(f"caution.{n}") for n in range(1, 14)) == CAUTIONS


@pytest.mark.parametrize("language", OTHERS)
def test_french_and_spanish_say_that_no_native_seaman_has_read_them(language):
    said = card_words(language).say("card.foot")
    assert re.search("[pP]as encore relu par un marin|[aA]ún no revisado por un marino", said)


@pytest.mark.parametrize(
    ("language", "metres", "unknown", "knots", "knot"),
    [
        ("en", "3.2 m", "unknown", "21 knots", "1 knot"),
        ("fr", "3,2 m", "inconnu", "21 nœuds", "1 nœud"),
        ("es", "3,2 m", "desconocido", "21 nudos", "1 nudo"),
    ],
)
def test_a_number_is_said_as_the_language_says_it(language, metres, unknown, knots, knot):
    words = card_words(language)
    assert words.metres(3.2) == metres
    assert words.metres(math.nan) == words.kilograms(math.nan) == unknown
    # 1 knot is 1852 m an hour (BIPM, SI brochure, 8th ed., table 8)
    assert words.knots(21 * 1852 / 3600) == knots
    assert words.knots(1852 / 3600) == knot


@pytest.mark.parametrize(
    ("language", "latitude", "longitude"),
    [
        ("en", "47 degrees 30.03 minutes North", "040 degrees 00.04 minutes West"),
        ("fr", "47 degrés 30,03 minutes Nord", "040 degrés 00,04 minutes Ouest"),
        ("es", "47 grados 30,03 minutos Norte", "040 grados 00,04 minutos Oeste"),
    ],
)
def test_a_place_is_read_out_in_degrees_and_minutes(language, latitude, longitude):
    words = card_words(language)
    # 0.0005 degrees are 0.03 minutes, 0.0007 are 0.042
    assert words.latitude(47.5005) == latitude
    assert words.longitude(-40.0007) == longitude


def test_sixty_minutes_are_a_degree_more():
    # 59.999 minutes, to two figures, are the next degree
    assert card_words("en").latitude(12 + 59.999 / 60) == "13 degrees 00.00 minutes North"


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "Wednesday 24 June, 17:30"),
        ("fr", "mercredi 24 juin, 17:30"),
        ("es", "miércoles 24 de junio, 17:30"),
    ],
)
def test_a_day_is_said_in_the_order_of_the_language(language, said):
    import numpy as np

    moment = np.datetime64("2026-06-24T19:30:00")
    assert card_words(language).day_clock(moment, "Etc/GMT+2") == said


@pytest.mark.parametrize(
    ("name", "english", "french"),
    [
        ("water under the rudder", "water under the rudder", "eau sous le safran"),
        ("hull to the shore", "hull to the shore", "de la coque à la rive"),
        ("hull to Teal Wake", "hull to Teal Wake", "de la coque à Teal Wake"),
        ("port bow cleat", "port bow cleat", "taquet port bow"),
        ("both legs of bow-north", "both legs of bow-north", "les deux brins de bow-north"),
        ("line A to birch", "line A to birch", "line A à birch"),
        ("anchor", "anchor", "ancre"),
    ],
)
def test_a_part_is_named_in_the_language(name, english, french):
    assert card_words("en").part(name) == english
    assert card_words("fr").part(name) == french


def test_times_are_said_in_words():
    words = card_words("en")
    said = [words.minutes(time_s) for time_s in (15.0, 240.0, 3600.0, 5400.0, math.nan)]
    assert said == ["15 seconds", "4 minutes", "1 hour", "1 hour 30 minutes", "unknown"]


def test_a_language_nobody_shipped_is_told_of():
    with pytest.raises(BadInput) as said:
        card_words("nl")
    assert str(said.value) == "Language: 'nl', one of en, fr, es wanted. Take one of these."
