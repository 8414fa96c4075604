"""The chart-like plan: labels apart and in the page, unknown drawn and said."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from shorefast.drawing import chart_page
from shorefast.drawing.page import Box
from shorefast.readers import read_bay

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module", params=["grey_notch", "stone_spur", "tres_sombras"])
def bay(request):
    return read_bay(DEMO / request.param / "bay")


def test_no_two_labels_touch_and_none_leaves_the_page(bay):
    page = chart_page(bay, ("You decide. Not for navigation.",))
    whole = Box(0.0, 0.0, page.width_pt, page.height_pt)
    assert [text for box, text in page.labels if not whole.holds(box)] == []
    # soundings with lowered tenths are two labels of one figure
    words = [(box, text) for box, text in page.labels if not text.isdigit()]
    assert [(a[1], b[1]) for a, b in combinations(words, 2) if a[0].meets(b[0].grown(-0.5))] == []


def test_points_zones_datum_doubt_and_cautions_are_on_it(bay):
    page = chart_page(bay, ("You decide. Not for navigation.",))
    said = " ".join(text for _, text in page.labels)
    assert all(point.name in said for point in bay.points)
    assert all(zone.kind in said for zone in bay.zones)
    assert "chart datum: lowest astronomical tide" in said
    assert "one standard deviation" in said
    assert "Not for navigation." in said
    assert "Short dashes: not sounded." in said


def test_a_bed_nobody_sounded_is_said_to_be_unknown(bay):
    grid = bay.surface.grid
    nothing = np.full_like(grid.level_m, np.nan)
    surface = replace(bay.surface, grid=grid._replace(level_m=nothing, deviation_m=nothing))
    page = chart_page(replace(bay, surface=surface), ())
    said = " ".join(text for _, text in page.labels)
    assert "The bed is unknown all over this plan" in said
    assert 'class="bare"' in page.body()


def test_the_three_palettes_share_one_drawing(bay):
    page = chart_page(bay, ())
    day, night = page.svg("day", "a", "b"), page.svg("night", "a", "b")
    assert day.split("</style>")[1] == night.split("</style>")[1]


def test_a_zone_too_long_for_the_foot_is_shortened_and_the_rest_counted(bay):
    zone = replace(bay.zones[0], source="the harbour office, " * 60)
    page = chart_page(replace(bay, zones=(zone, zone, zone)), ("You decide.",))
    said = " ".join(text for _, text in page.labels)
    assert "says the harbour office, the harbour office" in said
    assert "And 2 more." in said
    assert "You decide." in said
