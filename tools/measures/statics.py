"""How fast the sums are: rests, tables, a stay, what it will stand, the sheet."""

from __future__ import annotations

import time
from dataclasses import replace
from functools import lru_cache

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, best_s, measured
from measures.library import NAME as LIBRARY
from measures.references import library_per_s, root_finder_per_s
from numpy.typing import NDArray

from shorefast.app.answers.sheet import sheet_content
from shorefast.briefing import SheetContent, sheet_pdf, sheet_svg
from shorefast.mooring import Rests, rests, solve_rest
from shorefast.readers import read_stay
from shorefast.stay import Judged, Stay, if_one_goes, judge, what_it_will_stand

Floats = NDArray[np.float64]
ONE_CORE = 1_000_000
# so many times the night's members, so that there is something to time
NIGHTS = 40


@lru_cache(maxsize=1)
def _notch() -> tuple[Stay, Judged]:
    stay = read_stay(NOTCH / "stay_d.toml")
    return stay, judge(stay)


@lru_cache(maxsize=2)
def _wandering(members: int) -> tuple[Floats, Floats, Floats]:
    """Water and a wind that wanders slowly, as one path a member."""
    hours = np.linspace(0.0, 60.0, ONE_CORE // members)
    phase = np.arange(members)[:, np.newaxis]
    wind_mps = 9.0 + 5.0 * np.sin(hours + phase)
    from_rad = 4.5 + 1.2 * np.sin(0.7 * hours + phase)
    level_m = np.broadcast_to(2.5 + 2.0 * np.sin(0.5 * hours), wind_mps.shape)
    return level_m.copy(), wind_mps, from_rad


def _batch(members: int) -> Rests:
    """Rests of the wandering wind."""
    _, judged = _notch()
    return rests(judged.ready, *_wandering(members), judged.ready.all_set)


def _night_per_s() -> float:
    """Rests a second of processor time over the notch's own night, ten minutes a step."""
    _, judged = _notch()
    told = judged.judgement
    gust_mps = told.gust_mps * judged.rigged.height_share
    level_m, wind_mps, from_rad = (
        np.tile(a, (NIGHTS, 1)) for a in (told.water_level_m, gust_mps, told.wind_from_rad)
    )
    least_s = np.inf
    for _ in range(3):
        begun = time.process_time()
        rests(judged.ready, level_m, wind_mps, from_rad, judged.ready.all_set, judged.extra)
        least_s = min(least_s, time.process_time() - begun)
    return float(level_m.size / least_s)


def _exact(count: int) -> None:
    _, judged = _notch()
    q = judged.judgement.rest
    start = (float(q.east_m[0, 0]), float(q.north_m[0, 0]), float(q.heading_rad[0, 0]))
    for _ in range(count):
        solve_rest(judged.rigged.scene, judged.extra, 2.0, start)


def equilibria() -> tuple[Figure, ...]:
    """Rests a second, three lines on the notch's bed, one core; two cores over one.

    Beside them what others reach with three lines in this process.
    """
    for members in (1, 2):
        _batch(members)
    exact_per_s = 50 / best_s(lambda: _exact(50), 1)
    one_s, two_s = best_s(lambda: _batch(1)), best_s(lambda: _batch(2))
    ours_per_s, goal = ONE_CORE / one_s, ">= 1500000"
    root_per_s = root_finder_per_s()
    return (
        beside_library(measured("equilibria-per-second", ours_per_s, "/s", goal)),
        measured(
            "equilibria-beside-root-finder", ours_per_s, "/s", goal,
            (f"scipy.optimize.root on numpy tables ({root_per_s:.0f}/s)", root_per_s),
        ),
        measured(
            "equilibria-beside-exact", ours_per_s, "/s", goal,
            (f"one exact solve after another ({exact_per_s:.0f}/s)", exact_per_s),
        ),
        measured("equilibria-of-a-night", _night_per_s(), "/s", goal),
        measured("two-cores", one_s / two_s, "x", ">= 1.8"),
    )  # fmt: skip


def beside_library(ours: Figure) -> Figure:
    """Our rests a second beside the general library's; not judged where it is missing."""
    its_per_s = library_per_s()
    if its_per_s is None or ours.value is None:
        return replace(ours, reference=f"{LIBRARY}: not installed", ratio=None, met=None)
    return replace(ours, reference=f"{LIBRARY} ({its_per_s:.0f}/s)", ratio=ours.value / its_per_s)


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
    drawn_s = best_s(lambda: sheet_svg(_content(), "day"), 10)
    printed_s = best_s(lambda: sheet_pdf(_content()))
    return (
        measured("sheet-svg", drawn_s, "s", "< 0.02"),
        measured("sheet-pdf", printed_s, "s", "< 0.15"),
    )
