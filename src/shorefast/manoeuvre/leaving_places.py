"""Where she may be on her way out under engine, from her berth until she is clear."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.leaving_away import Away
from shorefast.stay import Stay, lie_of, straight_reach_m, up_and_down_m

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TO_ANCHOR = (1.0 / 3.0, 2.0 / 3.0, 1.0)
_BLOWN = (0.5, 1.0)
OFF_THE_LINES, TO_THE_ANCHOR, BROKEN_OUT = (
    "off the lines", "on the way to the anchor", "broken out",
)  # fmt: skip


@dataclass(frozen=True)
class Begun:
    """How she begins her way out; arrays (entry, hour).

    at : int array (hour,), which of the judged times
    q : array (entry, hour, 3), at rest to the line that goes last
    off : array (moment, entry, hour, 3), from there on: in wind and chain alone until the
        engine is in, then with it
    blown_m : how far a gust takes her before she has way on [m]
    wind_mps, from_rad : at the height of her windage; level_m : the water
    out_m : chain out when the last line goes, array (hour,) [m]
    """

    at: Ints
    q: Floats
    off: Floats
    blown_m: Floats
    wind_mps: Floats
    from_rad: Floats
    level_m: Floats
    out_m: Floats

    def with_hours(self, other: Begun, some: NDArray[np.bool_]) -> Begun:
        """The same with some hours begun otherwise."""
        q = np.where(some[:, None], other.q, self.q)
        return replace(self, q=q, off=np.where(some[:, None], other.off, self.off))


def places_out(
    stay: Stay, begun: Begun, away: Away | None, out_rad: float
) -> tuple[Floats, list[str]]:
    """All places she may be at, (place, entry, hour, 3), and in which part of the way.

    Off the last line, moved in time by wind and chain, then by the engine too. Straight to
    the anchor, turning her bow to it in the first third; there also where a gust puts her
    that blows, as if beam on, until she has steerage way; the chain keeps her as near to the
    anchor as what is out then is long. Once it is broken out, the way she gets away, from
    beam on and still. NaN where no engine is told.
    """
    poses, names = [*begun.off], [OFF_THE_LINES] * begun.off.shape[0]
    for share in _TO_ANCHOR:
        for blown in _BLOWN:
            poses.append(_to_anchor(stay, begun, share, blown))
            names.append(TO_THE_ANCHOR)
    if away is None:
        return np.array([*poses, np.full_like(begun.q, math.nan)]), [*names, BROKEN_OUT]
    track = _from_anchor(stay, begun, away, out_rad)
    return np.concatenate([poses, track]), [*names, *(BROKEN_OUT for _ in track)]


def _from_anchor(stay: Stay, begun: Begun, away: Away, out_rad: float) -> Floats:
    """Her way from breaking out, (told, entry, hour, 3), her roller over the anchor first."""
    lie = lie_of(stay)
    way = away.places(begun.wind_mps, begun.from_rad - out_rad)
    heading = out_rad + way[..., 2]
    sine, cosine = math.sin(out_rad), math.cos(out_rad)
    back_m = stay.boat.roller.x_m
    east = lie.let_go_east_m - back_m * np.sin(heading[0]) + way[..., 0] * sine
    north = lie.let_go_north_m - back_m * np.cos(heading[0]) + way[..., 0] * cosine
    east, north = east + way[..., 1] * cosine, north - way[..., 1] * sine
    return np.stack([east, north, heading], axis=-1)


def _to_anchor(stay: Stay, begun: Begun, share: float, blown: float) -> Floats:
    """A share of the way from her berth to over the anchor, blown off, held by the chain."""
    lie, roller_m = lie_of(stay), stay.boat.roller.x_m
    q = begun.q
    toward = np.arctan2(lie.let_go_east_m - q[..., 0], lie.let_go_north_m - q[..., 1])
    turn = np.mod(toward - q[..., 2] + math.pi, 2.0 * math.pi) - math.pi
    heading = q[..., 2] + min(1.0, 3.0 * share) * turn
    over_east = lie.let_go_east_m - roller_m * np.sin(toward)
    over_north = lie.let_go_north_m - roller_m * np.cos(toward)
    east = q[..., 0] + share * (over_east - q[..., 0])
    north = q[..., 1] + share * (over_north - q[..., 1])
    down_m = blown * begun.blown_m
    east, north = east - down_m * np.sin(begun.from_rad), north - down_m * np.cos(begun.from_rad)
    return _held(stay, begun, np.stack([east, north, heading], axis=-1), share)


def _held(stay: Stay, begun: Begun, q: Floats, share: float) -> Floats:
    """Moved back toward the anchor where the chain that is out then is too short."""
    lie, roller_m = lie_of(stay), stay.boat.roller.x_m
    bow_east = q[..., 0] + roller_m * np.sin(q[..., 2]) - lie.let_go_east_m
    bow_north = q[..., 1] + roller_m * np.cos(q[..., 2]) - lie.let_go_north_m
    far_m = np.hypot(bow_east, bow_north)
    # chain out goes evenly from all of it to up and down
    plumb_m = up_and_down_m(stay, begun.level_m)
    out_m = begun.out_m + share * (plumb_m - begun.out_m)
    most_m = np.maximum(straight_reach_m(stay, begun.level_m, out_m), 1.0)
    back = np.where(far_m > most_m, 1.0 - most_m / np.maximum(far_m, 1e-9), 0.0)
    return np.stack([q[..., 0] - back * bow_east, q[..., 1] - back * bow_north, q[..., 2]], -1)
