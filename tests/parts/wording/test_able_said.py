"""How what a boat can do is said: spans of wind, slopes, and what is not known or not so."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

import shorefast
from shorefast.manoeuvre import AbleAsked, able
from shorefast.readers import read_boat
from shorefast.wording import (
    able_notes,
    able_subtitle,
    able_words,
    knots_tenths,
    leeway_rows,
    needed_rows,
    pull_rows,
    slope_words,
    span_rows,
    wind_span,
    windlass_words,
)

DEMO = Path(shorefast.__file__).parent / "demo"
NOTCH = read_boat(DEMO / "grey_notch" / "boat.toml")
KNOT_MPS = 1852.0 / 3600.0
ASKED = AbleAsked((15 * KNOT_MPS, 40 * KNOT_MPS), (20 * KNOT_MPS, 30 * KNOT_MPS))
FOUND = able(NOTCH, ASKED)


@pytest.mark.parametrize(
    ("slope_deg", "said"), [(0.0, "level"), (5.0, "5° up"), (25.0, "25° up"), (-10.0, "10° down")]
)
def test_a_slope_is_said_by_its_degrees_and_its_way(slope_deg, said):
    assert slope_words(math.radians(slope_deg)) == said


@pytest.mark.parametrize(
    ("low_kn", "high_kn", "said"),
    [
        (34.2, 40.8, "34-41 kn"),
        (3.1, 3.4, "3 kn"),
        (54.4, 61.0, "54+ kn"),
        (71.0, 90.0, "60+ kn"),
        (math.nan, math.nan, "unknown"),
    ],
)
def test_a_span_of_winds_is_whole_knots_and_ends_at_sixty(low_kn, high_kn, said):
    assert wind_span(low_kn * KNOT_MPS, high_kn * KNOT_MPS) == said


def test_slow_speeds_are_said_in_tenths():
    assert knots_tenths(0.45) == "0.9 kn"
    assert knots_tenths(math.nan) == "unknown"


def test_of_a_boat_with_little_chain_it_is_said_that_it_does_not_do():
    short = able(replace(NOTCH, rode=(replace(NOTCH.rode[0], length_m=12.0),)), ASKED)
    said = able_words(short)
    assert said.startswith(
        "Salt Thistle, 12 m of rode aboard, 5 m of it kept inboard: in 20 m of water on a level"
        " bed her chain cannot hold the shank down."
    )
    assert "which lifts the shank in any depth on a level bed." in said
    assert {cell for row in pull_rows(short.chain[0])[1:] for cell in row[1:]} == {"too deep"}
    assert needed_rows(short, 0)[-1][1:] == ["nowhere", "nowhere"]
    assert "It lifts the shank in any depth." in dict(able_notes(short))["Engine"]


def test_the_cell_of_a_length_cut_short_by_the_shore_is_marked():
    rows = pull_rows(FOUND.chain[0])
    words = [word for row in FOUND.chain[0].why for word in row]
    cells = [cell for row in rows[1:] for cell in row[1:]]
    assert rows[0][:3] == ["depth", "level", "5° up"]
    for cell, why in zip(cells, words, strict=True):
        assert cell.endswith("*") == (why == "less out")
        assert (cell == why) == (why in ("too deep", "no room"))


def test_a_pull_astern_that_at_its_most_lifts_it_everywhere_is_said_as_nowhere_to():
    engine = FOUND.engine
    assert engine is not None
    deep = engine.keeps_down_m.copy()
    # as reckoned, at the least pull, at the most; the level bed stands first
    deep[0] = (6.0, 8.0, math.nan)
    said = able_words(replace(FOUND, engine=replace(engine, keeps_down_m=deep)))
    assert "lifts the shank in more than 6.0 m (nowhere to 8.0 m)." in said


def test_windlass_and_drift_are_said_with_their_units():
    said = windlass_words(FOUND)
    assert said[0].startswith("It pulls 710 kg, which lifts anchor and chain hanging straight down")
    assert said[1] == "Heaving 75 m takes 5 min."
    assert said[2].endswith("go astern no faster than 0.9 kn, as fast as it veers.")
    assert leeway_rows(FOUND)[1] == [
        "20 kn", "0.9 kn", "0.8 to 1.1 kn", "1.0, give or take 0.4 kn",
    ]  # fmt: skip


def test_lines_are_said_by_how_they_are_led():
    rows = span_rows(FOUND)
    assert [row[0] for row in rows[1:]] == ["straight astern", "two, 30° out", "two, 45° out"]
    assert rows[1][1:] == ["51 m", "26 m", "port stern line, 60 m"]


def test_the_picture_says_what_it_rests_on():
    assert able_subtitle(FOUND) == (
        "80 m of rode, up to 75 m of it out; roller 1.5 m above the water; plane bed, steady"
        " pull, no swell"
    )
    assert [title for title, _ in able_notes(FOUND)] == ["Curves", "Engine", "Windlass", "Adrift"]
