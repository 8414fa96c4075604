"""One figure: measured, held against its goal, with what ran beside it."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass

_REACHED = {">=": lambda value, limit: value >= limit, "<": lambda value, limit: value < limit}


@dataclass(frozen=True)
class Figure:
    """A row of build/bench.json.

    ``goal`` is text (">= 1500000"); ``reference`` names what ran beside it, ``ratio``
    is ours over it; ``met`` is None where nothing was measured.
    """

    name: str
    value: float | None
    unit: str
    reference: str | None
    ratio: float | None
    goal: str
    met: bool | None


def measured(
    name: str, value: float, unit: str, goal: str, beside: tuple[str, float] | None = None
) -> Figure:
    """A figure with its goal judged."""
    sign, limit = goal.split()
    met = bool(_REACHED[sign](value, float(limit)))
    if beside is None:
        return Figure(name, value, unit, None, None, goal, met)
    return Figure(name, value, unit, beside[0], value / beside[1], goal, met)


def told(name: str, value: float, unit: str) -> Figure:
    """A figure that has no goal of its own."""
    return Figure(name, value, unit, None, None, "", None)


def missing(name: str, unit: str, goal: str) -> Figure:
    """A figure nobody can measure yet: reported, not dropped."""
    return Figure(name, None, unit, None, None, goal, None)


def best_s(act: Callable[[], object], times: int = 3) -> float:
    """The shortest of a few runs. [s]"""
    least = math.inf
    for _ in range(times):
        begun = time.perf_counter()
        act()
        least = min(least, time.perf_counter() - begun)
    return least


def row(figure: Figure) -> str:
    """A figure as a line of the printed table."""
    value = "not measured" if figure.value is None else f"{figure.value:.4g} {figure.unit}"
    ratio = "" if figure.ratio is None else f"{figure.ratio:.3g} x "
    beside = f"{ratio}{figure.reference or ''}"
    word = {True: "met", False: "SHORT", None: "-"}[figure.met]
    goal = f"goal {figure.goal}" if figure.goal else ""
    return f"{word:6} {figure.name:30} {value:20} {goal:17} {beside}"


def as_json(figures: list[Figure]) -> list[dict[str, object]]:
    """Figures in the form of build/bench.json."""
    return [asdict(figure) for figure in figures]
