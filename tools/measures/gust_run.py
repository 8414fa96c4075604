"""Her response to gusts: speed, another path, real records, and where a factor holds."""

from __future__ import annotations

import resource
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from measures.commands import NOTCH
from measures.figure import Figure, measured, told
from measures.gust_lies import energy_left, off_integrator, run_of
from measures.lies import Floats, drawn

from shorefast.mooring import (
    FOUND,
    GustRuns,
    Moved,
    Timing,
    Winds,
    moved_by_gusts,
    moving_of,
    rests,
    underbody,
)
from shorefast.readers import read_stay, read_wind_record
from shorefast.stay import Judged, Stay, judge
from shorefast.stay.ease_lengths import lengths_of
from shorefast.stay.parts import parts_in_use
from shorefast.weather import MOST_FACTOR, GustShapes, drawn_shapes, fitted, shapes_of

_HOUR_S, _LEAD_S = 3600.0, 60.0
DEMO = NOTCH.parent
LIES = ("grey_notch/stay.toml", "stone_spur/stay_k_day.toml", "tres_sombras/stay.toml")
# the words that stand for them and for the records in a figure's name
_BAYS = {LIES[0]: "notch", LIES[1]: "spur", LIES[2]: "sombras"}
_REAL = (
    ("wind/island_azores_1min_24h.cdf", 3600.0, "island"),
    ("wind/ship_antarctic_1min_24h_wind.nc", 3600.0, "ship"),
    ("nmea0183/moored_28min_then_out.txt", 600.0, "moored"),
)


@dataclass(frozen=True)
class Hour:
    """One hour of a stay: water level [m], mean and gust at 10 m [m/s], where from [rad]."""

    level_m: float
    mean_mps: float
    gust_mps: float
    from_rad: float


def part_word(stay: Stay, name: str) -> str:
    """A part as in a figure's name: the anchor, or a line by the letter it has on the sheet."""
    if name == "anchor":
        return name
    lines = [length.of for length in lengths_of(stay)[1:]]
    return f"line-{chr(ord('a') + lines.index(name) % 26)}"


def judged_of(name: str) -> tuple[Stay, Judged]:
    """A demo stay and its judgement."""
    stay = read_stay(DEMO / name)
    return stay, judge(stay)


def hour_at(judged: Judged, at: tuple[int, int]) -> Hour:
    """What blows at one member and time of a judged stay."""
    j = judged.judgement
    values = (j.water_level_m[at], j.wind_mps[at], j.gust_mps[at], j.wind_from_rad[at])
    level_m, mean, gust, blow = (float(value) for value in values)
    return Hour(level_m, max(1.0, mean, gust / MOST_FACTOR), gust, blow)


def moved_in(
    stay: Stay,
    judged: Judged,
    hour: Hour,
    shapes: GustShapes,
    timing: Timing | None = None,
    *,
    times: int = 1,
) -> Moved:
    """The boat of a judged stay through shapes fitted to an hour, each so many times over."""
    share, count = judged.rigged.height_share, shapes.shape.shape[0]
    size = fitted(shapes, hour.mean_mps, hour.gust_mps)
    which, still = np.tile(np.arange(count), times), np.ones((1, 1))
    one = np.ones(which.size)
    start = rests(
        judged.ready, hour.level_m * still, hour.mean_mps * share * still,
        hour.from_rad * still, judged.ready.all_set, judged.extra,
    ).q[0, 0]  # fmt: skip
    runs = GustRuns(
        which, hour.level_m * one, hour.from_rad * one, size.centre_mps[which] * share,
        size.spread_mps[which] * share, 0.0 * one, np.tile(start, (which.size, 1)),
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
    moved_in(stay, judged, hour, one, Timing(1.0))
    begun, busy = time.perf_counter(), time.process_time()
    moved = moved_in(stay, judged, hour, one, Timing(_HOUR_S), times=max(1, hours // 8))
    took_s, busy_s = time.perf_counter() - begun, time.process_time() - busy
    done = moved.code.size
    assert (moved.code == FOUND).all()
    peak_mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return [
        measured("gust-response", took_s * 1000.0 / done, "s for 1000 boat-hours", "< 40"),
        told("gust-response-step", 1e6 * busy_s / (done * _HOUR_S / 0.05), "us a step of a core"),
        told("gust-response-memory", peak_mib, "MiB at most, the judging included"),
    ]


def integrator(count: int = 12) -> list[Figure]:
    """Drawn lies on level beds through gusts: a general integrator, and what energy is left."""
    level = [lie for lie in map(drawn, range(8 * count)) if lie.bed == "level"]
    held = [lie for lie in level if len(lie.scene.lines) > 2][:count]
    runs = [run for run in map(run_of, held) if run is not None]
    far_m, off_m, _ = np.array([off_integrator(run) for run in runs]).T
    left = [energy_left(run) for run in runs if run.lie.scene.lines]
    print(f"gusts beside an integrator: {len(runs)} lies, she ranges up to {far_m.max():.1f} m")
    return [
        measured("gust-motion-off", 1e3 * float(off_m.max()), "mm at most in 30 s", "< 50"),
        measured("gust-energy-left", 1e3 * max(left), "thousandths of what goes through", "< 1"),
    ]


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
        for file, lasts_s, word in _REAL:
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
                named = f"gust-real-{word}-{_BAYS[name]}-{part_word(stay, part)}"
                figures.append(told(named, over, "of drawn"))
    return figures


def validity(states: int = 16, records: int = 6) -> list[Figure]:
    """Where a part's factor holds: ratios at other hours over that at its worst."""
    figures = []
    for name in LIES:
        stay, judged = judged_of(name)
        for part in judged.judgement.parts:
            if part.kind not in ("anchor", "line") or not np.nanmax(part.use) > 0.4:
                continue
            named = f"gust-factor-{_BAYS[name]}-{part_word(stay, part.name)}"
            over = _validity_of(stay, judged, part.name, (states, records))
            figures.append(told(named, over, "of the worst hour's at most"))
    return figures


def _validity_of(stay: Stay, judged: Judged, name: str, many: tuple[int, int]) -> float:
    """The greatest ratio of a part in its busy hours over that in its worst hour."""
    use = next(p.use for p in judged.judgement.parts if p.name == name)
    busy = np.argwhere(np.nan_to_num(use) > 0.4)
    some = busy[np.argsort(-use[tuple(busy.T)])]
    some = some[np.linspace(0, len(some) - 1, many[0]).astype(int)]
    ratio, raised = [], []
    for at in map(tuple, some):
        hour = hour_at(judged, at)
        shapes = drawn_shapes(many[1], hour.mean_mps, 1)
        found = ratio_of(stay, judged, moved_in(stay, judged, hour, shapes), hour)
        if name in found:
            ratio.append(float(found[name].mean()))
            raised.append(float(use[at]))
    top = ratio[0]
    print(
        f"{stay.bay.name} {name}: "
        + ", ".join(f"{u:.2f}: {r:.2f}" for u, r in zip(raised, ratio, strict=True))
    )
    return max(r / top for r in ratio)


def gusts(folder: Path | None) -> list[Figure]:
    """All of it; real records where a folder is named."""
    figures = [*speed(200), *integrator(), *validity()]
    return figures if folder is None else [*figures, *real_records(folder)]
