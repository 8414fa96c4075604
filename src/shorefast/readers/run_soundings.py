"""Soundings of a run just made, reduced by the stay's own boat and water."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np

from shorefast.basis import Finding
from shorefast.errors import BadInput
from shorefast.readers.depth_file import check_there, is_under_way, read_under_way
from shorefast.readers.depths import DepthsRead, Told
from shorefast.readers.track_depths import NO_WATER, OutsideTide, span_words
from shorefast.readers.track_told import Sailed, WaysOut, sailed_by
from shorefast.stay import Stay
from shorefast.weather import WaterLevel

OF_A_RUN = WaysOut(
    no_day="Add --day 2026-07-01, the UTC day of its first position.",
    no_times="Export it again with its times.",
    bad_checksums=(
        "Mend the recorder; or put the log into the bay's folder, as [[depths]] of bay.toml with"
        ' checksums = "ignored", if you know the values are good.'
    ),
    only_heights=(
        'Put it into the bay\'s folder, as [[depths]] of bay.toml with depth = "up", if those'
        " heights below 0 are depths."
    ),
)


def read_runs(paths: Sequence[Path], stay: Stay, day: date | None = None) -> tuple[DepthsRead, ...]:
    """Several of them; each by its file's name, or by its path where names are alike.

    One of hours without a tide gives no sounding, and its ``left_out`` says why.

    Raises
    ------
    BadInput, Unreadable
        As ``read_run``; ``OutsideTide`` only where every run lies outside it.
    """
    names = [path.name for path in paths]
    found: list[DepthsRead] = []
    refused: list[OutsideTide] = []
    for path in paths:
        name = path.name if names.count(path.name) == 1 else str(path)
        try:
            found.append(replace(read_run(path, stay, day), name=name))
        except OutsideTide as trouble:
            refused.append(trouble)
            found.append(_nothing(name, trouble))
    if refused and len(refused) == len(found):
        raise refused[0]
    return tuple(found)


def _nothing(name: str, trouble: OutsideTide) -> DepthsRead:
    none = np.empty(0)
    return DepthsRead(name, "run", none, none, none, none, trouble.left_out, "EPSG:4326", None)


def read_run(path: Path, stay: Stay, day: date | None = None) -> DepthsRead:
    """The soundings of one log, GPX track or timed CSV, as levels up from chart datum.

    Parameters
    ----------
    path : Path
    stay : Stay
        Its boat tells where antenna and transducer are, its water how high she floated.
    day : date, optional
        UTC day of the first position, where the log has none.

    Raises
    ------
    BadInput
        If the file was not kept under way, or the readers must be told more.
    Unreadable
        If nothing in it can be believed.
    """
    check_there(path, "soundings of a run")
    if not is_under_way(path, timed=True):
        raise BadInput(
            path.name,
            "no log kept under way",
            "an NMEA 0183 log, a GPX track or rows with time_utc wanted",
            "Put other depths into the bay's folder, as [[depths]] of bay.toml.",
        )
    return read_under_way(path, Told(), run_told(stay, day), stay.bay.frame)


def outside_tide(read: Sequence[DepthsRead], stay: Stay) -> tuple[Finding, ...]:
    """Says of each run how many soundings are of hours for which no tide is told."""
    counts: Counter[str] = Counter()
    for one in read:
        counts[one.name] += dict(one.left_out).get(NO_WATER, 0)
    told = stay.water.time_utc[np.isfinite(stay.water.height_m)]
    span = f" (it is for {span_words(told)})" if told.size else ""
    return tuple(
        Finding(name, f"{count} soundings left out: {NO_WATER}{span}")
        for name, count in counts.items()
        if count
    )


def run_told(stay: Stay, day: date | None = None) -> Sailed:
    """What the stay tells of soundings taken from its boat."""
    return replace(sailed_by(stay.boat, _water(stay.water), day=day), ways_out=OF_A_RUN)


def run_as_it_comes(
    lines: Iterable[bytes | None], stay: Stay, day: date | None = None
) -> Iterator[DepthsRead]:
    """The same of a live NMEA 0183 feed, in batches as they can be judged.

    lines : of the feed; None where it has fallen quiet.

    Raises
    ------
    BadInput
        As ``read_run``.
    """
    from shorefast.readers.nmea_depths import soundings_as_they_come

    yield from soundings_as_they_come(lines, Told(), run_told(stay, day), stay.bay.frame)


def _water(water: WaterLevel) -> WaterLevel | float:
    """One level where the water has only one: a run before the stay had it too."""
    first = float(water.height_m[0])
    return first if bool(np.all(water.height_m == first)) else water
