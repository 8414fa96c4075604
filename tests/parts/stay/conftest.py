"""One of the demonstration's stays, its ensemble cut to three members, to build others from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from shorefast.readers import read_stay
from shorefast.stay import Judged, Stay, judge

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"


@pytest.fixture(scope="session")
def k_day() -> Stay:
    """Behind the spur by day: a forecast member and two more."""
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    wind = stay.wind
    few = replace(
        wind,
        member=wind.member[:3],
        wind_mps=wind.wind_mps[:3],
        wind_from_rad=wind.wind_from_rad[:3],
        gust_mps=wind.gust_mps[:3],
    )
    return replace(stay, wind=few)


@pytest.fixture(scope="session")
def k_judged(k_day: Stay) -> Judged:
    """That stay judged."""
    return judge(k_day)
