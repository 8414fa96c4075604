"""What ``shorefast practise`` tells: keys and text."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from shorefast.app.answers.noticed import with_noticed
from shorefast.manoeuvre import (
    CallDone,
    Debrief,
    Happening,
    Practised,
)
from shorefast.wording import (
    answered_words,
    clock_of,
    debrief_words,
    happening_words,
    kilograms,
    rule_words,
)


def _call_keys(one: CallDone) -> dict[str, Any]:
    return asdict(one)


def _happened_keys(one: Happening) -> dict[str, Any]:
    return {
        "t_s": one.t_s, "kind": one.kind, "of": one.of, "east_m": one.east_m,
        "north_m": one.north_m, "value": one.value, "waits_for": list(one.waits_for),
        "said": happening_words(one),
    }  # fmt: skip


def practise_keys(done: Practised, told: Debrief) -> dict[str, Any]:
    """The JSON keys."""
    least = told.least
    return {
        "lasted_s": told.lasted_s,
        "can_be_held": told.can_be_held,
        "happened": [_happened_keys(one) for one in done.happened],
        "calls": [_call_keys(one) for one in told.calls],
        "anchor": {
            "east_m": math.nan if told.anchor_m is None else told.anchor_m[0],
            "north_m": math.nan if told.anchor_m is None else told.anchor_m[1],
            "in_patch": told.in_patch,
            "off_place_m": told.anchor_off_m,
            "along_m": told.anchor_along_m,
            "across_m": told.anchor_across_m,
        },
        "lies": dict(zip(("east_m", "north_m", "heading_rad"), told.lies, strict=True)),
        "off_plan_m": told.off_plan_m,
        "off_plan_rad": told.off_plan_rad,
        "lines_fast": told.lines_fast,
        "least_room": None if least is None else {"t_s": least[0], **_space(least[1])},
        "room": [{"t_s": t_s, **_space(space)} for t_s, space in told.rooms],
        "loads": [asdict(one) for one in told.loads],
        "broken": [asdict(one) for one in told.broken],
        "failures": [
            {
                "kind": one.failure.kind, "at_s": one.failure.at_s,
                "first_order": None if one.order is None else one.order.do,
                "after_s": one.after_s, "right": one.right,
            }
            for one in told.answered
        ],
        "track": [
            {"t_s": row.t_s, "east_m": row.east_m, "north_m": row.north_m,
             "heading_rad": row.heading_rad, "chain_m": row.chain_m}
            for row in done.rows[::10]
        ],
        "sentence": " ".join(debrief_words(told)),
    }  # fmt: skip


def _space(space: Any) -> dict[str, Any]:
    return {
        "of": space.of, "room_m": space.room_m, "careful_m": space.careful_m,
        "east_m": space.east_m, "north_m": space.north_m,
    }  # fmt: skip


def _cell(value: float, digits: int = 0) -> str:
    return "-" if not math.isfinite(value) else f"{value:.{digits}f}"


def _calls_table(told: Debrief) -> list[str]:
    """Call by call: planned and done."""
    rows = [("", "made good", "chain", "done", "off", "done", "time", "done")]
    rows += [
        (
            "on the bottom" if one.kind == "bottom" else one.kind, f"{_cell(one.made_good_m)} m",
            f"{_cell(one.chain_m)} m", f"{_cell(one.done_chain_m)} m",
            f"{_cell(one.off_m)} m", f"{_cell(one.done_off_m)} m",
            clock_of(one.t_s), clock_of(one.done_t_s),
        )
        for one in told.calls
    ]  # fmt: skip
    wide = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    said = ["The calls, planned and done (time since letting go; off: stern to the shore line):"]
    for row in rows:
        cells = "  ".join(f"{cell:>{room}}" for cell, room in zip(row[1:], wide[1:], strict=True))
        said.append(f"  {row[0]:{wide[0]}}  {cells}")
    return said


def _heard(done: Practised) -> list[tuple[float, str]]:
    """What happened and what was said, by time."""
    said = [(one.at_s, f'"{one.order.words}"') for one in done.orders if one.order.do == "say"]
    happened = [(one.t_s, happening_words(one)) for one in done.happened]
    return sorted([*happened, *said], key=lambda row: row[0])


def practise_text(done: Practised, told: Debrief) -> str:
    """A sentence first, then what happened, the calls, and what was broken."""
    lines = [*debrief_words(told), ""]
    lines += ["What happened:"]
    lines += [f"  {clock_of(t_s):>6}  {words}" for t_s, words in _heard(done)]
    lines += ["", *_calls_table(told)]
    if told.loads:
        most = [f"{one.of} {kilograms(one.pull_n)} at {clock_of(one.t_s)}" for one in told.loads]
        lines += ["", f"Greatest pulls: {'; '.join(most)}."]
    lines += ["", "Rules broken:" if told.broken else "No rule broken that is looked at here."]
    lines += [f"  {rule_words(one)}" for one in told.broken]
    if told.answered:
        lines += ["", "Failures:", *(f"  {answered_words(one)}" for one in told.answered)]
    return with_noticed("\n".join(lines), told.basis)
