"""The picture of the ground swept: labels apart and in the page, rules inside their ground."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString, box

from shorefast.bay import Zone
from shorefast.drawing import ground_swept_page
from shorefast.drawing.ground_swept import _meadow, ruled
from shorefast.drawing.page import Box
from shorefast.drawing.scene import make_scene
from shorefast.readers import read_stay
from shorefast.stay import ground_swept, judge
from shorefast.wording import CAUTIONS_SHORT, ground_words

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module", params=["grey_notch", "stone_spur", "tres_sombras"])
def page(request):
    stay = read_stay(DEMO / request.param / "stay.toml")
    judged = judge(stay)
    found = ground_swept(stay, judged)
    words = (ground_words(found), CAUTIONS_SHORT[0])
    return ground_swept_page(stay, judged.judgement, found, words)


def test_no_two_labels_touch_and_none_leaves_the_page(page):
    whole = Box(0.0, 0.0, page.width_pt, page.height_pt)
    assert [text for box, text in page.labels if not whole.holds(box)] == []
    words = [(box, text) for box, text in page.labels if not text.isdigit()]
    assert [(a[1], b[1]) for a, b in combinations(words, 2) if a[0].meets(b[0].grown(-0.5))] == []


def test_both_lies_what_the_rules_mean_and_a_caution_are_told(page):
    said = " ".join(text for _, text in page.labels)
    assert "Lying to lines: about" in said and "Swinging free," in said
    assert "Ruled: swept in the forecast's first member." in said
    assert "Not for navigation." in said


def test_the_three_palettes_share_one_drawing(page):
    day, night = page.svg("day", "a", "b"), page.svg("night", "a", "b")
    assert day.split("</style>")[1] == night.split("</style>")[1]


def test_rules_stand_evenly_and_stay_inside_what_is_ruled():
    shape = box(10.0, 20.0, 110.0, 60.0).difference(box(40.0, 30.0, 60.0, 50.0))
    rows = [
        LineString(np.array(row.split(), float).reshape(-1, 2))
        for row in re.findall(r"M([\d. L]+)", ruled(shape, 60.0, 4.0).replace("L", " "))
    ]
    assert all(row.within(shape.buffer(0.1)) for row in rows)
    # rules so far apart cover a share of one over that distance of the ground
    assert sum(row.length for row in rows) * 4.0 == pytest.approx(shape.area, rel=0.03)


def test_what_is_ruled_as_seagrass_is_what_counts_as_seagrass():
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    scene, swept = make_scene(stay, judge(stay).judgement), box(-10.0, -10.0, 10.0, 10.0)
    meadow = Zone("seagrass", "meadow", box(-50.0, -50.0, 50.0, 0.0), "made up")
    patch = Zone("sand", "patch", box(-5.0, -5.0, 5.0, 0.0), "made up")
    for bottom, zones, area_m2 in (
        ("sand", (), 0.0),
        ("sand", (meadow,), 200.0),
        ("sand", (meadow, patch), 150.0),
        ("seagrass", (), 400.0),
        ("seagrass", (patch,), 350.0),
    ):
        bay = replace(stay.bay, zones=zones, bottom=bottom)
        there = replace(scene, stay=replace(stay, bay=bay))
        assert _meadow(there, swept).area == pytest.approx(area_m2)
