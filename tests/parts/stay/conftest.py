"""One of the demonstration's stays, its ensemble cut to three members, to build others from."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from shorefast.stay import Judged, Stay, judge


@pytest.fixture(scope="session")
def k_day(cut: Callable[[str, int], Stay]) -> Stay:
    """Behind the spur by day: a forecast member and two more."""
    return cut("stone_spur/stay_k_day", 3)


@pytest.fixture(scope="session")
def k_judged(k_day: Stay) -> Judged:
    """That stay judged."""
    return judge(k_day)
