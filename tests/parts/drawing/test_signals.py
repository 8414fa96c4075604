"""Signals by arm: told apart at 12 mm, dry and wet, from behind and from the front."""

import itertools

import numpy as np
import pypdfium2
import pytest

from shorefast.briefing.cards.printed import sheet_pdf
from shorefast.drawing import SIGNALS, Box, Page, draw_signal, signal_width_pt
from shorefast.wording import LANGUAGES, card_words

# 12 mm in points of 1/72 inch
HIGH_PT = 34.02
WIDE_PT = signal_width_pt(HIGH_PT)


def _seen(name, seen, high_pt=HIGH_PT):
    """One figure on white as an eye or a lens has it: 1 is black. Shape (row, column)."""
    page = Page(WIDE_PT + 4.0, high_pt + 4.0)
    page.box(Box(0.0, 0.0, page.width_pt, page.height_pt), "paper")
    draw_signal(page, name, (2.0, 2.0), high_pt, seen)
    document = pypdfium2.PdfDocument(sheet_pdf(page, [], name))
    drawn = document[0]
    picture = np.asarray(drawn.render(scale=4.0).to_pil(), float)
    drawn.close()
    document.close()
    return 1.0 - picture / 255.0


@pytest.fixture(scope="module")
def pictures():
    return {(name, seen): _seen(name, seen) for name in SIGNALS for seen in ("behind", "front")}


def _blurred(picture, by_px):
    """Smeared by water on the paper or an eye without glasses: means over a square."""
    rows = np.cumsum(np.pad(picture, ((by_px, 0), (0, 0))), axis=0)
    rows = (rows[by_px:] - rows[:-by_px]) / by_px
    both = np.cumsum(np.pad(rows, ((0, 0), (by_px, 0))), axis=1)
    return (both[:, by_px:] - both[:, :-by_px]) / by_px


def _apart(one, two):
    """Ink that is in one and not in the other, as a share of what both have."""
    return float(np.abs(one - two).sum() / (one + two).sum())


def test_a_figure_is_black_on_white_and_nothing_else(pictures):
    for picture in pictures.values():
        assert np.ptp(picture, axis=2).max() == 0.0
        assert picture.max() > 0.99 and picture.min() < 0.01


def test_no_figure_reaches_out_of_its_paper(pictures):
    for picture in pictures.values():
        edge = np.concatenate([picture[:6].ravel(), picture[-6:].ravel()])
        sides = np.concatenate([picture[:, :6].ravel(), picture[:, -6:].ravel()])
        assert max(edge.max(), sides.max()) < 0.01


@pytest.mark.parametrize("seen", ["behind", "front"])
@pytest.mark.parametrize("smeared_mm", [0.3, 1.0])
def test_any_two_are_told_apart_though_the_card_is_wet(pictures, seen, smeared_mm):
    # 4 pixels a point of 1/72 inch: a millimetre is 11.3 pixels
    by_px = round(smeared_mm * 11.34)
    flat = {name: _blurred(pictures[name, seen][..., 0], by_px) for name in SIGNALS}
    # head and trunk are in all of them and tell nothing
    trunk = np.minimum.reduce(list(flat.values()))
    flat = {name: picture - trunk for name, picture in flat.items()}
    apart = {
        (one, two): _apart(flat[one], flat[two]) for one, two in itertools.combinations(SIGNALS, 2)
    }
    nearest = min(apart, key=apart.get)
    # a quarter of the ink of the arms is about a forearm: our choice
    assert apart[nearest] > 0.25, nearest


def test_what_points_to_starboard_from_behind_points_to_the_other_hand_from_the_front(pictures):
    def leans(name, seen):
        dark = pictures[name, seen][..., 0]
        return float((dark * np.linspace(-1.0, 1.0, dark.shape[1])).sum())

    assert leans("leads_starboard", "behind") > 0.0 > leans("leads_starboard", "front")
    assert leans("leads_port", "behind") < 0.0 < leans("leads_port", "front")


def test_a_face_is_white_and_a_back_is_black(pictures):
    def head(seen):
        dark = pictures["hold", seen][..., 0]
        high, wide = dark.shape
        return dark[int(0.40 * high), int(0.5 * wide)]

    assert head("behind") > 0.9 > 0.1 > head("front")


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_signal_has_its_spoken_twin_and_no_two_share_one(language):
    words = card_words(language)
    calls = [words.say(f"signal.{name}.call") for name in SIGNALS]
    assert all(calls) and len(set(calls)) == len(SIGNALS)
    assert all(words.say(f"signal.{name}.does") for name in SIGNALS)


def test_the_sign_of_distress_is_none_of_them():
    # COLREGs annex IV, 1 (k) (from memory): arms outstretched to each side, raised and lowered
    assert not {"arms_out", "arms_raised_and_lowered"} & set(SIGNALS)
