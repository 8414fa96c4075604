"""A bay as the sums see it: frame, bed, shore, points, zones, wind sectors.

Plane places are metres east and north of the bay's origin; heights are from
chart datum, up. Shapes are shapely geometries in that plane.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from shorefast.basis import Basis

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from shorefast.bay.frame import Frame
    from shorefast.bay.round_about import FarShore, HighGround
    from shorefast.bay.surface import DepthSurface


LEG_M = 100.0


@dataclass(frozen=True)
class ShorePoint:
    """A tree, rock, ring, bollard or own ground anchor to make fast to.

    Attributes
    ----------
    east_m, north_m, height_m : float
        Where it is; height above chart datum. [m]
    strength_n : float or None
        What it is known to carry [N]; None: nobody knows.
    strength_source : str or None
        Who says so.
    photo : str or None
        Name of a picture of it, beside the file it was read from.
    remark : str or None
        What a hand ashore should know of it.
    """

    name: str
    kind: str
    east_m: float
    north_m: float
    height_m: float
    strength_n: float | None = None
    strength_source: str | None = None
    photo: str | None = None
    remark: str | None = None


@dataclass(frozen=True)
class Landmark:
    """A thing to look at that stays where it is: a house, a beacon, a lone tree. [m]

    height_m : of its foot above chart datum, None where nobody knows; lit : whether it
    carries a light.
    """

    name: str
    east_m: float
    north_m: float
    height_m: float | None = None
    lit: bool = False


@dataclass(frozen=True)
class Zone:
    """A piece of the bay with a rule or a hazard on it.

    Attributes
    ----------
    kind : str
        One of bay.ZONE_KINDS (seagrass, no anchoring, cable, ...).
    shape : polygon or multipolygon in the bay's plane
    from_utc, until_utc : datetime or None
        When it is in force; None: always.
    """

    kind: str
    name: str
    shape: BaseGeometry
    source: str
    from_utc: datetime | None = None
    until_utc: datetime | None = None


@dataclass(frozen=True)
class WindSector:
    """What the skipper knows of the wind from one sector of this bay.

    Attributes
    ----------
    from_rad, until_rad : float
        Bearings the wind blows from, clockwise from the first to the second.
    factor : float or None
        On the mean wind; never on a forecast gust.
    gust_mps : float or None
        An absolute gust to reckon with, whatever the forecast. [m/s]
    turn_rad : float
        How far the land turns the wind, clockwise.
    spread_rad : float or None
        Standard deviation of the direction; None: the wide default.
    """

    from_rad: float
    until_rad: float
    factor: float | None = None
    gust_mps: float | None = None
    turn_rad: float = 0.0
    spread_rad: float | None = None


@dataclass(frozen=True)
class Soundings:
    """Scattered levels of the bed, one an entry. [m]

    east_m, north_m : arrays, shape (sounding,)
    level_m : array, up from chart datum (a depth of 3 m is -3)
    deviation_m : array, standard deviation of each
    track : array of whole numbers
        Which are of one leg of one track, errors of which are alike; -1: of none told.
    """

    east_m: NDArray[np.float64]
    north_m: NDArray[np.float64]
    level_m: NDArray[np.float64]
    deviation_m: NDArray[np.float64]
    track: NDArray[np.int64] = field(default_factory=lambda: np.empty(0, np.int64))

    def __post_init__(self) -> None:
        if self.track.size != self.east_m.size:
            object.__setattr__(self, "track", np.full(self.east_m.size, -1))

    def only(self, which: NDArray[np.bool_] | NDArray[np.int64]) -> Soundings:
        """Some of them, by a mask or by their numbers."""
        return Soundings(*(part[which] for part in vars(self).values()))


def legs_of(east_m: NDArray[np.float64], north_m: NDArray[np.float64]) -> NDArray[np.int64]:
    """Number of the leg each place of a track is on, in the order sailed: 100 m of way each."""
    way = np.cumsum(
        np.hypot(np.diff(east_m, prepend=east_m[:1]), np.diff(north_m, prepend=north_m[:1]))
    )
    return (way / LEG_M).astype(np.int64)


def joined(parts: Sequence[Soundings]) -> Soundings:
    """Several lots as one, their tracks kept apart."""
    tracks, next_free = [np.empty(0, np.int64)], 0
    for part in parts:
        tracks.append(np.where(part.track >= 0, part.track + next_free, -1))
        next_free = max(next_free, int(tracks[-1].max(initial=-1)) + 1)
    columns = [list(vars(part).values())[:4] for part in parts] or [[np.empty(0)] * 4]
    east, north, level, deviation = (np.concatenate(one) for one in zip(*columns, strict=True))
    return Soundings(east, north, level, deviation, np.concatenate(tracks))


@dataclass(frozen=True)
class Bay:
    """All that is known of one bay; ``far`` and ``high_ground`` None where nobody told.

    landmarks : what there is to look at beside the points ashore.
    """

    name: str
    frame: Frame
    zone_name: str
    chart_datum: str
    bottom: str
    surface: DepthSurface
    soundings: Soundings
    shore: BaseGeometry | None
    land: BaseGeometry | None
    points: tuple[ShorePoint, ...]
    zones: tuple[Zone, ...]
    sectors: tuple[WindSector, ...]
    basis: Basis
    far: FarShore | None = None
    high_ground: HighGround | None = None
    landmarks: tuple[Landmark, ...] = ()
