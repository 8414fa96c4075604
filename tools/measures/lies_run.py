"""Thousands of drawn lies through every check, and real beds through tables and exact path."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, measured, told
from measures.lies import Drawn, drawn
from measures.lies_checked import (
    Bars,
    Gap,
    by_energy,
    by_root,
    by_tables,
    force_and_downhill,
    frictionless,
    own_bars,
    place,
    residual,
    same_end,
    settles,
    solved,
    table_gap,
)

from shorefast.mooring import AIR_KGPM3, FOUND, Load, Rest, rests, solve_rest
from shorefast.readers import read_stay
from shorefast.stay.rigging import Rigged, rig

_ENDS = {True: "settling all the same", False: "sheering for ever", None: "without a balance"}


@dataclass
class Found:
    """What became of the lies: gaps by check, and counts."""

    counts: Counter[str] = field(default_factory=Counter)
    left_n: list[float] = field(default_factory=list)
    left_nm: list[float] = field(default_factory=list)
    roots: list[Gap] = field(default_factory=list)
    energies: list[Gap] = field(default_factory=list)
    work_n: list[float] = field(default_factory=list)
    bars: list[Bars] = field(default_factory=list)
    tables: list[Gap] = field(default_factory=list)
    bare: list[Gap] = field(default_factory=list)
    polished: int = 0
    tables_left_n: list[float] = field(default_factory=list)
    apart: list[str] = field(default_factory=list)
    worst: list[tuple[float, str]] = field(default_factory=list)


def checked(seeds: range) -> Found:
    """Every lie of the seeds through every check that holds for it."""
    found = Found()
    for seed in seeds:
        lie = drawn(seed)
        rest = solved(lie)
        found.counts[rest.why] += 1
        if rest.why == "found":
            _at_rest(found, lie, rest)
        elif rest.why == "unknown" and lie.bed in ("level", "sloped"):
            ends = settles(lie)
            found.counts[_ENDS[ends]] += 1
            if ends:
                found.apart.append(f"lie {seed}: no rest by the exact path, but motion settles")
        _tabled(found, lie, rest)
    return found


def _at_rest(found: Found, lie: Drawn, rest: Rest) -> None:
    force_n, moment_nm = residual(lie, rest)
    found.left_n.append(force_n)
    found.left_nm.append(moment_nm)
    if lie.bed in ("level", "sloped"):
        gap = by_root(lie, rest)
        found.counts["no root"] += gap is None
        found.roots += [gap] if gap is not None else []
    bars = own_bars(lie, rest)
    found.bars += [bars] if bars is not None else []


def _tabled(found: Found, lie: Drawn, rest: Rest) -> None:
    tabled = by_tables(lie, rest)
    if not same_end(rest.why, tabled.code):
        found.apart.append(f"lie {lie.seed}: {rest.why} by the exact path, {tabled.code} by tables")
    if tabled.gap is None:
        return
    found.tables_left_n.append(tabled.residual_n)
    if tabled.gap.other_branch:
        found.apart.append(f"lie {lie.seed}: another rest {tabled.gap.shift_m:.1f} m off by tables")
    else:
        found.tables.append(tabled.gap)
        bare = tabled.bare or tabled.gap
        found.bare.append(bare)
        found.polished += tabled.polished
        found.worst.append((bare.shift_m, f"lie {lie.seed}"))


def with_energy(seeds: range, found: Found) -> None:
    """Lies that have an energy: least energy at the rest, virtual work beside it."""
    for seed in seeds:
        lie = frictionless(seed)
        rest = solve_rest(lie.scene, lie.load, lie.level_m, lie.start, arm_m=lie.arm_m)
        if rest.why != "found":
            continue
        found.energies.append(by_energy(lie, rest))
        dice = np.random.default_rng([10, seed])
        for _ in range(3):
            q = place(rest) + dice.normal(0.0, 1.0, 3) * (0.5, 0.5, 0.05)
            force, slope = force_and_downhill(lie, q)
            size_n = float(np.hypot(*force[:2]))
            gap_n = max(*np.abs(force - slope)[:2], abs(force - slope)[2] / lie.arm_m)
            found.work_n.append(float(gap_n) / max(1.0, size_n))


def _most(values: list[float]) -> float:
    return max(values, default=math.nan)


def lies(count: int) -> tuple[Figure, ...]:
    """Drawn lies held against other paths."""
    found = checked(range(count))
    with_energy(range(count // 5), found)
    print(", ".join(f"{number} {what}" for what, number in sorted(found.counts.items())))
    print("\n".join(found.apart))
    worst = sorted(found.worst, reverse=True)[:8]
    print(
        "tables alone, worst: " + ", ".join(f"{1e3 * shift:.0f} mm {name}" for shift, name in worst)
    )
    bridging = sum(bars.spans > 0 for bars in found.bars)
    print(
        f"{len(found.roots)} against a root, {len(found.energies)} against least energy, "
        f"{len(found.bars)} rodes against bars, {bridging} of them bridging"
    )
    return (*_exact_figures(found, count), *_table_figures("lies-tables", found), *_bare(found))


def _bare(found: Found) -> tuple[Figure, ...]:
    """The tables without the exact polish, and how many of the lies it was called for."""
    share = found.polished / max(1, len(found.tables))
    return (
        told("lies-tables-polished", share, "of all"),
        told("lies-tables-bare-m", _most([gap.shift_m for gap in found.bare]), "m"),
        told("lies-tables-bare-n", _most([gap.pull_n for gap in found.bare]), "N"),
        told("lies-tables-bare-past", _past(found.bare), "of all"),
    )


def _exact_figures(found: Found, count: int) -> tuple[Figure, ...]:
    roots, energies = found.roots, found.energies
    shift = [gap.shift_m for gap in roots]
    return (
        measured("lies", count, "lies", ">= 2000"),
        measured("lies-residual-n", _most(found.left_n), "N", "< 1"),
        measured("lies-residual-nm", _most(found.left_nm), "N m", "< 10"),
        measured("lies-against-root-m", _most(shift), "m", "< 0.001"),
        measured(
            "lies-against-root-deg", math.degrees(_most([g.turn_rad for g in roots])), "deg",
            "< 0.01",
        ),
        measured("lies-against-root-n", _most([g.pull_n for g in roots]), "N", "< 1"),
        measured("lies-against-energy-m", _most([g.shift_m for g in energies]), "m", "< 0.001"),
        measured("lies-virtual-work", _most(found.work_n), "of the force", "< 0.001"),
        measured("lies-against-bars", _most([b.share for b in found.bars]), "of H", "< 0.003"),
        measured("lies-against-bars-m", _most([b.shift_m for b in found.bars]), "m", "< 0.005"),
        measured("lies-unanswered", found.counts[_ENDS[True]], "lies", "< 1"),
    )  # fmt: skip


def _past(gaps: list[Gap]) -> float:
    """The share that is past what tables promise."""
    past = sum(g.shift_m > 5e-3 or g.turn_rad > math.radians(0.05) or g.pull_n > 5.0 for g in gaps)
    return past / max(1, len(gaps))


def _table_figures(name: str, found: Found) -> tuple[Figure, ...]:
    gaps = found.tables
    turn_deg = math.degrees(_most([gap.turn_rad for gap in gaps]))
    past = _past(gaps)
    return (
        measured(f"{name}-m", _most([gap.shift_m for gap in gaps]), "m", "< 0.005"),
        measured(f"{name}-deg", turn_deg, "deg", "< 0.05"),
        measured(f"{name}-n", _most([gap.pull_n for gap in gaps]), "N", "< 5"),
        measured(f"{name}-past", past, "of all", "< 1e-9"),
        measured(f"{name}-apart", len(found.apart), "states", "< 1"),
    )


def tables_against_exact(count: int) -> tuple[Figure, ...]:
    """Random states of the three bays' stays: tables beside every line solved anew."""
    stays = sorted(NOTCH.parent.glob("*/stay.toml"))
    found = Found()
    for number, path in enumerate(stays):
        before = len(found.tables)
        share = count // len(stays) + (number < count % len(stays))
        _real_bed(path.parent.name, path, share, found)
        gaps = found.tables[before:]
        shift = np.array([gap.shift_m for gap in gaps])
        pull = np.array([gap.pull_n for gap in gaps])
        print(
            f"{path.parent.name}: {len(gaps)} states, {1e3 * np.median(shift):.2f} mm and "
            f"{np.median(pull):.2f} N in the middle, {1e3 * shift.max():.1f} mm and "
            f"{pull.max():.1f} N at worst, {np.mean((shift > 5e-3) | (pull > 5.0)):.2%} past"
        )
    print("\n".join(found.apart[:20]))
    return _table_figures("tables-against-exact", found)


def _real_bed(name: str, path: Path, count: int, found: Found) -> None:
    """Winds of 0 to 40 m/s all round, water between the stay's least and greatest."""
    stay = read_stay(path)
    low_m, high_m = float(stay.water.height_m.min()), float(stay.water.height_m.max())
    rigged = rig(stay, 0.5 * (low_m + high_m))
    ready = rigged.ready(low_m, high_m)
    dice = np.random.default_rng([20260702, len(name)])
    level, speed = dice.uniform(low_m, high_m, (count, 1)), dice.uniform(0.0, 40.0, (count, 1))
    blow = dice.uniform(0.0, 2.0 * math.pi, (count, 1))
    tabled = rests(ready, level, speed, blow, ready.all_set)
    start = (float(ready.start[0]), float(ready.start[1]), float(ready.start[2]))
    for i in range(count):
        load = Load(0.0, 0.0, 0.0, float(speed[i, 0]), float(blow[i, 0]), AIR_KGPM3)
        again = partial(_exactly, rigged, load, float(level[i, 0]))
        exact = again(start)
        code, q, line = int(tabled.code[i, 0]), tabled.q[i, 0], tabled.line[i, 0]
        hour = (
            f"{name}, {speed[i, 0]:.1f} m/s from {math.degrees(blow[i, 0]):.0f}, "
            f"water {level[i, 0]:.2f} m"
        )
        if not same_end(exact.why, code):
            found.apart.append(f"{hour}: {exact.why} by the exact path, {code} by tables")
        if code != FOUND or exact.why != "found":
            continue
        gap = table_gap(exact, q, line, again)
        if gap.other_branch:
            found.apart.append(f"{hour}: another rest {gap.shift_m:.1f} m off by tables")
        else:
            found.tables.append(gap)


def _exactly(rigged: Rigged, load: Load, level_m: float, start: tuple[float, float, float]) -> Rest:
    return solve_rest(rigged.scene, load, level_m, start, arm_m=rigged.arm_m)
