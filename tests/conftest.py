"""Stays of the demonstration with fewer members, so that a test takes less."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

import shorefast
from shorefast.readers import read_stay
from shorefast.stay import Stay

DEMO = Path(shorefast.__file__).parent / "demo"


@pytest.fixture(scope="session")
def cut() -> Callable[[str, int], Stay]:
    """A stay of the demonstration by its name, and how many of its first members to keep."""

    def first(name: str, members: int) -> Stay:
        stay = read_stay(DEMO / f"{name}.toml")
        wind = stay.wind
        few = replace(
            wind,
            member=wind.member[:members],
            wind_mps=wind.wind_mps[:members],
            wind_from_rad=wind.wind_from_rad[:members],
            gust_mps=wind.gust_mps[:members],
        )
        return replace(stay, wind=few)

    return first
