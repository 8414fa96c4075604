"""``shorefast stand``: what it will stand."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from shorefast.app.answer import Answer
from shorefast.app.answers.noticed import with_noticed
from shorefast.readers import read_stay
from shorefast.stay import Stands, judge, what_it_will_stand
from shorefast.wording import bearing, knots, metres

_EVERY = 3


def _cell(stands: Stands, level: int, direction: int) -> str:
    limit = float(stands.limit_mps[level, direction])
    first = stands.first_to_give[level][direction]
    if np.isfinite(limit):
        return f"{knots(limit)} {first}"
    return f"nothing up to {knots(stands.sought_to_mps)}" if first is None else first


def _text(stands: Stands) -> str:
    """A row a direction, a column a water level, each as wide as its longest cell."""
    columns = [[f"water {metres(float(level))}"] for level in stands.water_level_m]
    asked = range(0, stands.wind_from_rad.size, _EVERY)
    for i, column in enumerate(columns):
        column.extend(_cell(stands, i, j) for j in asked)
    wide = [max(map(len, column)) for column in columns]
    from_words = ["from", *(bearing(float(stands.wind_from_rad[j])) for j in asked)]
    rows = [
        "   ".join([f"{word:4}", *(f"{c:{w}}" for c, w in zip(cells, wide, strict=True))])
        for word, *cells in zip(from_words, *columns, strict=True)
    ]
    head = "Steady wind at 10 m that puts something past its limit:"
    return "\n".join([head, *(row.rstrip() for row in rows)])


def answer_stand(stay_path: Path) -> Answer:
    """What the stay's lie will stand, by direction and water level.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``.
    """
    stay = read_stay(stay_path)
    stands = what_it_will_stand(stay, judge(stay))
    keys = {
        "water_level_m": stands.water_level_m,
        "wind_from_rad": stands.wind_from_rad,
        "limit_mps": stands.limit_mps,
        "first_to_give": [list(row) for row in stands.first_to_give],
    }
    return Answer("stand", keys, stands.basis, with_noticed(_text(stands), stands.basis))
