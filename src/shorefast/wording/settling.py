"""Settling in words: how each line is left, and how far off she lies at each tide."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, kilograms, metres
from shorefast.wording.proving import table
from shorefast.wording.times import day_clock

if TYPE_CHECKING:
    from shorefast.manoeuvre import OffAt, Pretension, Settling

_SMALL_M = 0.05
_HEADS = ("line", "pull in a calm", "hand-hauled, then", "sag", "half a metre tighter", "done by")


def take_in_words(take_in_m: float) -> str:
    """What is done with a line that one hand has hauled in: "take in 0.4 m"."""
    if not math.isfinite(take_in_m):
        return UNKNOWN
    if abs(take_in_m) < _SMALL_M:
        return "leave it so"
    return f"{'take in' if take_in_m > 0.0 else 'ease'} {metres(abs(take_in_m))}"


def _row(one: Pretension) -> tuple[str, ...]:
    who = ("one hand" if one.by_hand else "winch") if math.isfinite(one.pull_n) else UNKNOWN
    sag = metres(one.sag_m) if math.isfinite(one.sag_m) else "hangs slack"
    return (
        one.name, kilograms(one.pull_n), take_in_words(one.take_in_m), sag,
        kilograms(one.pull_off_n), who,
    )  # fmt: skip


def settling_words(told: Settling, zone_name: str) -> list[str]:
    """How to settle her, line by line."""
    said = []
    if told.lines:
        said += ["Settling, engine stopped, in a calm at this water; tighter is not safer:"]
        said += table([_HEADS, *(_row(one) for one in told.lines)])
        said += [f"  {one}" for one in _warned(told)]
    shown = [one for one in told.at if one.tide] or list(told.at)
    first = told.at[:1]
    rows = [_off_row(one, zone_name) for one in dict.fromkeys((*first, *shown))]
    if rows:
        heads = ("", "water", "engine astern", "at rest", "least", "in a calm")
        said += ["Her stern off the high-water line:", *table([heads, *rows])]
    return said


def _warned(told: Settling) -> Iterator[str]:
    loose = [one for one in told.lines if one.slack_astern_m > _SMALL_M]
    tight = [one for one in told.lines if one.slack_astern_m < -_SMALL_M]
    if loose:
        most = max(one.slack_astern_m for one in loose)
        yield (
            f"With the engine astern as in the last step up to {metres(most)} of"
            f" {_names(loose)} hang slack about the stern: keep them out of the propeller."
        )
    if tight:
        yield (
            f"{_names(tight)[:1].upper()}{_names(tight)[1:]} would hold her before the last step:"
            " fast only after the proof."
        )


def _names(lines: list[Pretension]) -> str:
    return ", ".join(one.name for one in lines)


def _off_row(one: OffAt, zone_name: str) -> tuple[str, ...]:
    tide = {"high": "high water ", "low": "low water "}.get(one.tide, "")
    return (
        f"{tide}{day_clock(one.at_utc, zone_name)}", metres(one.water_level_m),
        metres(one.off_engine_m), metres(one.off_rest_m), metres(one.off_least_m),
        metres(one.off_calm_m),
    )  # fmt: skip
