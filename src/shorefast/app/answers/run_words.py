"""What a run's soundings gave and changed, as keys and in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from shorefast.app.answers.bay_words import charted_words
from shorefast.app.answers.run_live import Live
from shorefast.bay import Frame
from shorefast.readers import DepthsRead
from shorefast.stay import BedChange, Judged, RunIn, TakenIn
from shorefast.wording import UNKNOWN, metres, position, use_words

COUNTS = ("taken", "known_before", "outside", "far_below")


def worst_use(judged: Judged) -> float:
    """The use at her worst hour; NaN where none is known."""
    worst = judged.judgement.worst
    return math.nan if worst is None else float(judged.judgement.greatest_use[worst])


def _touches(judged: Judged) -> bool:
    worst = judged.judgement.worst
    return worst is not None and bool(judged.judgement.touches[worst])


def _worst_words(judged: Judged) -> str:
    return "she may touch" if _touches(judged) else f"worst use {use_words(worst_use(judged))}"


def line_of(live: Live, taken: TakenIn) -> str:
    """A line after a batch of a feed."""
    keel = min(live.bed, key=lambda one: -abs(np.nan_to_num(one.level_m - one.level_before_m)))
    return (
        f"{live.total('taken')} soundings in (+{taken.taken}): {live.judged.judgement.verdict},"
        f" {_worst_words(live.judged)}, {_change_words(keel)}"
    )


def _change_words(one: BedChange) -> str:
    up_m = one.level_m - one.level_before_m
    doubt = f"doubt {metres(one.deviation_before_m)}, now {metres(one.deviation_m)}"
    if math.isnan(up_m):
        now = UNKNOWN if math.isnan(one.level_m) else f"now known, {metres(-one.level_m)} deep"
        return f"{one.of}: {now}"
    if one.level_m == one.level_before_m and one.deviation_m == one.deviation_before_m:
        return f"{one.of}: as it was"
    way = "up" if up_m > 0.0 else "down"
    return f"{one.of}: bed {abs(up_m):.2f} m {way} ({doubt})"


def run_keys(live: Live) -> dict[str, Any]:
    """The JSON key ``soundings`` of a judgement."""
    first = live.judged_before.judgement
    return {
        **taken_keys(live.read, live.taken, live.stay.bay.frame),
        "bed": [
            {
                "of": one.of,
                "east_m": one.east_m,
                "north_m": one.north_m,
                "up_m": one.level_m - one.level_before_m,
                "level_m": one.level_m,
                "deviation_before_m": one.deviation_before_m,
                "deviation_m": one.deviation_m,
            }
            for one in live.bed
        ],
        "worst_use": worst_use(live.judged),
        "touches": _touches(live.judged),
        "before": {
            "verdict": first.verdict,
            "worst_use": worst_use(live.judged_before),
            "touches": _touches(live.judged_before),
            "first_to_give": first.first_to_give,
            "leave_by_utc": first.leave_by_utc,
        },
    }


def taken_keys(
    read: Sequence[DepthsRead], taken: Sequence[TakenIn], frame: Frame
) -> dict[str, Any]:
    """What the runs gave, and what they changed of the bed."""
    return {
        "files": _files(read, taken),
        **{key: sum(int(getattr(one, key)) for one in taken) for key in COUNTS},
        "rose_m": max((one.rose_m for one in taken), default=0.0),
        "fell_m": max((one.fell_m for one in taken), default=0.0),
        "above_bed_m": _above(taken),
        "all_alike": any(one.alike for one in taken),
        "newly_known_m2": sum(one.newly_known_m2 for one in taken),
        "shoaled_most": _shoaled_most(taken, frame),
    }


def _shoaled_most(taken: Sequence[TakenIn], frame: Frame) -> dict[str, float] | None:
    """Where the bed came up most, and by how much; None where it came up nowhere."""
    most = max(taken, key=lambda one: one.rose_m, default=None)
    if most is None or most.rose_m == 0.0:
        return None
    east_m, north_m = most.rose_at_m
    lat, lon = frame.to_earth(east_m, north_m)
    level_m = float(most.stay.bay.surface.level_at(np.array([east_m]), np.array([north_m]))[0])
    return {
        "lat_deg": float(lat),
        "lon_deg": float(lon),
        "east_m": east_m,
        "north_m": north_m,
        "up_m": most.rose_m,
        "charted_depth_m": 0.0 - level_m,
    }


def _above(taken: Sequence[TakenIn | RunIn]) -> float:
    """How far the soundings lie above the bed they crossed, each batch by its count. [m]"""
    known = [one for one in taken if one.taken and math.isfinite(one.above_bed_m)]
    count = sum(one.taken for one in known)
    return sum(one.above_bed_m * one.taken for one in known) / count if count else math.nan


def _files(read: Sequence[DepthsRead], taken: Sequence[TakenIn]) -> list[dict[str, Any]]:
    """What each file or feed gave; a feed's batches as one."""
    found: dict[str, dict[str, Any]] = {}
    for one in read:
        row = found.setdefault(
            one.name, {"file": one.name, "kind": one.kind, "read": 0, "left_out": {}, "notes": {}}
        )
        row["read"] += one.level_m.size
        for why, count in one.left_out:
            row["left_out"][why] = row["left_out"].get(why, 0) + count
        row["notes"].update(dict.fromkeys(one.notes))
    runs = [run for one in taken for run in one.runs]
    for name, row in found.items():
        row["left_out"] = [{"why": why, "count": n} for why, n in row["left_out"].items()]
        row["notes"] = list(row["notes"])
        row.update(_of_run([run for run in runs if run.said_by == name]))
    return list(found.values())


def _of_run(runs: Sequence[RunIn]) -> dict[str, Any]:
    counts = {key: sum(int(getattr(one, key)) for one in runs) for key in COUNTS[:3]}
    alike = any(one.alike for one in runs)
    return {**counts, "above_bed_m": _above(runs), "all_alike": alike}


def run_text(live: Live) -> str:
    """What a run's soundings changed, a short block for the terminal."""
    rows = taken_rows(taken_keys(live.read, live.taken, live.stay.bay.frame))
    rows.extend(f"  {_change_words(one)}" for one in live.bed)
    before, now = live.judged_before, live.judged
    rows.append(
        f"  without them: {before.judgement.verdict}, {_worst_words(before)};"
        f" with them: {now.judgement.verdict}, {_worst_words(now)}"
    )
    return "\n".join(rows)


def taken_rows(keys: Mapping[str, Any]) -> list[str]:
    """What ``taken_keys`` tells, in rows for the terminal."""
    rows = ["Soundings of the run:"]
    for one in keys["files"]:
        rows.append(f"  {one['file']}: {one['read']} soundings")
        rows.extend(f"    {out['count']} left out: {out['why']}" for out in one["left_out"])
        rows.extend(f"    {note}" for note in one["notes"])
    rows.append(f"  {keys['taken']} taken into the bed{_and_not(keys)}")
    return [*rows, f"  {_bed_words(keys)}"] if keys["taken"] else rows


def _bed_words(keys: Mapping[str, Any]) -> str:
    """The most the bed came up and where, and how much of it is newly known."""
    most = keys["shoaled_most"]
    came_up = "the bed came up nowhere"
    if most is not None:
        at = position(most["lat_deg"], most["lon_deg"])
        came_up = f"the bed came up by {most['up_m']:.2f} m at most, at {at}"
        came_up += f", charted depth now {charted_words(most['charted_depth_m'])}"
    known_m2 = keys["newly_known_m2"]
    return came_up + (f"; {known_m2:.0f} m² of it newly known" if known_m2 else "")


def _and_not(keys: Mapping[str, Any]) -> str:
    said = {
        "known_before": "known before",
        "outside": "outside the bay",
        "far_below": "far below the bed and without a say",
    }
    return "".join(f"; {keys[key]} {what}" for key, what in said.items() if keys[key])
