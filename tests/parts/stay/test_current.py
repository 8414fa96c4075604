"""A current on the lie: its push, and what cannot be reckoned with."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import shorefast
from shorefast.errors import BadInput
from shorefast.readers import read_stay
from shorefast.stay import Current, judge

DEMO = Path(shorefast.__file__).parent / "demo"


@pytest.fixture(scope="module")
def calm_evening():
    stay = read_stay(DEMO / "grey_notch" / "stay.toml")
    return replace(stay, until_utc=stay.from_utc.replace(hour=21))


def most_on_the_anchor(stay):
    return float(np.nanmax(judge(stay).judgement.parts[0].load_n))


def test_a_current_astern_of_the_chain_loads_the_anchor(calm_evening):
    away = replace(calm_evening, current=Current(0.6, calm_evening.lie.heading_rad + np.pi))
    assert most_on_the_anchor(away) > most_on_the_anchor(calm_evening) + 20.0


def test_no_current_is_as_no_table(calm_evening):
    still = replace(calm_evening, current=Current(0.0, 1.0))
    assert most_on_the_anchor(still) == most_on_the_anchor(calm_evening)


def test_a_river_is_refused(calm_evening):
    with pytest.raises(BadInput) as refused:
        judge(replace(calm_evening, current=Current(9.0, 1.0)))
    assert refused.value.sentence == (
        "[current] speed: 9 m/s, at most 5 m/s can be reckoned with. Correct it."
    )
