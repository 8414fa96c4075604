"""The stay as a few rows of text, for a terminal."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.scene import most, of_members
from shorefast.drawing.strip import middle_bearing
from shorefast.quantities import from_si
from shorefast.wording import clock, compass, use_words

if TYPE_CHECKING:
    from shorefast.stay import Judgement

Floats = NDArray[np.float64]
_BLOCKS = " ▁▂▃▄▅▆▇█"
_POINTS = {"north": "N", "east": "E", "south": "S", "west": "W"}


def strip_text(judgement: Judgement, zone_name: str, *, accepted_share: float = 0.05) -> str:
    """The stay hour by hour in four rows: hours, wind in knots, use, past a limit.

    The use is that which all but the accepted share of the members stay under; a full
    block is all it should carry, or she touches; an exclamation mark below it says that it is past,
    a question mark that nobody knows.
    """
    hours = _whole_hours(judgement.time_utc)
    reached = np.where(judgement.touches, np.inf, judgement.greatest_use)
    use = of_members(reached, 1.0 - accepted_share)
    use = np.where(np.isnan(judgement.greatest_use).any(axis=0), np.nan, use)
    rows = {
        "hour": [clock(judgement.time_utc[at], zone_name)[:2] for at in hours],
        "from": _directions(judgement, hours),
        "wind": _winds(judgement.wind_mps, hours),
        "gust": _winds(judgement.gust_mps, hours),
        "use": [_block(float(use[at])) for at in hours],
        "past": [_mark(float(use[at])) for at in hours],
    }
    shown = [
        f"{name:<5}" + " ".join(f"{cell:>2}" for cell in cells) for name, cells in rows.items()
    ]
    least = "she may touch" if most(use) == math.inf else f"greatest use {use_words(most(use))}"
    return "\n".join([*(row.rstrip() for row in shown), least])


def _whole_hours(time_utc: NDArray[np.datetime64]) -> list[int]:
    """Entries that stand for whole hours, the first one always."""
    hour = time_utc.astype("datetime64[h]")
    return sorted({0, *np.flatnonzero(np.diff(hour) > np.timedelta64(0, "h")) + 1})


def _directions(judgement: Judgement, hours: list[int]) -> list[str]:
    turn = middle_bearing(judgement.wind_from_rad)
    said = [compass(float(turn[at])).split("-") for at in hours]
    return ["".join(_POINTS.get(word, "?") for word in words) for words in said]


def _winds(speed_mps: Floats, hours: list[int]) -> list[str]:
    speed_kn = from_si(1.0, "speed", "kn") * of_members(speed_mps, 0.5)
    return [f"{speed_kn[at]:.0f}" if math.isfinite(speed_kn[at]) else "?" for at in hours]


def _block(use: float) -> str:
    if math.isnan(use):
        return "?"
    return 2 * _BLOCKS[math.ceil(min(use, 1.0) * 8.0)]


def _mark(use: float) -> str:
    return "!" if use > 1.0 else ("?" if math.isnan(use) else "")
