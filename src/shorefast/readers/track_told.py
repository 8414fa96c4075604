"""What a person says of a log kept under way, and the soundings in it before the sums."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Doubts, Frame
from shorefast.boat import Yacht
from shorefast.weather import WaterLevel, level_at

Floats = NDArray[np.float64]
Times = NDArray[np.datetime64]
Height = Callable[[Times], Floats]

# A third of a yacht's length, our own choice: where antenna or transducer is unknown.
ARM_UNKNOWN_M = 4.0


class WaysOut(NamedTuple):
    """What the person can do where a log does not say enough, in the place he told of it.

    As they stand, that is a ``[[depths]]`` table of bay.toml.
    """

    no_day: str = 'Say day = "2026-07-01", the UTC day of its first position.'
    no_times: str = (
        "Export it again with its times, or give one level_m for all of it instead of the tide."
    )
    bad_checksums: str = (
        'Mend the recorder; or say checksums = "ignored" if you know the values are good.'
    )
    only_heights: str = "Say depth up if those heights below 0 are depths."


@dataclass(frozen=True)
class Sailed:
    """What the log does not say of itself; None where nothing was said.

    Attributes
    ----------
    water : WaterLevel, function of times, float or None
        Height of the surface above chart datum, by the minute or all the time. [m]
    as_it_was : bool
        Without a water: levels count from the surface of the moment, and are not reduced.
    transducer_m, keel_m : float or None
        How deep the transducer and the keel's foot are under the waterline. [m]
    arm_m : (ahead, to starboard) or None
        From the antenna to the transducer. [m]
    day : date or None
        UTC date of the first fix, where the log has none.
    checked : bool
        False: sentences with wrong or missing checksums are taken too.
    doubts : Doubts
    ways_out : WaysOut
    """

    water: WaterLevel | Height | float | None = None
    as_it_was: bool = False
    transducer_m: float | None = None
    keel_m: float | None = None
    arm_m: tuple[float, float] | None = None
    day: date | None = None
    checked: bool = True
    doubts: Doubts = field(default_factory=Doubts)
    ways_out: WaysOut = field(default_factory=WaysOut)

    @property
    def by_the_minute(self) -> Height | None:
        """The water as a function of time, where it changes."""
        water = self.water
        if isinstance(water, WaterLevel):
            return lambda times_utc: level_at(water, times_utc)
        return None if water is None or isinstance(water, int | float) else water


def sailed_by(
    yacht: Yacht | None,
    water: WaterLevel | Height | float | None,
    *,
    day: date | None = None,
    checked: bool = True,
) -> Sailed:
    """What a boat's file tells of soundings taken from her."""
    if yacht is None:
        return Sailed(water, day=day, checked=checked)
    arm = None
    if yacht.antenna is not None and yacht.sounder is not None:
        arm = (yacht.sounder.x_m - yacht.antenna.x_m, yacht.sounder.y_m - yacht.antenna.y_m)
    return Sailed(
        water,
        transducer_m=None if yacht.sounder is None else yacht.sounder.draught_m,
        keel_m=yacht.hull.draught_m,
        arm_m=arm,
        day=day,
        checked=checked,
    )


class Sounded(NamedTuple):
    """Soundings with the place and moment of each, in order, shape (sounding,).

    Attributes
    ----------
    line : line in the file
    t_s : seconds since the year 1 where ``has_date``, else since the first midnight [s]
    lat_deg, lon_deg : of the antenna
    depth_m : below the surface [m]
    heading_rad : true, NaN where unknown
    place_m : deviation of the place, each way, but for the lever arm's [m]
    """

    line: Floats
    t_s: Floats
    lat_deg: Floats
    lon_deg: Floats
    depth_m: Floats
    heading_rad: Floats
    place_m: Floats

    def only(self, kept: NDArray[np.bool_]) -> Sounded:
        """Those that are kept."""
        return Sounded(*(part[kept] for part in self))


EPOCH_DAY = date(1970, 1, 1).toordinal()
_YEAR_1 = datetime(1, 1, 1, tzinfo=UTC)
COUNTED_FROM = ("surface", "transducer", "keel")


def seconds_since_year_1(moment: datetime) -> float:
    """A moment as the tracks count it. [s]"""
    return (moment - _YEAR_1).total_seconds() + 86_400.0


def times_of(t_s: Floats) -> Times:
    """Seconds since the year 1 as UTC."""
    since = np.round(t_s - EPOCH_DAY * 86_400.0).astype(np.int64)
    return since.astype("datetime64[s]")


def frame_round(lat_deg: Floats, lon_deg: Floats) -> Frame:
    """A plane touching the middle of some places, on whichever side of the date line."""
    first = float(lon_deg[0])
    middle = first + float(np.median((lon_deg - first + 180.0) % 360.0 - 180.0))
    return Frame(float(np.median(lat_deg)), (middle + 180.0) % 360.0 - 180.0)


def heading_at(at: Floats, known_at: Floats, heading_rad: Floats, reach: float) -> Floats:
    """The heading last known before each moment, NaN if that is older than ``reach``."""
    if not known_at.size:
        return np.full(at.shape, math.nan)
    before = np.searchsorted(known_at, at, side="right") - 1
    old = at - known_at[np.maximum(before, 0)]
    return np.where((before >= 0) & (old <= reach), heading_rad[np.maximum(before, 0)], math.nan)
