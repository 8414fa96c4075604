"""Soundings of a run just made, reduced by the stay's own boat and water."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path

import numpy as np

from shorefast.errors import BadInput
from shorefast.readers.depth_file import check_there, is_under_way, read_under_way
from shorefast.readers.depths import DepthsRead, Told
from shorefast.readers.track_told import Sailed, sailed_by
from shorefast.stay import Stay
from shorefast.weather import WaterLevel


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


def run_told(stay: Stay, day: date | None = None) -> Sailed:
    """What the stay tells of soundings taken from its boat."""
    return sailed_by(stay.boat, _water(stay.water), day=day)


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
