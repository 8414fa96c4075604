"""The states that decide, held against lines solved anew: which they are, and what is said."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from shorefast.basis import Finding
from shorefast.mooring import Checked, Off, Rests
from shorefast.readers import read_stay
from shorefast.stay import judge
from shorefast.stay.held import deciding, held_words

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
NONE = Rests(np.empty((0, 3)), np.empty(0, np.int64), np.empty((0, 0, 8)))
KEPT = Off(0.0, 0.0, 0.0)


def checked(shift_m, turn_rad, pull_n, polished=1):
    return Checked(NONE, 7, polished, KEPT, Off(shift_m, turn_rad, pull_n))


def test_nothing_is_said_where_the_tables_keep_their_word():
    assert held_words(None) == ()
    assert held_words(checked(4.9e-3, math.radians(0.049), 4.9)) == ()


@pytest.mark.parametrize(
    "off",
    [(0.0123, 0.0, 3.4), (0.0123, math.radians(0.06), 3.4)],
)
def test_tables_that_miss_are_told_with_how_far(off):
    assert held_words(checked(*off)) == (
        Finding(
            "tables",
            "in the 7 states that decide the tables of the lines are up to 12 mm and 3 N off "
            "the lines solved anew",
        ),
    )


def test_a_rest_that_only_the_tables_have_is_told():
    assert held_words(checked(math.inf, math.inf, math.inf, 0)) == (
        Finding(
            "tables",
            "in a state that decides the lines solved anew have no stable rest where the "
            "tables of the lines have one: she may sheer there",
        ),
    )


@pytest.mark.parametrize("stay", ["stone_spur/stay_k_night.toml", "grey_notch/stay_d.toml"])
def test_the_deciding_states_are_each_parts_greatest_use_and_the_worst_hour(stay):
    judged = judge(read_stay(DEMO / stay))
    found = judged.judgement
    where = deciding(found)
    assert found.worst in where and len(where) == len(set(where))
    for part in found.parts:
        if np.isfinite(part.use).any():
            greatest = float(np.nanmax(part.use))
            assert any(part.use[at] == greatest for at in where)
    assert not [one for one in found.basis.findings if one.where == "tables"]
