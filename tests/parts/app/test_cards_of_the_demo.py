"""The cards of the three demo bays in every language: all words in their frame, none on others."""

import itertools
import math
import re
from pathlib import Path

import pypdfium2
import pytest

import shorefast
from shorefast.app.answers.approach import answer_approach
from shorefast.app.answers.cards import carded
from shorefast.app.answers.proof import answer_proof
from shorefast.briefing.cards.bay import bay_page
from shorefast.briefing.cards.faces import card_faces
from shorefast.briefing.cards.flow import EDGE_PT
from shorefast.briefing.cards.night import night_card
from shorefast.briefing.cards.pack import cards_pdf, pack
from shorefast.drawing import Box
from shorefast.readers import read_stay
from shorefast.wording import LANGUAGES, card_words, compass, worst_words

DEMO = Path(shorefast.__file__).parent / "demo"
# ISO 216: A6 is 105 by 148 mm, A4 210 by 297 mm, in points of 1/72 inch
A6_PT, A4_PT = (297.64, 419.53), (595.28, 841.89)
FRAME = Box(EDGE_PT - 0.5, EDGE_PT - 0.5, A6_PT[0] - EDGE_PT + 0.5, A6_PT[1] - EDGE_PT + 0.5)


@pytest.fixture(scope="module", params=["grey_notch", "stone_spur", "tres_sombras"])
def found(request):
    stay = read_stay(DEMO / request.param / "stay.toml")
    return carded(stay, card_words("en"), with_losses=True)


def all_faces(found, words):
    cards = (*pack(found.content, words), night_card(found.content, words))
    return [page for card in cards for page in card_faces(card, found.content, words)]


def first_face(found, name):
    words = card_words("en")
    card = next(one for one in pack(found.content, words) if one.name == name)
    return [text for _, text in card_faces(card, found.content, words)[0].labels]


def rows_of(found, name, columns):
    """The figures of a card's first table, row by row: as many as it has columns for them."""
    face = first_face(found, name)
    figure = re.compile(r"\d+(\.\d)?|with [A-G]|no headway")
    figures = [text for text in face if figure.fullmatch(text)]
    return [figures[at : at + columns] for at in range(0, len(figures), columns)][
        : len(found.content.lines)
    ]


def card_said(found, name):
    """All words of a card in one row."""
    words = card_words("en")
    card = next(one for one in pack(found.content, words) if one.name == name)
    faces = card_faces(card, found.content, words)
    return " ".join(text for page in faces for _, text in page.labels).replace("\u00a0", " ")


def test_the_hand_at_the_lines_and_the_one_who_carries_them_read_what_the_command_says(
    found, request
):
    bay = request.node.callspec.params["found"]
    told = answer_approach(DEMO / bay / "stay.toml").text
    said = re.findall(r"^\d  .* (\d+) m  +(\d+) m +(\d+) min$", told, re.MULTILINE)
    assert len(said) == len(found.content.lines)
    carrier = "swimmer" if bay == "stone_spur" else "rower"
    assert [row[1] for row in rows_of(found, "line", 3)] == [flake for _, flake, _ in said]
    assert [tuple(row) for row in rows_of(found, carrier, 2)] == [
        (far, minutes) for far, _, minutes in said
    ]
    short = re.findall(r"in reserve, [\d.]+ m wanted", told)
    assert re.findall(r"in reserve, [\d.]+ m wanted", card_said(found, "line")) == short


def test_what_is_flaked_and_what_stays_aboard_are_the_line(found, request):
    rows = iter(rows_of(found, "line", 3))
    lines = sorted(found.content.lines, key=lambda one: one.order)
    flaked, left = {}, {}
    for line, (_, flake, stays) in zip(lines, rows, strict=True):
        flaked[line.name] = flaked.get(line.name, 0) + int(flake)
        if not stays.startswith("with"):
            assert line.name not in left
            left[line.name] = int(stays)
    # by the boat files
    aboard = {"grey_notch": (60, 60, 60, 60), "stone_spur": (50, 50), "tres_sombras": (110,) * 4}
    wanted = aboard[request.node.callspec.params["found"]]
    assert tuple(flaked[name] + left[name] for name in flaked) == wanted


def test_a_line_is_settled_by_the_sag_the_command_tells(found, request):
    told = answer_proof(DEMO / request.node.callspec.params["found"] / "stay.toml").text
    table = told[told.index("half a metre tighter") : told.index("With the engine astern")]
    said = re.findall(r"(\d+) kg +(?:ease|take in|leave it).*? +([\d.]+) m +\d+ kg", table)
    slack = table.count("hangs slack")
    card = card_said(found, "line")
    on_card = re.findall(r"about (\d+) kg; sagging ([\d.]+) m", card)
    assert sorted(on_card) == sorted(said)
    assert card.count("then hangs slack") == slack
    assert len(said) + slack == len(found.content.lines)


def test_helm_and_bow_read_what_the_command_says_of_the_way_in(found, request):
    """The bow going in is not the bow lying, nor is the water she lets go in the anchor's."""
    bay = request.node.callspec.params["found"]
    told = answer_approach(DEMO / bay / "stay.toml").text
    bow, off, let_go = re.search(
        r"bow (\d{3}),.* let go ([\d.]+ m) off.*?\n +[\d.]+ m +0.0 m +([\d.]+ m) +helm  let go\n",
        told,
        re.DOTALL,
    ).groups()
    lies = re.search(r"([\d.]+ m) +bow +on the bottom", told)[1]
    helm = first_face(found, "helm")
    assert [helm[helm.index(name) + 4] for name in ("bow, going in", "let go, off")] == [bow, off]
    front = first_face(found, "bow")
    assert [front[front.index(one) + 4] for one in ("let go in", "anchor lies in")] == [
        let_go,
        lies,
    ]


def test_the_night_card_tells_the_worst_hour_as_judge_tells_it(found):
    """Hour, wind, part and use of the one state that decides, to the digits of the sentence."""
    words = card_words("en")
    stay, judgement = found.bay.stay, found.bay.judgement
    hour, use, gust, side = re.search(
        r"Worst hour (?:.*, )?(\d\d:\d\d), .*?, ([\d.]+) of its limit, in gusts of (\d+) kn"
        r" from the (.*)\.",
        worst_words(stay, judgement),
    ).groups()
    card = night_card(found.content, words)
    said = " ".join(t for page in card_faces(card, found.content, words) for _, t in page.labels)
    wind = re.search(r"worst hour \D*(\d\d:\d\d), gusts of (\d+) knots from (\d{3})", said)
    assert (wind[1], wind[2], compass(math.radians(int(wind[3])))) == (hour, gust, side)
    assert int(re.search(r"(\d+) % of what it", said)[1]) == round(100 * float(use))


def test_the_night_card_tells_when_leaving_is_known_to_be_possible(found, request):
    """Read off the rows of ``shorefast leave``; there too late at the spur's judged 18:45."""
    leave_by, said = {
        "grey_notch": ("none", "Leaving is not known to be possible: 21:30 to 07:00."),
        "stone_spur": ("18:30", "Leave by 18:30."),
        "tres_sombras": ("none", "In none of these hours is leaving known to be possible."),
    }[request.node.callspec.params["found"]]
    words = card_words("en")
    front = card_faces(night_card(found.content, words), found.content, words)[0]
    texts = [text for _, text in front.labels]
    assert texts[texts.index("leave by") + 2] == leave_by
    assert said in " ".join(texts)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_keeps_to_its_frame_and_off_all_others(found, language):
    for page in all_faces(found, card_words(language)):
        assert [text for box, text in page.labels if not FRAME.holds(box)] == []
        met = [
            (one[1], two[1])
            for one, two in itertools.combinations(page.labels, 2)
            if one[0].grown(-0.3).meets(two[0].grown(-0.3))
        ]
        assert met == []
        assert not [text for _, text in page.labels if "…" in text]


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_sheet_of_the_bay_keeps_its_words_on_the_page(found, language):
    whole = Box(0.0, 0.0, *A4_PT)
    page = bay_page(found.bay, found.content, card_words(language))
    assert [text for box, text in page.labels if not whole.holds(box)] == []


def test_four_faces_go_on_a_page_of_a4_and_one_on_a_page_of_a6(found):
    words = card_words("en")
    faces = sum(len(card_faces(card, found.content, words)) for card in pack(found.content, words))
    for paper, size, pages in (("a6", A6_PT, faces), ("a4", A4_PT, math.ceil(faces / 4))):
        printed = pypdfium2.PdfDocument(cards_pdf(found.content, words, paper))
        assert len(printed) == pages
        assert printed[0].get_size() == pytest.approx(size, abs=0.02)
        printed.close()


def test_the_helm_is_told_where_the_engine_cannot_prove_what_the_stay_asks(found, request):
    """Stone Spur's night asks 740 kg and its engine pulls 220; Grey Notch's 250 of 230 to 320."""
    words, bay = card_words("en"), request.node.callspec.params["found"]
    card = next(one for one in pack(found.content, words) if one.name == "helm")
    faces = card_faces(card, found.content, words)
    told = " ".join(text for page in faces for _, text in page.labels)
    assert ("more than this engine surely pulls" in told) == (bay != "tres_sombras")


def test_where_she_stops_and_snubs_stands_on_the_sheet_and_no_two_numbers_on_one_place(found):
    places = {text: place for place, text in found.bay.way.calls}
    off = {one.kind: one.off_m for one in found.content.approach.calls}
    assert {card_words("en").number(off[kind]) for kind in ("hold", "snub")} <= set(places)
    assert min(math.dist(*two) for two in itertools.combinations(places.values(), 2)) > 2.0


def test_every_part_of_the_manoeuvre_was_worked_out(found):
    assert not [one for one in found.content.basis.findings if one.where.startswith("Cards")]
    content = found.content
    assert content.approach is not None and content.approach.calls
    assert content.proof and content.outcomes and content.leaving and content.turns
    assert content.night.losses
