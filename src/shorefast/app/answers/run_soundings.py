"""Soundings of runs taken into a stay's bed: of files at once, of a feed as they come."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path

from shorefast.app.answers.run_live import Live, Taken
from shorefast.app.answers.run_words import line_of
from shorefast.app.listening import Feed
from shorefast.bay import Soundings, joined
from shorefast.errors import BadInput
from shorefast.readers import DepthsRead, read_runs, run_as_it_comes
from shorefast.stay import Judged, Run, Stay, TakenIn, bed_changes, judge, take_in

Say = Callable[[str], None]

FEED = Path("-")
# a live feed: judged again when so many new soundings have come, it falls quiet, or ends
EACH = 200


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
    read = read_runs(files, stay, day)
    live = Live(stay, judged, stay, judged)
    if read:
        live = _judged_again(live, read)
    if FEED in runs:
        for batch in _batches(Feed(sys.stdin.buffer), stay, day):
            live = _judged_again(live, batch, say)
        _check_fed(live.read[len(read) :])
    return live


def with_their_bed(stay: Stay, runs: Sequence[Path], day: date | None, shown: str) -> Taken:
    """The stay on the bed as the runs leave it, not judged; files only.

    shown : what it is for, in words for the one who names a feed.

    Raises
    ------
    BadInput, Unreadable
        As ``read_runs`` and ``take_in``; for a feed.
    """
    files = list(dict.fromkeys(runs))
    if FEED in files:
        raise BadInput("--soundings", "a feed", f"{shown} is drawn once", "Name the file of a run.")
    read = read_runs(files, stay, day)
    return Taken(read, _taken(stay, read))


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


def _check_fed(fed: Sequence[DepthsRead]) -> None:
    if any(one.level_m.size for one in fed):
        return
    counts: Counter[str] = Counter()
    for one in fed:
        counts.update(dict(one.left_out))
    why = "; ".join(f"{count} left out: {why}" for why, count in counts.items())
    raise BadInput(
        "Standard input",
        "no sounding came that can be believed" + (f" ({why})" if why else ""),
        "an NMEA 0183 feed with positions and depths wanted",
        "Look at what is sent.",
    )


def _taken(stay: Stay, read: Sequence[DepthsRead]) -> TakenIn:
    """Each file, or all of a feed's batch, taken in as one run."""
    parts: dict[str, list[Soundings]] = {}
    for one in read:
        parts.setdefault(one.name, []).append(one.in_frame(stay.bay.frame))
    return take_in(stay, [Run(name, joined(some)) for name, some in parts.items()])


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
        say(line_of(found, taken))
    return found
