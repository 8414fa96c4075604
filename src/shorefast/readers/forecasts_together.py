"""Several forecasts for one place as one: each brings its members."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding
from shorefast.errors import BadInput
from shorefast.weather import Wind, wind_at


def together(winds: Sequence[Wind]) -> Wind:
    """One wind whose members are those of all forecasts, each numbered apart.

    The times are all times of all files; between its own a forecast is read by
    straight lines, outside its own span it is unknown.

    Raises
    ------
    BadInput
        If they hold for different heights, or count gusts over different spans.
    """
    if len(winds) == 1:
        return winds[0]
    _check_alike(winds)
    times = np.unique(np.concatenate([wind.time_utc for wind in winds]))
    parts = [wind_at(wind, times) for wind in winds]
    basis = Basis(findings=(Finding("Forecasts", f"{len(winds)} files, their members together"),))
    for wind in winds:
        basis = wind.basis | basis
    return Wind(
        member=_numbered_apart([wind.member for wind in winds]),
        time_utc=times,
        wind_mps=np.concatenate([part.wind_mps for part in parts]),
        wind_from_rad=np.concatenate([part.wind_from_rad for part in parts]),
        gust_mps=np.concatenate([part.gust_mps for part in parts]),
        gust_over_s=winds[0].gust_over_s,
        height_m=winds[0].height_m,
        basis=basis,
    )


def _check_alike(winds: Sequence[Wind]) -> None:
    heights = sorted({wind.height_m for wind in winds})
    spans = sorted({wind.gust_over_s / 3600.0 for wind in winds})
    if len(heights) > 1:
        raise _unlike("winds at " + " and ".join(f"{height:g} m" for height in heights))
    if len(spans) > 1:
        raise _unlike("gusts over " + " and ".join(f"{span:g} h" for span in spans))


def _unlike(got: str) -> BadInput:
    return BadInput(
        "Forecasts", got, "one kind wanted in one stay", "Give the files in two stays, and compare."
    )


def _numbered_apart(members: Sequence[NDArray[np.int64]]) -> NDArray[np.int64]:
    apart, first = [], 0
    for numbers in members:
        apart.append(numbers - numbers.min() + first)
        first = int(apart[-1].max()) + 1
    return np.concatenate(apart)
