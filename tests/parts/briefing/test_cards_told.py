"""What stands on the cards: every caution that concerns its reader, every text used, no promise."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

import pytest

from shorefast.briefing.cards.calendar import watch_calendar
from shorefast.briefing.cards.faces import card_faces
from shorefast.briefing.cards.night import night_card
from shorefast.briefing.cards.overleaf import overleaf_columns
from shorefast.briefing.cards.pack import cards_pdf, night_card_pdf, pack
from shorefast.briefing.cards.way_in import goes_ahead
from shorefast.drawing import SIGNALS
from shorefast.wording import LANGUAGES, CardWords, card_words


class Noted(Mapping):
    """Texts that note which were asked for."""

    def __init__(self, texts, asked):
        self.texts, self.asked = texts, asked

    def __getitem__(self, key):
        self.asked.add(key)
        return self.texts[key]

    def __iter__(self):
        return iter(self.texts)

    def __len__(self):
        return len(self.texts)


def faces_of(card, content, words):
    return card_faces(card, content, words)


def words_of(card, content, words):
    """All words of a card in one row; a text broken into rows is whole again."""
    rows = [text for page in faces_of(card, content, words) for _, text in page.labels]
    return " ".join(rows).replace("\u00a0", " ")


def sheet_of(content, words):
    """All words on the back of the sheet of the bay."""
    rows = [text for page in overleaf_columns(content, words) for _, text in page.labels]
    return " ".join(rows).replace("\u00a0", " ")


def named(content, words, name):
    cards = (*pack(content, words), night_card(content, words))
    return next(card for card in cards if card.name == name)


def said_in(text, whole):
    return " ".join(text.replace("\u00a0", " ").split()) in whole


CONCERNS = {
    "helm": (1, 2, 3, 5, 9),
    "bow": (2, 3, 4, 5),
    "leaving": (7,),
    "line": (3, 4, 6),
    "swimmer": (3, 4, 10),
    "rower": (3, 4, 10),
    "guests": (3, 4, 10),
    "night": (1, 7, 8, 11, 12),
    "watch": (5, 11),
}


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(("name", "numbers"), CONCERNS.items())
def test_a_card_carries_the_cautions_that_concern_its_reader(full, language, name, numbers):
    content, words = full(), card_words(language)
    whole = words_of(named(content, words, name), content, words)
    missing = [n for n in numbers if not said_in(words.say(f"caution.{n}"), whole)]
    assert missing == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_face_says_that_it_is_not_for_navigation_and_who_has_not_read_it(full, language):
    content, words = full(), card_words(language)
    foot = [row for row in words.rows("card.foot") if row]
    for card in (*pack(content, words), night_card(content, words)):
        for page in faces_of(card, content, words):
            whole = " ".join(text for _, text in page.labels).replace("\u00a0", " ")
            assert all(said_in(row, whole) for row in foot)


def test_the_engine_stopped_rule_stands_locked_on_every_card_of_the_manoeuvre(full):
    content, words = full(), card_words("en")
    for name in ("helm", "bow", "line", "swimmer", "rower", "guests"):
        whole = words_of(named(content, words, name), content, words)
        assert "Engine STOPPED" in whole
        assert "The helm says “engine stopped”, the hand at the stern says it back" in whole


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_of_the_catalogue_is_idle(full, bare, language):
    asked = set()
    words = CardWords(language, Noted(card_words(language).texts, asked))
    contents = [
        full(), bare(), full(by="nobody"), full(length_m=60.0), full(length_m=120.0),
        full(tends=None, water_k=None),
    ]  # fmt: skip
    contents += full.variants
    for content in contents:
        for card in (*pack(content, words), night_card(content, words)):
            faces_of(card, content, words)
        overleaf_columns(content, words)
        watch_calendar(content, words, content.from_utc)
    # what the plan, the sheet of the bay and single numbers ask for has tests of its own
    elsewhere = ("plan.", "zone.", "bay.", "part.", "caution.", "number.")
    idle = [key for key in words.texts if key not in asked and not key.startswith(elsewhere)]
    assert not idle, " ".join(idle)


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_card_promises(full, language):
    content, words = full(), card_words(language)
    cards = (*pack(content, words), night_card(content, words))
    whole = " ".join(words_of(card, content, words) for card in cards)
    assert not re.search(r"\b(safe|allowed|sûr(e)? d|autorisé|seguro que|permitido)\b", whole)


def test_one_card_goes_to_everybody_who_has_a_duty_and_one_to_the_guests(full):
    content, words = full(count=14, by="row"), card_words("en")
    cards = [(card.name, card.people) for card in pack(content, words)]
    # fourteen people share seven duties, two each; nobody swims when the lines are rowed
    assert [name for name, _ in cards] == [
        "helm", "helm", "bow", "bow", "line", "line", "rower", "rower", "guests", "signals",
        "leaving", "watch",
    ]  # fmt: skip
    assert ("helm", ("Sigrun 0",)) in cards and ("helm", ("Sigrun 7",)) in cards
    assert ("guests", ("Sigrun 5", "Sigrun 12")) in cards


def test_a_card_without_a_name_has_a_line_to_write_one_on(bare):
    content, words = bare(), card_words("en")
    assert words_of(named(content, words, "helm"), content, words).startswith("Helm Name")


def test_unknown_is_said_and_never_made_up(bare):
    content, words = bare(), card_words("en")
    bow = words_of(named(content, words, "bow"), content, words)
    assert "charted depth there chain in all bow, lying unknown 48 m unknown" in bow
    assert "Not worked out." in bow
    night = words_of(night_card(content, words), content, words)
    assert "Whether she can lie here is unknown." in night
    assert "My position is ______, ______." in night
    assert "Call sign ______. MMSI ______." in night


def test_the_calls_are_the_same_on_helm_and_bow(full):
    content, words = full(), card_words("en")
    helm, bow = (words_of(named(content, words, name), content, words) for name in ("helm", "bow"))
    assert "70 27 Let go" in helm and "34 54 Hold" in helm
    assert re.search(r"70 27 .{0,12} Let go helm", bow)
    assert re.search(r"34 54 .{0,14} Hold bow", bow)
    # veers are read off the bow's card where the wheel has room for ten marks only
    assert "The rest: bow's card." in helm
    for metres, chain in re.findall(r"(\d+) (\d+) Veer", helm):
        assert re.search(rf"\b{metres} {chain} .{{0,14}} Veer bow", bow)


def test_a_locked_step_names_the_one_it_waits_for(full):
    content, words = full(), card_words("en")
    whole = words_of(named(content, words, "line"), content, words)
    assert re.search(r"\[not before \d+\]", whole)
    assert "[not before 2]" in sheet_of(content, words)


def test_leaving_is_a_leaf_of_its_own_for_the_one_who_steers(full):
    content, words = full(), card_words("en")
    card = named(content, words, "leaving")
    whole = words_of(card, content, words)
    assert card.people == ("Sigrun 0",) and len(faces_of(card, content, words)) % 2 == 0
    assert "Crossed chain" in whole and "first light" in whole.lower()


def test_an_order_of_letting_go_is_not_told_twice(full):
    first = full().leaving[0]
    content, words = full(leaving=(first, replace(first, when="planned"))), card_words("en")
    whole = words_of(named(content, words, "leaving"), content, words)
    assert whole.count("In this order:") == 1 and whole.count("In the same order.") == 1


def test_nothing_of_the_proof_is_lost_from_the_whole_set(full):
    content, words = full(), card_words("en")
    whole = sheet_of(content, words)
    for one in content.outcomes:
        for key in (f"sign.{one.sign}", f"means.{one.means}", f"do.{one.do}"):
            assert said_in(words.say(f"outcome_{key}"), whole), key


@pytest.mark.parametrize(
    ("name", "said"),
    [
        # common practice, no source
        ("helm", "A slack stern line fouls the propeller: tended, or engine out of gear."),
        ("helm", "In steps, never full astern at once."),
        ("bow", "In steps, never full astern at once."),
        ("bow", "Bottom: two metres at once, then by the calls"),
        ("helm", "Ahead in short bursts."),
        ("helm", "do not heave in, it takes the scope away"),
    ],
)
def test_common_practice_stands_where_it_is_done(full, name, said):
    content, words = full(), card_words("en")
    assert said in words_of(named(content, words, name), content, words)


def test_wake_me_tells_what_was_reckoned(full):
    content, words = full(), card_words("en")
    whole = words_of(night_card(content, words), content, words)
    told = whole[whole.index("Wake me") :]
    # 21.6 m/s is 42 knots, 30.9 m/s 60 knots, 5.1 rad 292 degrees; 002 to 043 and 2.5 m are
    # the content's own; least off is 8.4 m, at low water 9 m
    for said in (
        "Gust from about 292 over (stern line 1 to birch past its limit) 42 knots",
        "From elsewhere, harder than any reckoned there: over 60 knots",
        "002 to 043", "less than 2.5 m", "(at low water 9.0 m) 8.4 m", "white rock",
    ):  # fmt: skip
        assert said in told


def test_where_nothing_is_past_its_limit_wake_me_says_that_nothing_harder_was_reckoned(full):
    words = card_words("en")
    content = full(night=replace(full().night, breaks=None))
    whole = words_of(night_card(content, words), content, words)
    assert "Gust harder than any reckoned: over 42 knots Bow outside" in whole


def test_the_gusts_of_an_hour_say_of_which_forecast_they_are(full):
    # the fixture's own: 9.0 m/s from 3.3 rad leaving, 20.6 m/s from 5.1 rad in the night
    content, words = full(), card_words("en")
    leaving = words_of(named(content, words, "leaving"), content, words)
    assert "gusts of 17 knots from 189, middle forecast" in leaving
    night = words_of(named(content, words, "night"), content, words)
    assert "gusts of 40 knots from 292, worst forecast" in night


def test_wake_me_leaves_a_line_where_nobody_knows(bare):
    content, words = bare(), card_words("en")
    whole = words_of(night_card(content, words), content, words)
    assert " ".join(words.rows("night.wake")) in whole


def test_all_signals_stand_on_their_own_card_and_each_on_somebodys(full):
    content, words = full(), card_words("en")
    own = words_of(named(content, words, "signals"), content, words)
    others = " ".join(
        words_of(card, content, words) for card in pack(content, words) if card.name != "signals"
    )
    for name in SIGNALS:
        call = words.say(f"signal.{name}.call")
        assert call in own and call in others


def test_the_watch_bill_has_a_row_for_every_hour(full):
    content, words = full(), card_words("en")
    whole = words_of(named(content, words, "watch"), content, words)
    # from 17:30 to 08:00 on the place's clock
    hours = ["18:00", "19:00", "23:00", "00:00", "07:00", "08:00"]
    log = whole[whole.index("Every hour") :]
    assert all(hour in log for hour in hours) and "09:00" not in log


@pytest.mark.parametrize(
    ("language", "letters"), [("en", "Wed Thu Fri"), ("fr", "mer jeu ven"), ("es", "mié jue vie")]
)
def test_in_a_stay_longer_than_a_day_an_hour_has_its_weekday(full, language, letters):
    first, second, third = letters.split()
    # the content begins on Wednesday 24 June 2026 at 17:30 local
    content, words = full(), card_words(language)
    told = {
        "night": (f"{second} 01:30, ", f"{first} 17:30", f"{second} 02:30"),
        "leaving": (f", {first} 17:30", f", {first} 19:30"),
        "watch": (f"{first} 17:30 19:30", f"{second} 01:30 03:30", f"{first} 18:00 "),
        "line": (f"{first} 23:30 ",),
    }
    longer = replace(content, until_utc=content.from_utc + timedelta(hours=40))
    for name, said in told.items():
        whole = words_of(named(longer, words, name), longer, words)
        assert [one for one in said if one not in whole] == []
        short = words_of(named(content, words, name), content, words)
        assert not re.search(rf"({first}|{second}) \d\d:\d\d", short)
    assert f"{third} 09:00" in words_of(named(longer, words, "watch"), longer, words)
    assert len({day[:3] for day in words.rows("number.weekdays")}) == 7


def test_french_and_spanish_night_cards_have_the_calls_in_english_too(full):
    content = full()
    for language in ("fr", "es"):
        words = card_words(language)
        whole = words_of(night_card(content, words), content, words)
        assert whole.count("MAYDAY, MAYDAY, MAYDAY.") == 2
        assert "I require immediate assistance." in whole


def test_the_same_answer_prints_the_same_bytes(full):
    content, words = full(), card_words("en")
    assert cards_pdf(content, words, "a6") == cards_pdf(content, words, "a6")
    assert night_card_pdf(content, words, "a4") == night_card_pdf(content, words, "a4")


@pytest.mark.parametrize(("by", "says"), [("row", "in the tender"), ("swim", "Nothing can wait")])
def test_only_a_tender_waits_with_the_weather_line(bare, by, says):
    held = replace(bare(), by=by, ahead=True)
    words = card_words("en")
    assert says in words.say(goes_ahead(held))


def test_nobody_is_told_when_to_swim_where_the_water_is_cold_or_unknown(full):
    words = card_words("en")
    said = {}
    for water_k in (None, 285.0, 295.0):
        content = full(water_k=water_k)
        said[water_k] = words_of(named(content, words, "guests"), content, words)
    assert "Swim only when" in said[295.0]
    for cold in (None, 285.0):
        assert "Swim only when" not in said[cold] and "nobody swims" in said[cold]


def test_who_goes_ashore_to_let_a_line_go_has_the_engine_stopped_rule_beside_it(full):
    content, words = full(), card_words("en")
    assert "from ashore" in {step.how for one in content.leaving for step in one.order}
    whole = words_of(named(content, words, "leaving"), content, words)
    assert "Engine STOPPED" in whole
    aboard = tuple(
        replace(one, order=tuple(replace(step, how="slip") for step in one.order))
        for one in content.leaving
    )
    content = full(leaving=aboard)
    assert "Engine STOPPED" not in words_of(named(content, words, "leaving"), content, words)
