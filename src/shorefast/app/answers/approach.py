"""``shorefast approach``: how is she brought in?"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.noticed import with_noticed
from shorefast.app.progress import Progress
from shorefast.manoeuvre import Approach, Ashore, Waiting, approach, ashore, waiting
from shorefast.readers import read_stay
from shorefast.stay import Stay, judge, where_to_let_go
from shorefast.wording import (
    approach_sentence,
    ashore_words,
    call_rows,
    caution,
    clock,
    crosswind_words,
    in_patch_words,
    limits_words,
    start_words,
    verdict_words,
    waiting_words,
)


def approach_keys(stay: Stay, found: Approach, lines: Ashore, waits: Waiting) -> dict[str, Any]:
    """The JSON keys of the approach."""
    way, frame = found.way, stay.bay.frame
    start_lat, start_lon = frame.to_earth(found.start_east_m, found.start_north_m)
    pass_along = None if found.look_round is None else asdict(found.look_round)
    return {
        "sentence": approach_sentence(found),
        "at_utc": way.arrival.at_utc,
        "can_be_held": found.can_be_held,
        "heading_rad": found.heading_rad,
        "line_in_rad": found.line_in_rad,
        "start": {"lat_deg": float(start_lat), "lon_deg": float(start_lon)},
        "to_windward_m": found.to_windward_m,
        "stopped_drift_m": found.stopped_drift_m,
        "windward_side": found.windward_side,
        "let_go_off_m": found.let_go_off_m,
        "hold_off_m": found.hold_off_m,
        "astern_most_mps": found.astern_most_mps,
        "fall_s": way.fall_s,
        "leeway_mps": found.leeway_mps,
        "falls_off": asdict(found.falls_off),
        "walks_astern": found.walks,
        "crosswind": asdict(found.crosswind),
        "look_round": pass_along,
        "turning_room_m": found.turning_room_m,
        "turning_needs_m": found.turning_needs_m,
        "way_out": {
            "bearing_rad": found.out.bearing_rad,
            "depths": [{"distance_m": far, "water_m": deep} for far, deep in found.out.depths],
        },
        "limits": {
            "landing_m": found.limits.landing_m,
            "lie_m": found.limits.lie_m,
            "lost_share": found.limits.lost_share,
        },
        "calls": [asdict(call) for call in found.calls],
        "waiting": {
            "carry_s": waits.carry_s,
            "set_m": waits.set_m,
            "ahead": waits.ahead,
            "can_go_ahead": waits.can_go_ahead,
        },
        "lines": [asdict(line) for line in lines.lines],
        "carried_by": lines.by,
        "steps": [asdict(step) for step in lines.steps],
    }


def approach_text(found: Approach, verdict: str, patch: str, lines_told: str) -> str:
    """The whole answer for a terminal; ``patch`` what is said of it, nothing where not asked."""
    stay = found.way.arrival.stay
    when = clock(found.way.arrival.at_utc, stay.bay.zone_name)
    parts = [
        f"{when}: {approach_sentence(found)}",
        f"As judged: {verdict}",
        "",
        *start_words(found),
        "",
        *crosswind_words(found),
        "",
        "The calls, metres from the stern to the high-water line; how the chain leads:",
        *call_rows(found),
        limits_words(found),
        *([patch] if patch else []),
        "",
        lines_told,
        "",
        caution(3),
        caution(4),
    ]
    return "\n".join(parts)


def answer_approach(
    stay_file: Path, let_go: bool = False, progress: Progress | None = None
) -> Answer:
    """How to bring her in: the way astern, the calls, the lines, what to break off for.

    let_go : also how many anchors of usual crews lie in the let-go patch
    """
    stay = read_stay(stay_file)
    judged = judge(stay)
    found = approach(stay)
    lines = ashore(stay, judged, found.hold_off_m)
    waits = waiting(found.way, lines)
    basis = found.basis | lines.basis | judged.judgement.basis
    verdict = verdict_words(stay, judged.judgement)[0]
    keys, patch = approach_keys(stay, found, lines, waits), ""
    if let_go:
        where = where_to_let_go(stay, judged, progress=progress)
        share = found.limits.inside(where.patch)
        keys["limits"]["in_patch_share"] = share
        patch, basis = in_patch_words(share, where.sides), basis | where.basis
    lines_told = f"{ashore_words(lines, stay)}\n{waiting_words(waits)}"
    text = approach_text(found, verdict, patch, lines_told)
    return Answer("approach", keys, basis, with_noticed(text, basis))
