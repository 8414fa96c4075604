"""The picture of what a boat can do: names apart, in the page, curves where the sums are."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.boat import Hull, estimate_windage
from shorefast.drawing import able_page
from shorefast.drawing.page import Box
from shorefast.manoeuvre import AbleAsked, able
from shorefast.readers import read_boat
from shorefast.wording import CAUTIONS_SHORT

DEMO = Path(shorefast.__file__).parent / "demo"
NAMES = ("grey_notch", "stone_spur", "tres_sombras")
KNOT_MPS = 1852.0 / 3600.0
ASKED = AbleAsked(
    tuple(kn * KNOT_MPS for kn in (15, 20, 25, 30, 35, 40)),
    tuple(kn * KNOT_MPS for kn in (10, 15, 20, 25, 30, 35, 40)),
)


def odd_boats():
    """Boats a picture may be asked of: tiny, huge, all rope, little chain, bare, unknown."""
    boat = read_boat(DEMO / "grey_notch" / "boat.toml")
    chain = boat.rode[0]
    yield replace(boat, rode=(replace(chain, length_m=12.0),))
    yield replace(boat, rode=(replace(chain, length_m=250.0),))
    yield replace(boat, engine=None, lines=(), windlass=replace(boat.windlass, veer_mps=None))
    yield replace(boat, name="Halcyon of the Seven Northern Skerries and Sounds " * 3)
    warp = replace(chain, kind="rope", fibre="nylon", grade=None, diameter_m=0.014, length_m=60.0)
    yield replace(boat, rode=(replace(chain, length_m=10.0), warp), snubber=None)
    for length_m, beam_m, draught_m, kg in ((6.0, 2.2, 0.9, 1400.0), (20.0, 5.3, 2.8, 34e3)):
        hull = Hull(length_m, beam_m, draught_m, kg, 0.91 * length_m)
        yield replace(boat, hull=hull, windage=estimate_windage(hull))


BOATS = [*(read_boat(DEMO / name / "boat.toml") for name in NAMES), *odd_boats()]


@pytest.fixture(scope="module", params=range(len(BOATS)))
def found(request):
    return able(BOATS[request.param], ASKED)


@pytest.fixture(scope="module")
def page(found):
    return able_page(found, tuple(CAUTIONS_SHORT[number - 1] for number in (1, 2, 6, 9)))


def test_no_two_words_touch_and_none_leaves_the_page(page):
    whole = Box(0.0, 0.0, page.width_pt, page.height_pt)
    assert [text for box, text in page.labels if not whole.holds(box)] == []
    pairs = combinations(page.labels, 2)
    assert [(a[1], b[1]) for a, b in pairs if a[0].meets(b[0].grown(-0.5))] == []


def test_it_is_one_a4_page_and_carries_its_cautions(page):
    assert (page.width_pt, page.height_pt) == pytest.approx((595.28, 841.89))
    said = " ".join(text for _, text in page.labels)
    assert "Not for navigation." in said and "sound under the stern" in said


def test_the_three_palettes_share_one_drawing(page):
    drawn = [page.svg(name, "a", "b").split("</style>")[1] for name in ("print", "day", "night")]
    assert drawn[0] == drawn[1] == drawn[2]


def test_every_slope_with_a_curve_is_named(found, page):
    said = {text for _, text in page.labels}
    deepest = found.curve.depth_m <= 40.0
    for k, slope in enumerate(np.degrees(found.curve.slope_rad).round().tolist()):
        shown = found.curve.ahead.nominal_mps[deepest, k]
        # well inside the frame somewhere
        inside = np.isfinite(shown) & (shown < 55.0 * KNOT_MPS) & (shown > 6.0 * KNOT_MPS)
        if inside.sum() > 8:
            way = "up" if slope > 0 else "down"
            assert ("level" if slope == 0 else f"{abs(slope):.0f}° {way}") in said


def test_both_scales_agree_with_the_sums():
    """A pull's tick stands where the tick of the wind that equals it would stand."""
    found = able(BOATS[0], ASKED)
    page = able_page(found, ())
    right = {
        float(text): (box.top + box.bottom) / 2.0
        for box, text in page.labels
        if re.fullmatch(r"\d+", text) and 495.0 < box.left < 510.0 and box.bottom < 445.0
    }
    left = {
        float(text): (box.top + box.bottom) / 2.0
        for box, text in page.labels
        if re.fullmatch(r"\d+", text) and box.right < 64.0 and box.bottom < 445.0
    }
    assert len(right) > 8 and len(left) > 5
    slope, start = np.polyfit(list(right), list(right.values()), 1)
    row = found.chain[0]
    known = np.isfinite(row.pull_n)
    for kg, y in left.items():
        per = row.ahead.nominal_mps[known] / np.sqrt(row.pull_n[known])
        wind_kn = float(per[0]) * np.sqrt(kg * 9.80665) / KNOT_MPS
        assert y == pytest.approx(start + slope * wind_kn, abs=0.3)
