"""Measure the figures of docs/performance.md; writes build/bench.json.

Each figure stands beside a reference that ran in the same process, since absolute
times on a shared machine wander. What falls short is printed as short.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from measures.choose_run import choose_speed
from measures.commands import judge_cold, start_help
from measures.figure import Figure, as_json, missing, row
from measures.files import far_fetch, forecast_read, surface_20k
from measures.gust_run import speed as gust_speed
from measures.handling import handling_speed
from measures.live import live_soundings
from measures.odds import failures_of_a_night, odds_of_a_night
from measures.statics import equilibria, sheets, stay_and_stand, tables
from measures.surface import live_surface, profile_along, surface_1m, surface_held_out

MEASURES: tuple[Callable[[], Figure | Sequence[Figure]], ...] = (
    start_help,
    surface_20k,
    surface_1m,
    live_surface,
    profile_along,
    surface_held_out,
    forecast_read,
    far_fetch,
    equilibria,
    tables,
    stay_and_stand,
    sheets,
    live_soundings,
    judge_cold,
    odds_of_a_night,
    failures_of_a_night,
    gust_speed,
    choose_speed,
    handling_speed,
)
LATER = (
    ("page-wind", "s", "< 0.06"),
    ("page-lie", "s", "< 0.4"),
    ("coast-sieve", "berths/s", ">= 5000"),
    ("coast-judged", "berths/s", ">= 25"),
    ("watch-replay", "x", ">= 200"),
)


def main() -> int:
    """Measure, print and keep; 0 whatever the figures say."""
    figures: list[Figure] = []
    for measure in MEASURES:
        found = measure()
        for figure in (found,) if isinstance(found, Figure) else found:
            print(row(figure), flush=True)
            figures.append(figure)
    for name, unit, goal in LATER:
        figures.append(missing(name, unit, goal))
        print(row(figures[-1]))
    kept = Path("build") / "bench.json"
    kept.parent.mkdir(exist_ok=True)
    kept.write_text(json.dumps(as_json(figures), indent=1) + "\n", encoding="utf-8")
    print(f"Written: {kept}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
