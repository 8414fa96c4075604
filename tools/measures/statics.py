"""How fast the sums are: rests, tables, a stay, what it will stand, the sheet."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, best_s, measured

from shorefast.app.answers.sheet import sheet_content
from shorefast.briefing import SheetContent, sheet_pdf, sheet_svg
from shorefast.mooring import Rests, rests, solve_rest
from shorefast.readers import read_stay
from shorefast.stay import Judged, Stay, if_one_goes, judge, what_it_will_stand

ONE_CORE = 200_000


@lru_cache(maxsize=1)
def _notch() -> tuple[Stay, Judged]:
    stay = read_stay(NOTCH / "stay_d.toml")
    return stay, judge(stay)


def _batch(members: int) -> Rests:
    """Rests of a wind that wanders slowly, as one path a member."""
    _, judged = _notch()
    hours = np.linspace(0.0, 60.0, ONE_CORE // members)
    phase = np.arange(members)[:, np.newaxis]
    wind_mps = 9.0 + 5.0 * np.sin(hours + phase)
    from_rad = 4.5 + 1.2 * np.sin(0.7 * hours + phase)
    level_m = np.broadcast_to(2.5 + 2.0 * np.sin(0.5 * hours), wind_mps.shape)
    return rests(judged.ready, level_m, wind_mps, from_rad, judged.ready.all_set)


def _exact(count: int) -> None:
    _, judged = _notch()
    q = judged.judgement.rest
    start = (float(q.east_m[0, 0]), float(q.north_m[0, 0]), float(q.heading_rad[0, 0]))
    for _ in range(count):
        solve_rest(judged.rigged.scene, judged.extra, 2.0, start)


def equilibria() -> tuple[Figure, Figure]:
    """Rests a second, three lines on the notch's bed, one core; and two cores over one."""
    _batch(1)
    exact_per_s = 50 / best_s(lambda: _exact(50), 1)
    one_s, two_s = best_s(lambda: _batch(1)), best_s(lambda: _batch(2))
    goal, beside = ">= 1500000", ("one exact solve after another", exact_per_s)
    speed = measured("equilibria-per-second", ONE_CORE / one_s, "/s", goal, beside)
    gain = measured("two-cores", one_s / two_s, "x", ">= 1.8")
    return speed, gain


def tables() -> Figure:
    """The line tables of one lie."""
    _, judged = _notch()
    value_s = best_s(lambda: judged.rigged.ready(0.4, 4.7))
    return measured("tables", value_s, "s", "< 0.3")


def stay_and_stand() -> tuple[Figure, Figure]:
    """A night of 51 members with every single failure; every direction's limit wind."""
    stay, judged = _notch()
    if_one_goes(stay, judged)
    night_s = best_s(lambda: if_one_goes(stay, judge(stay)))
    what_it_will_stand(stay, judged)
    stand_s = best_s(lambda: what_it_will_stand(stay, judged))
    return measured("stay", night_s, "s", "< 1"), measured("stand", stand_s, "s", "< 0.15")


@lru_cache(maxsize=1)
def _content() -> SheetContent:
    return sheet_content(_notch()[0])


def sheets() -> tuple[Figure, Figure]:
    """The sheet drawn, and printed."""
    sheet_pdf(_content())
    drawn_s = best_s(lambda: sheet_svg(_content(), "day"))
    printed_s = best_s(lambda: sheet_pdf(_content()))
    return (
        measured("sheet-svg", drawn_s, "s", "< 0.02"),
        measured("sheet-pdf", printed_s, "s", "< 0.15"),
    )
