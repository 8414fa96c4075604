"""By day, by night and on paper: one drawing, three palettes, all of them legible."""

import re

import pytest

from shorefast.briefing import sheet_svg
from shorefast.drawing import PALETTES

DRAWN = re.compile(r"<style>.*?</style>", re.DOTALL)


def _luminance(colour):
    # WCAG 2.2, definition of relative luminance.
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one, other):
    # WCAG 2.2, definition of contrast ratio.
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_the_greatest_contrast_there_is():
    # WCAG 2.2: contrast ratios run from 1:1 to 21:1.
    assert _contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)


def test_the_geometry_is_the_same_in_every_palette(made_up):
    content = made_up()
    drawn = {DRAWN.sub("", sheet_svg(content, name, fonts_inside=False)) for name in PALETTES}
    assert len(drawn) == 1


@pytest.mark.parametrize("name", PALETTES)
@pytest.mark.parametrize("words", ["ink", "soft", "give"])
def test_words_stand_out_from_whatever_they_lie_on(name, words):
    palette = PALETTES[name]
    grounds = [palette.paper, palette.panel, palette.night, palette.land, palette.dries]
    grounds += [colour for colour in palette.water if colour != "none"]
    least = 4.5 if name != "night" else 3.0
    assert min(_contrast(getattr(palette, words), ground) for ground in grounds) >= least


def test_the_first_to_give_is_drawn_heavier_and_never_told_by_colour_alone(made_up):
    svg = sheet_svg(made_up(), "print", fonts_inside=False)
    wide = {
        name: float(re.search(rf"\.{name}{{[^}}]*stroke-width:([\d.]+)", svg).group(1))
        for name in ("ashore", "ashore-give", "curve", "give-arc", "chain", "chain-give")
    }
    assert wide["ashore-give"] > 1.5 * wide["ashore"]
    assert wide["give-arc"] > 1.5 * wide["curve"]
    assert wide["chain-give"] > 1.5 * wide["chain"]
