"""The long runs; writes build/campaign.json in the form of build/bench.json.

Drawn lies held against other paths, tables against the exact path on real beds, a general
mooring library beside a third witness, mutated files over all readers, every stay
of the demo, and, where a folder of real files is named, every one of them through ``bay``
and ``weather``.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from pathlib import Path

from measures.arrivals import arrivals
from measures.chain_proofs import chain_told_in_proofs
from measures.chain_readings import chain_told
from measures.choose_run import beside_grid
from measures.commands import NOTCH
from measures.crosswinds import crosswinds
from measures.dense import dense
from measures.figure import Figure, as_json, measured, row
from measures.gust_run import gusts
from measures.library_run import library_beside
from measures.lies_run import lies, tables_against_exact
from measures.mutated import LONGEST_S, tried
from measures.odds_run import odds_beside_truths
from measures.real_files import real_numbers
from measures.real_told import place_of, real_files_of, told_words
from measures.surface import folder_held_out

_AIR = ("forecast", "wind")


def mutated_files(count: int, which: str = "all") -> Figure:
    """Mutated files over the readers: none may escape as a traceback or hang.

    ``which`` is "all", or "bay" for its kinds alone.
    """
    kept = Path("build") / "mutated"
    kept.mkdir(parents=True, exist_ok=True)
    counts = tried(count, kept, seed=1, which=which)
    escaped = sum(number for how, number in counts.items() if how not in ("read", "said no"))
    print(", ".join(f"{number} {how}" for how, number in counts.most_common()))
    name = "mutated-inputs" if which == "all" else f"mutated-{which}-inputs"
    return measured(f"{name}-{count}", escaped, "escaped", "< 1")


def _well_ended(*words: str) -> bool:
    """Whether a command ended in an answer or a clear no, in time."""
    begun = time.perf_counter()
    ended = subprocess.run(
        [sys.executable, "-m", "shorefast.app.cli", *words, "--json"],
        stdout=subprocess.DEVNULL,
        check=False,
    )
    well = ended.returncode in (0, 2, 3) and time.perf_counter() - begun < 3 * LONGEST_S
    print(f"{'well' if well else 'BADLY'} ({ended.returncode}): {' '.join(words)}", flush=True)
    return well


def demo_stays() -> Figure:
    """Every stay of the three bays, judged."""
    stays = sorted(NOTCH.parent.glob("*/stay*.toml"))
    badly = sum(not _well_ended("judge", str(stay)) for stay in stays)
    return measured("demo-stays", badly, "ended badly", "< 1")


def real_files(folder: Path) -> Figure:
    """Every file of a folder through the command it is for, told what its origin says of it."""
    badly = 0
    for kind, path in real_files_of(folder):
        if kind in _AIR:
            badly += not _well_ended("weather", str(path), "--at", place_of(path))
        else:
            # a tide file is no file of depths: that must be said, and in words
            badly += not _well_ended("bay", str(path), *told_words(path))
    return measured("real-files", badly, "ended badly", "< 1")


def main() -> int:
    """Run, print and keep; 1 if anything ended badly or falls short."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("data", nargs="?", type=Path, help="a folder of real files")
    asked.add_argument("--mutated", type=int, default=100_000, help="how many mutated files")
    asked.add_argument("--bay", type=int, default=20_000, help="how many of the bay's kinds alone")
    asked.add_argument("--lies", type=int, default=2_000, help="how many drawn lies")
    asked.add_argument("--states", type=int, default=10_000, help="how many states on real beds")
    parts = ("lies", "files", "real", "gust", "choose", "odds", "chain", "arrivals")
    asked.add_argument("--only", choices=parts, help="one part of it")
    asked.add_argument("--arrivals", type=int, default=100, help="how many arrivals a bay")
    asked.add_argument("--nights", type=int, default=40, help="how many nights, and truths of each")
    given = asked.parse_args()
    figures: list[Figure] = []
    if given.only in (None, "lies"):
        figures += [
            *lies(given.lies),
            *tables_against_exact(given.states),
            *library_beside(400),
            *dense(),
        ]
    if given.only in (None, "files"):
        figures += [mutated_files(given.mutated), mutated_files(given.bay, "bay"), demo_stays()]
    if given.only in (None, "gust"):
        figures += gusts(given.data)
    if given.only in (None, "choose"):
        figures += beside_grid()
    if given.only in (None, "odds"):
        figures += odds_beside_truths(given.nights, given.nights)
    if given.only in (None, "chain"):
        figures += [*chain_told(), *chain_told_in_proofs()]
    if given.only in (None, "arrivals"):
        figures += [*arrivals(given.arrivals), *crosswinds()]
    alone = ("gust", "choose", "odds", "chain", "arrivals")
    if given.data is not None and given.only not in alone:
        figures.append(real_files(given.data))
        figures += real_numbers(given.data)
        figures += folder_held_out(given.data)
    for figure in figures:
        print(row(figure))
    kept = Path("build") / "campaign.json"
    kept.parent.mkdir(exist_ok=True)
    kept.write_text(json.dumps(as_json(figures), indent=1) + "\n", encoding="utf-8")
    print(f"Written: {kept}")
    return 1 if any(figure.met is False for figure in figures) else 0


if __name__ == "__main__":
    sys.exit(main())
