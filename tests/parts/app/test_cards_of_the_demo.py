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


def test_every_part_of_the_manoeuvre_was_worked_out(found):
    assert not [one for one in found.content.basis.findings if one.where.startswith("Cards")]
    content = found.content
    assert content.approach is not None and content.approach.calls
    assert content.proof and content.outcomes and content.leaving and content.turns
    assert content.night.losses
