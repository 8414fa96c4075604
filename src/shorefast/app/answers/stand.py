"""``shorefast stand``: what it will stand."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from shorefast.app.answer import Answer
from shorefast.readers import read_stay
from shorefast.stay import Stands, judge, what_it_will_stand
from shorefast.wording import bearing, knots, metres

_EVERY = 3


def _text(stands: Stands) -> str:
    head = "  ".join(f"water {metres(float(level)):>6}{'':22}" for level in stands.water_level_m)
    rows = ["Steady wind at 10 m that puts something past its limit:", f"from   {head}"]
    for j in range(0, stands.wind_from_rad.size, _EVERY):
        cells = []
        for i in range(stands.water_level_m.size):
            limit, first = float(stands.limit_mps[i, j]), stands.first_to_give[i][j]
            said = (
                f"{knots(limit)} {first}"
                if np.isfinite(limit)
                else (f"nothing up to {knots(stands.sought_to_mps)}")
            )
            cells.append(f"{said[:34]:34}")
        rows.append(f"{bearing(float(stands.wind_from_rad[j]))}    " + "  ".join(cells))
    return "\n".join(row.rstrip() for row in rows)


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
    return Answer("stand", keys, stands.basis, _text(stands))
