"""A part's limit put beside its load, and a source in the words people know it by."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.quantities import STANDARD_GRAVITY_MPS2
from shorefast.stay.answer import PartUse

Floats = NDArray[np.float64]

MOST_USE = 999.0
"""What a use is cut off at: a limit of nothing would make it endless, which is no number."""
_TOLD = {
    "iso-4565": "ISO 4565",
    "chain-trade": "trade values, from memory",
    "us-3-strand": "US 3-strand table",
    "mooring-line-properties": "a regression of ships' ropes",
    "iso-15084": "ISO 15084",
    "en-1492": "EN 1492",
}


class Limit(NamedTuple):
    """What a part should carry, who says so, and what parts it. [N]"""

    limit_n: Floats | float
    source: str
    breaks_n: float = math.nan


def source_words(source: str) -> str:
    """A source in the words people know it by."""
    for key, words in _TOLD.items():
        source = source.replace(key, words)
    return source


def kilograms_of(load_n: float) -> str:
    """A load as kilograms of pull, two digits of it: what the parts' sources are told in."""
    if not math.isfinite(load_n):
        return "an unknown load"
    return f"{float(f'{load_n / STANDARD_GRAVITY_MPS2:.2g}'):.0f} kg"


def greatest_n(load_n: Floats) -> float:
    """The greatest load known over all members and hours; NaN where none is. [N]"""
    known = load_n[np.isfinite(load_n)]
    return float(known.max()) if known.size else math.nan


def part_use(name: str, kind: str, carries: Limit, load_n: Floats) -> PartUse:
    """A part with its load, its limit and the one over the other, NaN where unknown.

    The use is ``MOST_USE`` at most: an anchor pulled up steeply is trusted with nothing.
    """
    limit = np.broadcast_to(np.asarray(carries.limit_n, float), load_n.shape)
    with np.errstate(divide="ignore", invalid="ignore"):
        use = np.where(load_n == 0.0, 0.0 * limit, np.minimum(load_n / limit, MOST_USE))
    return PartUse(name, kind, limit, carries.source, load_n, use, carries.breaks_n)
