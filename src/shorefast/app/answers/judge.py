"""``shorefast judge``: can she lie here until morning?"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from shorefast.app.answer import Answer
from shorefast.app.answers.beside import beside_keys
from shorefast.app.answers.judge_also import also_told
from shorefast.app.answers.noticed import with_noticed
from shorefast.app.answers.run_soundings import Say, run_day, with_runs
from shorefast.app.answers.run_words import run_keys, run_text
from shorefast.app.progress import Progress
from shorefast.basis import Basis
from shorefast.readers import outside_tide, read_stay
from shorefast.stay import Judgement, PartUse, Room, Stay, judge
from shorefast.wording import (
    UNKNOWN,
    beside_words,
    clock,
    compass,
    day_clock,
    half_strength_words,
    kilograms,
    knots,
    metres,
    offset,
    use_words,
    verdict_words,
)

_DAY_S = 86_400


def judgement_keys(stay: Stay, judgement: Judgement) -> dict[str, Any]:
    """The JSON keys of a judgement; arrays (member, time)."""
    headline, reason = verdict_words(stay, judgement)
    worst = None if judgement.worst is None else judgement.time_utc[judgement.worst[1]]
    return {
        "verdict": judgement.verdict,
        "sentence": f"{headline} {reason}".strip(),
        "leave_by_utc": judgement.leave_by_utc,
        "worst_hour_utc": worst,
        "first_to_give": judgement.first_to_give,
        "member": judgement.member,
        "time_utc": judgement.time_utc,
        "water_level_m": judgement.water_level_m[0],
        "share_past_limit": judgement.share_past_limit,
        "parts": [
            {
                "name": part.name,
                "kind": part.kind,
                "limit_n": part.limit_n,
                "limit_source": part.limit_source,
                "load_n": part.load_n,
                "use": part.use,
                "breaking_n": part.breaking_n,
            }
            for part in judgement.parts
        ],
        "room": [
            {
                "of": room.of,
                "room_m": room.room_m,
                "least_wanted_m": room.least_wanted_m,
                "expected_m": room.expected_m,
            }
            for room in judgement.room
        ],
        "rest": {
            "east_m": judgement.rest.east_m,
            "north_m": judgement.rest.north_m,
            "heading_rad": judgement.rest.heading_rad,
        },
        **beside_keys(stay, judgement),
    }


def _middle(values: np.ndarray) -> float:
    known = values[~np.isnan(values)]
    return float(np.median(known)) if known.size else math.nan


def _most(values: np.ndarray) -> float:
    known = values[~np.isnan(values)]
    return float(known.max()) if known.size else math.nan


def _mean_direction(values: np.ndarray) -> float:
    known = values[np.isfinite(values)]
    if not known.size:
        return math.nan
    return math.atan2(float(np.sin(known).mean()), float(np.cos(known).mean())) % (2 * math.pi)


def _row(*cells: str) -> str:
    when, gust, from_side, water, use, past = cells
    return f"{when:>26}  {gust:>15}  {from_side:>10}  {water:>7}  {use:>17}  {past:>10}"


def _and_most(values: np.ndarray, say: Callable[[float], str], several: bool) -> str:
    """The middle member's, and where there are several the most of any, if it can be more."""
    middle = _middle(values)
    if several and math.isfinite(middle):
        return f"{say(middle)} ({say(_most(values))})"
    return say(middle)


def _long(stay: Stay) -> bool:
    return (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S


def _say(stay: Stay) -> Callable[[np.datetime64, str], str]:
    """How a time of this stay is told: with its day where there are several."""
    return day_clock if _long(stay) else clock


def _hours(stay: Stay, judgement: Judgement) -> list[str]:
    """A row an hour: gusts, water, use, share of members past a limit."""
    long, say = _long(stay), _say(stay)
    several = len(np.unique(judgement.member)) > 1
    head = ("gust (most)", "use (most)") if several else ("gust", "use")
    zone = offset(stay.from_utc, stay.bay.zone_name)
    rows = ["", _row(zone, head[0], "from", "water", head[1], "past limit")]
    seconds = judgement.time_utc.astype("datetime64[s]").astype(np.int64)
    step = 3 if long else 1
    uses = np.where(judgement.touches, np.inf, judgement.greatest_use)
    for t in np.flatnonzero(seconds % (3600 * step) == 0):
        share = float(judgement.share_past_limit[t])
        gust, use = judgement.gust_mps[:, t], uses[:, t]
        known = UNKNOWN if math.isnan(share) else format(share, ".0%")
        rows.append(
            _row(
                say(judgement.time_utc[t], stay.bay.zone_name),
                _and_most(gust, knots, several),
                compass(_mean_direction(judgement.wind_from_rad[:, t])),
                metres(float(judgement.water_level_m[0, t])),
                _and_most(use, use_words, several),
                known,
            )
        )
    return rows


def _part_row(part: PartUse) -> str:
    load_n, limit_n = _most(part.load_n), part.limit_n
    if not np.isfinite(limit_n).any():
        can = part.limit_source
        return f"  {part.name}: has to carry up to {kilograms(load_n)}; what it can is {can}"
    at = int(np.nanargmax(np.where(np.isfinite(part.use), part.use, -1.0)))
    use, limit = float(part.use.flat[at]), float(np.asarray(limit_n).flat[at])
    return (
        f"  {part.name}: up to {kilograms(float(part.load_n.flat[at]))} of {kilograms(limit)},"
        f" use {use_words(use)} ({part.limit_source})"
    )


def _room_row(stay: Stay, judgement: Judgement, room: Room) -> str:
    """The least of one room, when, and what is wanted; by the expected bed beside it."""
    wanted = f"{metres(room.least_wanted_m)} wanted"
    if not np.isfinite(room.room_m).any():
        return f"  {room.of}: least {UNKNOWN} ({wanted})"
    member, hour = divmod(int(np.nanargmin(room.room_m)), room.room_m.shape[1])
    when = _say(stay)(judgement.time_utc[hour], stay.bay.zone_name)
    expected = ""
    if room.expected_m is not None:
        expected = f"{metres(float(room.expected_m[member, hour]))} by the expected bed, "
    least = metres(float(room.room_m[member, hour]))
    return f"  {room.of}: least {least} at {when} ({expected}{wanted})"


def _line_use(judgement: Judgement) -> float:
    return _most(
        np.array([_most(p.use) for p in judgement.parts if p.kind == "line"] or [math.nan])
    )


def judgement_text(stay: Stay, judgement: Judgement) -> str:
    """The judgement for the terminal: the sentence, the hours, parts, room, remarks."""
    headline, reason = verdict_words(stay, judgement)
    lines = [headline, reason, *_hours(stay, judgement), "", "Over all members and hours:"]
    lines.extend(_part_row(part) for part in judgement.parts)
    lines.extend(_room_row(stay, judgement, room) for room in judgement.room)
    lines.append(half_strength_words(_line_use(judgement)))
    lines.extend(beside_words(judgement))
    return with_noticed("\n".join(lines), judgement.basis)


def answer_judge(
    stay_path: Path,
    soundings: Sequence[Path] = (),
    day: str | None = None,
    say: Say | None = None,
    progress: Progress | None = None,
    **also: Any,
) -> Answer:
    """Judge a stay file, on the bed as a run's soundings leave it where some are given.

    soundings : files, or ``-`` for a live feed on standard input; ``say`` is then called
        with a line after each batch that changed the bed.
    also : what else to answer, by the names in ``judge_also.ALSO``.

    Raises
    ------
    BadInput, Unreadable
        For a stay that cannot be, or a file that cannot be read.
    """
    stay, keys, words = read_stay(stay_path), {}, ""
    judged = judge(stay)
    judgement = judged.judgement
    if soundings:
        live = with_runs(stay, judged, soundings, run_day(day), say)
        stay, keys, words = live.stay, {"soundings": run_keys(live)}, "\n\n" + run_text(live)
        judged, judgement = live.judged, live.judged.judgement
        dry = Basis(findings=outside_tide(live.read, stay))
        judgement = replace(judgement, basis=judgement.basis | dry)
    more = also_told(stay, judged, also, progress)
    for one in more.told:
        judgement = replace(judgement, basis=judgement.basis | one.basis)
    text = judgement_text(stay, judgement) + words + more.text
    keys = {**judgement_keys(stay, judgement), **keys, **more.keys}
    return Answer("judge", keys, judgement.basis, text, more.files)
