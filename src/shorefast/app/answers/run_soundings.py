"""A run's soundings beside a judgement: what came in, what the bed and the verdict did."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np

from shorefast.app.listening import Feed
from shorefast.bay import Soundings
from shorefast.errors import BadInput
from shorefast.readers import DepthsRead, read_run, run_as_it_comes
from shorefast.stay import BedChange, Judged, Stay, TakenIn, bed_changes, judge, take_in
from shorefast.wording import UNKNOWN, metres, use_words

Say = Callable[[str], None]

FEED = Path("-")
# a live feed: judged again when so many new soundings have come, it falls quiet, or ends
EACH = 200


@dataclass(frozen=True)
class Live:
    """A stay before and after a run, and what came in between."""

    before: Stay
    judged_before: Judged
    stay: Stay
    judged: Judged
    read: tuple[DepthsRead, ...] = ()
    taken: tuple[TakenIn, ...] = ()
    bed: tuple[BedChange, ...] = field(default=())

    def total(self, name: str) -> int:
        """The sum of one count over all that was taken in."""
        return sum(int(getattr(one, name)) for one in self.taken)


def run_day(text: str | None) -> date | None:
    """The ``--day`` of a log that has none.

    Raises
    ------
    BadInput
        If it is no date.
    """
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadInput(
            "--day", f"'{text}'", "a date like 2026-07-01 wanted", "Correct it."
        ) from None


def with_runs(
    stay: Stay, judged: Judged, runs: Sequence[Path], day: date | None, say: Say | None = None
) -> Live:
    """The stay judged again on the bed as the runs leave it, files first, then the feed.

    Raises
    ------
    BadInput, Unreadable
        As ``read_run`` and ``take_in``; for a feed that held no sounding.
    """
    files = list(dict.fromkeys(path for path in runs if path != FEED))
    read = tuple(read_run(path, stay, day) for path in files)
    live = Live(stay, judged, stay, judged)
    if read:
        live = _judged_again(live, read)
    if FEED in runs:
        for batch in _batches(Feed(sys.stdin.buffer), stay, day):
            live = _judged_again(live, batch, say)
        _check_fed(live)
    return live


def with_their_bed(stay: Stay, runs: Sequence[Path], day: date | None) -> Stay:
    """The stay on the bed as the runs leave it, not judged; files only.

    Raises
    ------
    BadInput, Unreadable
        As ``read_run`` and ``take_in``; for a feed.
    """
    files = list(dict.fromkeys(runs))
    if FEED in files:
        raise BadInput("--soundings", "a feed", "a sheet is drawn once", "Name the file of a run.")
    return _taken(stay, tuple(read_run(path, stay, day) for path in files)).stay if files else stay


def _batches(feed: Feed, stay: Stay, day: date | None) -> Iterator[tuple[DepthsRead, ...]]:
    """What a feed gave, gathered until there is enough to judge again, or it falls quiet."""
    held: list[DepthsRead] = []
    for one in run_as_it_comes(feed, stay, day):
        held.append(one)
        if feed.quiet or sum(part.level_m.size for part in held) >= EACH:
            yield tuple(held)
            held = []
    if held:
        yield tuple(held)


def _check_fed(live: Live) -> None:
    if not any(one.level_m.size for one in live.read):
        raise BadInput(
            "Standard input",
            "no sounding came that can be believed",
            "an NMEA 0183 feed with positions and depths wanted",
            "Look at what is sent.",
        )


def _taken(stay: Stay, read: tuple[DepthsRead, ...]) -> TakenIn:
    parts = [vars(one.in_frame(stay.bay.frame)).values() for one in read]
    together = Soundings(*(np.concatenate(part) for part in zip(*parts, strict=True)))
    return take_in(stay, together, " and ".join(dict.fromkeys(one.name for one in read)))


def _judged_again(live: Live, read: tuple[DepthsRead, ...], say: Say | None = None) -> Live:
    """More soundings taken in together; judged again only where they changed the bed."""
    taken = _taken(live.stay, read)
    judged = live.judged if taken.stay is live.stay else judge(taken.stay, live.judged)
    found = Live(
        live.before, live.judged_before, taken.stay, judged,
        (*live.read, *read), (*live.taken, taken),
        bed_changes(live.before, taken.stay, judged),
    )  # fmt: skip
    if say is not None and taken.stay is not live.stay:
        say(_line(found, taken))
    return found


def _worst_use(judged: Judged) -> float:
    worst = judged.judgement.worst
    return math.nan if worst is None else float(judged.judgement.greatest_use[worst])


def _line(live: Live, taken: TakenIn) -> str:
    keel = min(live.bed, key=lambda one: -abs(np.nan_to_num(one.level_m - one.level_before_m)))
    return (
        f"{live.total('taken')} soundings in (+{taken.taken}): {live.judged.judgement.verdict},"
        f" worst use {use_words(_worst_use(live.judged))}, {_change_words(keel)}"
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
        "files": _files(live.read),
        "taken": live.total("taken"),
        "known_before": live.total("known_before"),
        "outside": live.total("outside"),
        "far_below": live.total("far_below"),
        "rose_m": max((one.rose_m for one in live.taken), default=0.0),
        "fell_m": max((one.fell_m for one in live.taken), default=0.0),
        "above_bed_m": _above(live.taken),
        "all_alike": any(one.alike for one in live.taken),
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
        "worst_use": _worst_use(live.judged),
        "before": {
            "verdict": first.verdict,
            "worst_use": _worst_use(live.judged_before),
            "first_to_give": first.first_to_give,
            "leave_by_utc": first.leave_by_utc,
        },
    }


def _above(taken: tuple[TakenIn, ...]) -> float:
    """How far the soundings lie above the bed they crossed, each batch by its count. [m]"""
    known = [one for one in taken if one.taken and math.isfinite(one.above_bed_m)]
    count = sum(one.taken for one in known)
    return sum(one.above_bed_m * one.taken for one in known) / count if count else math.nan


def _files(read: tuple[DepthsRead, ...]) -> list[dict[str, Any]]:
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
    for row in found.values():
        row["left_out"] = [{"why": why, "count": n} for why, n in row["left_out"].items()]
        row["notes"] = list(row["notes"])
    return list(found.values())


def run_text(live: Live) -> str:
    """What a run's soundings changed, a short block for the terminal."""
    rows = ["Soundings of the run:"]
    for one in _files(live.read):
        rows.append(f"  {one['file']}: {one['read']} soundings")
        rows.extend(f"    {out['count']} left out: {out['why']}" for out in one["left_out"])
        rows.extend(f"    {note}" for note in one["notes"])
    rows.append(f"  {live.total('taken')} taken into the bed{_and_not(live)}")
    rows.extend(f"  {_change_words(one)}" for one in live.bed)
    before, now = live.judged_before, live.judged
    rows.append(
        f"  without them: {before.judgement.verdict}, worst use {use_words(_worst_use(before))};"
        f" with them: {now.judgement.verdict}, {use_words(_worst_use(now))}"
    )
    return "\n".join(rows)


def _and_not(live: Live) -> str:
    counts = {
        "known before": live.total("known_before"),
        "outside the bay": live.total("outside"),
        "far below the bed and without a say": live.total("far_below"),
    }
    return "".join(f"; {count} {what}" for what, count in counts.items() if count)
