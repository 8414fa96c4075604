"""The drawn track of a practice: labels apart and on the page, every call lettered."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

import shorefast
from shorefast.app.answers.practise import aboard_of
from shorefast.app.practice_script import read_script
from shorefast.drawing import track_page
from shorefast.drawing.page import Box
from shorefast.drawing.practice_track import marks_of
from shorefast.manoeuvre import debrief, practice, rehearse
from shorefast.readers import read_stay
from shorefast.wording import CAUTIONS_SHORT, debrief_words

DEMO = Path(shorefast.__file__).parent / "demo"


@pytest.fixture(scope="module", params=["grey_notch", "stone_spur", "tres_sombras"])
def drawn(request):
    stay = read_stay(DEMO / request.param / "stay.toml")
    script = read_script(DEMO / request.param / "practice.txt", aboard_of(stay))
    done = rehearse(practice(stay, script.setting), script.orders, 1000.0)
    told = debrief(done)
    words = (" ".join(debrief_words(told)), CAUTIONS_SHORT[0])
    return done, told, track_page(done, told, words)


def test_no_two_labels_touch_and_none_leaves_the_page(drawn):
    page = drawn[2]
    whole = Box(0.0, 0.0, page.width_pt, page.height_pt)
    assert [text for box, text in page.labels if not whole.holds(box)] == []
    words = [(box, text) for box, text in page.labels if not text.isdigit()]
    assert [(a[1], b[1]) for a, b in combinations(words, 2) if a[0].meets(b[0].grown(-0.5))] == []


def test_every_call_has_its_letter_on_the_plan_and_in_the_key(drawn):
    done, told, page = drawn
    found = marks_of(done, told)
    texts = [text for _, text in page.labels]
    for mark in found:
        assert texts.count(mark.letter) >= 2, mark
    assert found[0].said == "Let go"
    calls = [one for one in told.calls if one.done_t_s == one.done_t_s]
    assert len([mark for mark in found if mark.letter.isupper()]) == len(calls)


def test_a_caution_and_what_the_signs_mean_are_told(drawn):
    said = " ".join(text for _, text in drawn[2].labels)
    assert "Not for navigation." in said
    assert "Capital letters: calls" in said


def test_the_three_palettes_share_one_drawing(drawn):
    page = drawn[2]
    day, night = page.svg("day", "a", "b"), page.svg("night", "a", "b")
    assert day.split("</style>")[1] == night.split("</style>")[1]
