"""Her response to gusts: speed, another path, real records, and where a factor holds."""

from __future__ import annotations

import math
import resource
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, measured, told
from measures.lies import Drawn, Floats, drawn
from measures.own_motion import moved as moved_by_integrator

from shorefast.mooring import (
    FOUND,
    GustRuns,
    Moved,
    Moving,
    Timing,
    Winds,
    moved_by_gusts,
    moving_of,
    rests,
    solve_rest,
    underbody,
)
from shorefast.readers import read_stay, read_wind_record
from shorefast.stay import Judged, Stay, judge
from shorefast.stay.parts import parts_in_use
from shorefast.weather import GustShapes, drawn_shapes, fitted, shapes_of

_HOUR_S, _LEAD_S = 3600.0, 60.0
DEMO = NOTCH.parent
LIES = ("grey_notch/stay.toml", "stone_spur/stay_k_day.toml", "tres_sombras/stay.toml")
_REAL = (
    ("wind/island_azores_1min_24h.cdf", 3600.0),
    ("wind/ship_antarctic_1min_24h_wind.nc", 3600.0),
    ("nmea0183/moored_28min_then_out.txt", 600.0),
)


@dataclass(frozen=True)
class Hour:
    """One hour of a stay: water level [m], mean and gust at 10 m [m/s], where from [rad]."""

    level_m: float
    mean_mps: float
    gust_mps: float
    from_rad: float


def judged_of(name: str) -> tuple[Stay, Judged]:
    """A demo stay and its judgement."""
    stay = read_stay(DEMO / name)
    return stay, judge(stay)


def hour_at(judged: Judged, at: tuple[int, int]) -> Hour:
    """What blows at one member and time of a judged stay."""
    j = judged.judgement
    values = (j.water_level_m[at], j.wind_mps[at], j.gust_mps[at], j.wind_from_rad[at])
    return Hour(*(float(value) for value in values))


def moved_in(
    stay: Stay, judged: Judged, hour: Hour, shapes: GustShapes, timing: Timing | None = None
) -> Moved:
    """The boat of a judged stay through shapes fitted to an hour."""
    share, count = judged.rigged.height_share, shapes.shape.shape[0]
    size = fitted(shapes, hour.mean_mps, hour.gust_mps)
    one, still = np.ones(count), np.ones((1, 1))
    start = rests(
        judged.ready, hour.level_m * still, hour.mean_mps * share * still,
        hour.from_rad * still, judged.ready.all_set, judged.extra,
    ).q[0, 0]  # fmt: skip
    runs = GustRuns(
        np.arange(count), hour.level_m * one, hour.from_rad * one, size.centre_mps * share,
        size.spread_mps * share, 0.0 * one, np.tile(start, (count, 1)),
    )  # fmt: skip
    moving = moving_of(underbody(stay.boat.hull, stay.boat.engine))
    lasts_s = shapes.shape.shape[1] * shapes.every_s
    return moved_by_gusts(
        judged.ready, moving, Winds(shapes.shape, shapes.every_s), runs,
        timing or Timing(lasts_s + _LEAD_S, _LEAD_S), judged.extra,
    )  # fmt: skip


def speed(hours: int = 1000) -> list[Figure]:
    """A thousand boat-hours at 0.05 s in the notch, five lines; a part of them, made whole."""
    stay, judged = judged_of(LIES[0])
    assert judged.judgement.worst is not None
    hour = hour_at(judged, judged.judgement.worst)
    one = drawn_shapes(8, hour.mean_mps, 1)
    many = GustShapes(np.tile(one.shape, (max(1, hours // 8), 1, 1)), one.every_s)
    moved_in(stay, judged, hour, one, Timing(1.0))
    begun = time.perf_counter()
    moved = moved_in(stay, judged, hour, many, Timing(_HOUR_S))
    took_s = time.perf_counter() - begun
    done = moved.code.size
    assert (moved.code == FOUND).all()
    peak_mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return [
        measured("gust-response", took_s * 1000.0 / done, "s for 1000 boat-hours", "< 40"),
        told("gust-response-step", 1e6 * took_s / (done * _HOUR_S / 0.05), "us a step, two cores"),
        told("gust-response-memory", peak_mib, "MiB at most, the judging included"),
    ]


def _own_wind(
    shape: np.ndarray, blow: tuple[float, float, float], t_s: float
) -> tuple[float, float]:
    at = np.arange(shape.shape[0])
    along = blow[0] + blow[1] * float(np.interp(t_s / 0.5, at, shape[:, 0]))
    across = blow[1] * float(np.interp(t_s / 0.5, at, shape[:, 1]))
    sine, cosine = math.sin(blow[2]), math.cos(blow[2])
    return along * sine + across * cosine, along * cosine - across * sine


def beside_integrator(lie: Drawn, for_s: float = 30.0) -> tuple[float, float] | None:
    """How far she goes, and how far off that a general integrator has her [m]; None: no rest."""
    rest = solve_rest(
        lie.scene, lie.load._replace(wind_mps=10.0), lie.level_m, lie.start, arm_m=lie.arm_m
    )
    if rest.why != "found":
        return None
    start = np.array([rest.east_m, rest.north_m, rest.heading_rad])
    long_m, own_kg = 2.0 * lie.arm_m, 11e3 * (2.0 * lie.arm_m / 13.0) ** 3
    strip = np.stack([np.linspace(-0.4, 0.4, 6) * long_m, np.full(6, 1000.0)], axis=-1)
    moving = Moving(1.08 * own_kg, 2.1 * own_kg, 2.0 * own_kg * (0.25 * long_m) ** 2, 60.0, strip)
    dice = np.random.default_rng([7, lie.seed])
    shape = 0.1 * dice.standard_normal((1, 400, 2)).cumsum(axis=1)
    blow, one = (10.0, 3.0, lie.load.wind_from_rad), np.ones(1)
    runs = GustRuns(
        np.zeros(1, int), lie.level_m * one, blow[2] * one, blow[0] * one, blow[1] * one,
        0 * one, start[None],
    )  # fmt: skip
    ours = moved_by_gusts(
        lie.ready(), moving, Winds(shape, 0.5), runs, Timing(for_s, damped=0.0, traced=True)
    )
    if ours.code[0] != FOUND:
        return None
    own = moved_by_integrator(
        lie, moving, lambda t_s: _own_wind(shape[0], blow, t_s), start, np.arange(0.0, for_s, 0.5)
    )
    off = ours.trace[0, ::10, :2] - own[:, :2]
    return float(np.ptp(own[:, :2], axis=0).max()), float(np.hypot(*off.T).max())


def integrator(count: int = 12) -> list[Figure]:
    """Drawn lies on level beds through gusts, held against a general integrator."""
    level = [lie for lie in map(drawn, range(8 * count)) if lie.bed == "level"]
    held = [lie for lie in level if len(lie.scene.lines) > 2][:count]
    found = [one for one in map(beside_integrator, held) if one is not None]
    far, off = np.array(found).T
    print(f"gusts beside an integrator: {len(found)} lies, she ranges up to {far.max():.1f} m")
    return [measured("gust-motion-off", 1e3 * float(off.max()), "mm at most in 30 s", "< 50")]


def ratio_of(stay: Stay, judged: Judged, moved: Moved, hour: Hour) -> dict[str, Floats]:
    """Peak over steady load of anchor and lines used over 0.2, by record."""
    still, share = np.ones((1, 1)), judged.rigged.height_share
    steady = rests(
        judged.ready, hour.level_m * still, hour.gust_mps * share * still,
        hour.from_rad * still, judged.ready.all_set, judged.extra,
    )  # fmt: skip
    peak, stood = (
        parts_in_use(stay, judged.rigged, judged.ground, line) for line in (moved.line, steady.line)
    )
    return {
        after.name: after.use.max(axis=1) / before.use[0, 0]
        for after, before in zip(peak, stood, strict=True)
        if before.kind in ("anchor", "line") and before.use[0, 0] > 0.2
    }


def real_records(folder: Path) -> list[Figure]:
    """Ratios on real records over those on drawn ones, in three lies' worst hours."""
    figures = []
    for name in LIES:
        stay, judged = judged_of(name)
        assert judged.judgement.worst is not None
        hour = hour_at(judged, judged.judgement.worst)
        by_drawn = ratio_of(
            stay, judged, moved_in(stay, judged, hour, drawn_shapes(24, hour.mean_mps, 1)), hour
        )
        for file, lasts_s in _REAL:
            record, _ = read_wind_record(folder / file)
            shapes = shapes_of(record, lasts_s)
            if not shapes.shape.shape[0]:
                continue
            by_real = ratio_of(stay, judged, moved_in(stay, judged, hour, shapes), hour)
            for part, real in by_real.items():
                print(
                    f"{name} {part}: {Path(file).name} {real.mean():.2f} (sd {real.std():.2f},"
                    f" {real.size} pieces), drawn {by_drawn[part].mean():.2f}"
                    f" (sd {by_drawn[part].std():.2f})"
                )
                over = float(real.mean() / by_drawn[part].mean())
                figures.append(
                    told(f"gust-real-{Path(file).stem[:8]}-{part[:12]}", over, "of drawn")
                )
    return figures


def validity(states: int = 16, records: int = 6) -> list[Figure]:
    """Where a part's factor holds: ratios at other hours over that at its worst."""
    figures = []
    for name in LIES:
        stay, judged = judged_of(name)
        for part in judged.judgement.parts:
            if part.kind not in ("anchor", "line") or not np.nanmax(part.use) > 0.4:
                continue
            figures.append(_validity_of(stay, judged, part.name, (states, records)))
    return figures


def _validity_of(stay: Stay, judged: Judged, name: str, many: tuple[int, int]) -> Figure:
    use = next(p.use for p in judged.judgement.parts if p.name == name)
    busy = np.argwhere(np.nan_to_num(use) > 0.4)
    some = busy[np.argsort(-use[tuple(busy.T)])]
    some = some[np.linspace(0, len(some) - 1, many[0]).astype(int)]
    ratio, raised = [], []
    for at in map(tuple, some):
        hour = hour_at(judged, at)
        shapes = drawn_shapes(many[1], max(1.0, hour.mean_mps), 1)
        found = ratio_of(stay, judged, moved_in(stay, judged, hour, shapes), hour)
        if name in found:
            ratio.append(float(found[name].mean()))
            raised.append(float(use[at]))
    top = ratio[0]
    print(
        f"{stay.bay.name} {name}: "
        + ", ".join(f"{u:.2f}: {r:.2f}" for u, r in zip(raised, ratio, strict=True))
    )
    return told(
        f"gust-factor-{name[:16]}", max(r / top for r in ratio), "of the worst hour's at most"
    )


def gusts(folder: Path | None) -> list[Figure]:
    """All of it; real records where a folder is named."""
    figures = [*speed(200), *integrator(), *validity()]
    return figures if folder is None else [*figures, *real_records(folder)]
