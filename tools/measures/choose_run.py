"""Choosing a lie: how fast lies are tried, and a grid of them beside what was chosen."""

from __future__ import annotations

import math
import resource
import time
from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from measures.commands import NOTCH
from measures.figure import Figure, measured, told

from shorefast.readers import read_stay
from shorefast.stay import Finalist, Stay, choose
from shorefast.stay.choose_ashore import UNPROVEN, ashore, stern_ends
from shorefast.stay.choose_final import finalist
from shorefast.stay.choose_lies import (
    Candidate,
    berth,
    chains,
    corner_cleats,
    let_go,
    plain_lie,
    with_line,
)
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import Hunt, Score
from shorefast.stay.choose_stages import berths, plain

HOURS = 100_000
_MOST_BETTER = 0.03
_OFF_M, _TURNED_DEG = (8.0, 14.0, 20.0, 26.0), (-30.0, -10.0, 10.0, 30.0)
_CHAIN = (1.0, 0.9, 0.8, 0.7, 0.6)


def _hunt(stay: Stay) -> Hunt:
    found = ashore(stay)
    ready = replace(stay, bay=replace(stay.bay, points=found.points), lie=None)
    return Hunt(ready, Rules(ready))


def _plain(hunt: Hunt) -> list[Candidate]:
    ends = stern_ends(hunt.stay, hunt.stay.bay.points)
    return plain(hunt, berths(hunt, ends), hunt.trier(hunt.coarse).middle_m)


def choose_speed() -> tuple[Figure, ...]:
    """100,000 candidate-hours: coarse members x times of each lie, every lie its own anchor."""
    hunt = _hunt(read_stay(NOTCH / "stay.toml"))
    made = _plain(hunt)
    hunt.scored(made[:2], hunt.coarse)
    each = hunt.trier(hunt.coarse).wind.gust_mps.size
    wanted = math.ceil(HOURS / each)
    # more than there are: the same ones with their anchors half a metre off
    for one in made[: max(0, wanted - len(made))]:
        lie = replace(one.lie, let_go_east_m=one.lie.let_go_east_m + 0.5)
        made.append(replace(one, lie=lie))
    begun = time.perf_counter()
    hunt.scored(made[:wanted], hunt.coarse)
    took_s = time.perf_counter() - begun
    print(f"{wanted} lies of {each} members x times")
    memory_gb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    return measured("choose", took_s, "s", "< 10"), told("choose-memory", memory_gb, "GB")


def _grid(hunt: Hunt) -> Iterator[Candidate | None]:
    """Two or one stern lines before every known pair or point, on a grid of all else."""
    stay = hunt.stay
    reach: dict[tuple[float, int], float] = {}
    level_m = hunt.trier(hunt.whole).middle_m
    for ends in stern_ends(stay, stay.bay.points):
        if ends.unproven:
            continue
        for off_m, turned in product(_OFF_M, _TURNED_DEG):
            at = berth(stay.boat, ends, off_m, math.radians(turned))
            if hunt.rules.of_berth(at) is not None:
                continue
            for chain_m in chains(stay.boat, _CHAIN):
                anchor = let_go(stay, at, chain_m, ends.seaward_rad, reach)
                if anchor is not None:
                    yield plain_lie(stay, at, anchor, chain_m, level_m)


def _more(hunt: Hunt, one: Candidate) -> Iterator[Candidate]:
    """The lie with one line more, and with two, from every corner to every known point."""
    stay, level_m = hunt.stay, hunt.trier(hunt.whole).middle_m
    known = [point for point in stay.bay.points if point.kind != UNPROVEN]
    leads = list(product(corner_cleats(stay.boat).values(), known))
    for i, (cleat, point) in enumerate(leads):
        first = with_line(stay, one, cleat, point, level_m, 0.97)
        if first is None or hunt.rules.of_lines(first) is not None:
            continue
        yield first
        for again, other in leads[i:]:
            second = with_line(stay, first, again, other, level_m, 0.97)
            if second is not None and hunt.rules.of_lines(second) is None:
                yield second


def brute_force(name: str) -> Figure:
    """How much better than the choice the best of a grid of lies is, as a share of its use.

    The grid knows nothing of the choice: ends, distance off, turn, chain and up to two lines
    more are steps. Longer is better than any use; a lie that stays longer counts as 1 better.
    """
    stay = read_stay(NOTCH.parent / name / "stay.toml")
    chosen = choose(replace(stay, lie=None)).finalists[0]
    hunt = _hunt(stay)
    scores = hunt.scored(hunt.kept(_grid(hunt), "no line"), hunt.coarse)
    first = sorted(scores, key=lambda one: one.order)[:12]
    more = [lie for one in first for lie in _more(hunt, one.candidate)]
    scores += hunt.scored(more, hunt.coarse)
    best = _judged(hunt, _best(hunt, scores))
    print(
        f"{name}: {hunt.tried} on the grid, best till {best.until:%d %H:%M} at {best.use:.3f};"
        f" chosen till {chosen.until:%d %H:%M} at {chosen.use:.3f}"
    )
    better = 1.0 if best.until > chosen.until else (chosen.use - best.use) / chosen.use
    if best.until < chosen.until:
        better = 0.0
    return measured(f"choose-beside-grid-{name}", max(0.0, better), "", f"< {_MOST_BETTER}")


def _judged(hunt: Hunt, scores: list[Score]) -> Finalist:
    """The best of a few, judged in full."""
    stays = [replace(hunt.stay, lie=o.candidate.lie, proof=o.candidate.proof) for o in scores]
    found = [finalist(stay) for stay in stays]
    return min(found, key=lambda one: (-one.until.timestamp(), one.use))


def _best(hunt: Hunt, scores: list[Score]) -> list[Score]:
    """The best few that no zone is under, with every member."""
    fit = [one for one in sorted(scores, key=lambda one: one.order)[:60] if one.proof_holds]
    whole = hunt.scored([one.candidate for one in fit], hunt.whole)
    whole = [one for one in whole if hunt.against(one) is None]
    return sorted(whole, key=lambda one: one.order)[:3]


def beside_grid() -> tuple[Figure, ...]:
    """The three bays of the demo."""
    return tuple(brute_force(name) for name in ("grey_notch", "stone_spur", "tres_sombras"))
