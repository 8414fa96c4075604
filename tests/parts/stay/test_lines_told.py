"""What the worst hour says of her lines: crossed, bar-tight, and where else she could lie."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from shorefast.readers import read_stay
from shorefast.stay import judge

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="module")
def stay():
    return read_stay(DEMO / "stone_spur" / "stay_k_night.toml")


def said(judged, where):
    return [one.said for one in judged.judgement.basis.findings if one.where == where]


def test_lines_led_to_their_own_sides_are_not_said_to_cross(stay):
    assert said(judge(stay), "Lines") == []


def test_stern_lines_led_across_each_other_are_said_to_chafe(stay):
    lines = stay.lie.lines
    swapped = (
        dataclasses.replace(lines[0], cleat=lines[1].cleat),
        dataclasses.replace(lines[1], cleat=lines[0].cleat),
    )
    crossed = dataclasses.replace(stay, lie=dataclasses.replace(stay.lie, lines=swapped))
    (told,) = said(judge(crossed), "Lines")
    assert "port stern line" in told and "starboard stern line" in told
    assert told.endswith(" cross: they chafe where they touch")
