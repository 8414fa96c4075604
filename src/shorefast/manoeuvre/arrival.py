"""What she comes into: the wind of that hour, the water, where she is to lie, the way in."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import UTC, datetime

import numpy as np
import shapely

from shorefast.basis import Assumption, Basis
from shorefast.errors import BadInput
from shorefast.mooring import AIR_KGPM3, Handled, Load, Scene, driven_of, solve_rest
from shorefast.stay import Rigged, Stay, bay_wind, lie_of, rig, rode_segments
from shorefast.weather import level_at

# what a hand on a winch takes in against; by hand alone it is a tenth of that
WINCH_N = 2500.0
# heaving and veering where nobody tells: the middle of what windlasses do
VEER_MPS, HEAVE_MPS = 0.25, 0.20
_SEARCH_M = 500.0


@dataclass(frozen=True)
class Wind:
    """Mean and gust at 10 m [m/s], where it comes from; NaN unknown."""

    mean_mps: float
    gust_mps: float
    from_rad: float


@dataclass(frozen=True)
class Arrival:
    """A lie as she comes into it.

    Attributes
    ----------
    at_utc : datetime
    level_m : float
        Of the water. [m]
    wind : Wind
        In the middle of what is told for that hour, by what blows across her way in.
    hardest : Wind
        The one hardest across of what half of the members tell.
    planned : (east_m, north_m, heading_rad)
        Where she comes to rest in the mean wind of that hour.
    way_in_rad : float
        From the anchor toward where her roller lies then: the way she goes astern.
    reach_m : float
        Level distance from the anchor to the roller there. [m]
    depth_m : float
        Water over the place where the anchor goes. [m]
    """

    stay: Stay
    rigged: Rigged
    at_utc: datetime
    level_m: float
    wind: Wind
    hardest: Wind
    planned: tuple[float, float, float]
    way_in_rad: float
    reach_m: float
    depth_m: float
    basis: Basis

    @property
    def veer_mps(self) -> float:
        """How fast the windlass veers. [m/s]"""
        return self.stay.boat.windlass.veer_mps or VEER_MPS

    @property
    def anchor(self) -> tuple[float, float]:
        """Where the anchor goes, east and north. [m]"""
        lie = lie_of(self.stay)
        return lie.let_go_east_m, lie.let_go_north_m

    def felt_mps(self, wind_mps: float) -> float:
        """A wind at 10 m as it is at the height of her windage. [m/s]"""
        return wind_mps * self.rigged.height_share

    def across_mps(self, wind: Wind) -> float:
        """What of a mean wind blows across the way in; above 0 from the right of it astern."""
        return wind.mean_mps * math.sin(wind.from_rad - self.way_in_rad)

    def handled(self, **more: float) -> Handled:
        """Her as she comes in: all chain stowed, no line fast."""
        boat = self.stay.boat
        bare = replace(boat, snubber=None)
        rode = replace(
            self.rigged.rode, segments=rode_segments(bare, boat.rode_aboard_m), tail_m=0.0
        )
        lines = self.rigged.scene.lines[1:]
        scene = Scene((rode, *lines), self.rigged.scene.domain, self.rigged.scene.wind)
        windlass = boat.windlass
        return Handled(
            scene,
            driven_of(boat, self.rigged.form),
            (self.veer_mps, windlass.heave_mps or HEAVE_MPS),
            windlass.pull_n or math.inf,
            hand_n=np.full(len(scene.lines), WINCH_N),
            **more,
        )

    def off_m(self, east_m: float, north_m: float) -> float:
        """Distance of a place to the high-water line; NaN where no shore is known. [m]"""
        shore = self.stay.bay.shore
        if shore is None:
            return math.nan
        return float(shapely.distance(shore, shapely.points(east_m, north_m)))

    def off_astern_m(self, q: tuple[float, float, float]) -> float:
        """From her stern to the high-water line along the way in, as the hand there calls it.

        To the nearest of it where none lies that way; NaN where no shore is known. [m]
        """
        shore, (east_m, north_m) = self.stay.bay.shore, self.stern(q)
        if shore is None:
            return math.nan
        here = shapely.Point(east_m, north_m)
        far = (
            east_m + _SEARCH_M * math.sin(self.way_in_rad),
            north_m + _SEARCH_M * math.cos(self.way_in_rad),
        )
        met = shore.intersection(shapely.LineString([(east_m, north_m), far]))
        return float(here.distance(shore if met.is_empty else met))

    def stern(self, q: tuple[float, float, float]) -> tuple[float, float]:
        """Her stern's middle, east and north. [m]"""
        back_m = 0.5 * self.stay.boat.hull.length_m
        return q[0] - back_m * math.sin(q[2]), q[1] - back_m * math.cos(q[2])

    def roller(self, q: tuple[float, float, float]) -> tuple[float, float]:
        """The bow roller, east and north. [m]"""
        ahead_m = self.stay.boat.roller.x_m
        return q[0] + ahead_m * math.sin(q[2]), q[1] + ahead_m * math.cos(q[2])


def winds_of_hour(stay: Stay, at_utc: datetime, way_in_rad: float) -> tuple[Wind, Wind]:
    """The winds at a time, by what of them blows across a bearing: middle and hardest.

    The middle of all members and of all winds told for one hour; and, of each member the
    hardest, the middle of those. Alike where one wind is told.
    """
    at = np.array([_stamp(at_utc)])
    wind = bay_wind(stay, at)
    mean, gust, blow = (a[:, 0] for a in (wind.wind_mps, wind.gust_mps, wind.wind_from_rad))
    across = mean * np.sin(blow - way_in_rad)
    known = np.flatnonzero(np.isfinite(across))
    if not known.size:
        unknown = Wind(math.nan, math.nan, math.nan)
        return unknown, unknown
    hard = [
        max(known[wind.member[known] == one], key=lambda k: (abs(across[k]), -k))
        for one in np.unique(wind.member[known])
    ]
    found = [
        sorted(rows, key=lambda k: (across[k], k))[(len(rows) - 1) // 2] for rows in (known, hard)
    ]
    middle, hardest = (Wind(float(mean[k]), float(gust[k]), float(blow[k])) for k in found)
    return middle, hardest


def arrival(stay: Stay, at_utc: datetime | None = None) -> Arrival:
    """How she finds the bay as she comes in, and where she is to lie.

    Parameters
    ----------
    stay : Stay
        With a lie.
    at_utc : datetime, optional
        When she comes; the stay's first moment where left out.

    Raises
    ------
    BadInput
        Without a lie or an engine; where wind, water or bed are unknown; where she has
        no place to lie.
    """
    at = at_utc or stay.from_utc
    level_m = float(level_at(stay.water, np.array([_stamp(at)]))[0])
    if not math.isfinite(level_m):
        raise BadInput(
            stay.name, "the water level is unknown then", "a tide or a level wanted", "Add it."
        )
    lie = lie_of(stay)
    bed_m = float(stay.bay.surface.level_at(lie.let_go_east_m, lie.let_go_north_m))
    if not math.isfinite(bed_m):
        raise BadInput(
            "Lie", "the depth where the anchor goes is unknown", "soundings there wanted", "Sound."
        )
    rigged = rig(stay, level_m)
    toward = math.atan2(rigged.start[0] - lie.let_go_east_m, rigged.start[1] - lie.let_go_north_m)
    wind, hardest = winds_of_hour(stay, at, toward)
    if not math.isfinite(wind.mean_mps + wind.from_rad):
        raise BadInput(
            stay.name, "no wind is known for that hour", "a forecast wanted", "Give one."
        )
    rest = _rest(rigged, wind, level_m)
    if rest is None:
        raise BadInput(
            stay.name,
            "she finds no place to lie in the wind of that hour",
            "a lie that holds when she comes in is wanted",
            "Ask judge about this lie, or choose another.",
        )
    east_m, north_m = (
        rest[0] + rigged.rode.x_m * math.sin(rest[2]),
        rest[1] + rigged.rode.x_m * math.cos(rest[2]),
    )
    de, dn = east_m - lie.let_go_east_m, north_m - lie.let_go_north_m
    return Arrival(
        stay, rigged, at, level_m, wind, hardest, rest, math.atan2(de, dn), math.hypot(de, dn),
        level_m - bed_m, _basis(wind),
    )  # fmt: skip


def _stamp(at_utc: datetime) -> np.datetime64:
    return np.datetime64(at_utc.astimezone(UTC).replace(tzinfo=None), "s")


def _rest(rigged: Rigged, wind: Wind, level_m: float) -> tuple[float, float, float] | None:
    felt = wind.mean_mps * rigged.height_share
    load = Load(0.0, 0.0, 0.0, felt, wind.from_rad, AIR_KGPM3)
    start = (float(rigged.start[0]), float(rigged.start[1]), float(rigged.start[2]))
    found = solve_rest(rigged.scene, load, level_m, start, arm_m=rigged.arm_m)
    if found.why != "found":
        return None
    return found.east_m, found.north_m, found.heading_rad


def _basis(wind: Wind) -> Basis:
    said = Assumption(
        "She comes in by the mean wind of that hour in the middle of what the forecast tells,"
        " counted by what blows across her way in",
        "In a gust she is set farther: what is told beside the gust says how far",
    )
    return Basis(assumptions=(said,))
