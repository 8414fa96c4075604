"""Room on her way out under engine: off the lines, to her anchor, breaking out, away."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.stay import (
    Judged,
    Stay,
    room_use,
    rooms_there,
    straight_reach_m,
    up_and_down_m,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TO_ANCHOR = (0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0)
_LENGTHS_OUT = (1.0, 2.0)
_BLOWN = (0.5, 1.0)
OFF_THE_LINES, TO_THE_ANCHOR, BREAKING_OUT, AWAY = (
    "off the lines", "on the way to the anchor", "breaking out", "on the way out",
)  # fmt: skip


@dataclass(frozen=True)
class Begun:
    """How she begins her way out; arrays (entry, hour).

    at : int array (hour,), which of the judged times
    q : array (entry, hour, 3), at rest to the line that goes last
    blown_m : how far a gust takes her before she has way on [m]
    from_rad : where it blows from; level_m : the water
    out_m : chain out when the last line goes [m]
    """

    at: Ints
    q: Floats
    blown_m: Floats
    from_rad: Floats
    level_m: Floats
    out_m: float


@dataclass(frozen=True)
class RoomOut:
    """Room on her way out; arrays (entry, hour).

    past : 1 where something has less room than wanted, 0 where not, NaN unknown
    use : the greatest room wanted over room there is
    least_m, of, place : the room that is shortest by that measure [m], of what, and in which
        part of the way, as numbers of ``names`` and ``places``
    """

    past: Floats
    use: Floats
    least_m: Floats
    of: Ints
    place: Ints
    names: tuple[str, ...]
    places: tuple[str, ...]


def room_out(stay: Stay, judged: Judged, begun: Begun, out_rad: float) -> RoomOut:
    """Room while she goes under engine from her berth over her anchor and out.

    Straight to the anchor, turning her bow to it in the first third; broken out beam on to
    the wind; then two lengths out. At each place she is also where a gust puts her that
    blows, across no matter what, for as long as she takes to steerage way; the chain keeps
    her as near to the anchor as it is long until it is broken out.

    Parameters
    ----------
    begun : Begun
    out_rad : float
        The way out. [rad]
    """
    poses, places = _poses(stay, begun, out_rad)
    rooms = rooms_there(stay, judged, begun.at, poses)
    use = np.array([room_use(room) for room in rooms])
    room_m = np.array([room.room_m for room in rooms])
    kinds, spots = use.shape[:2]
    flat, flat_m = (one.reshape(kinds * spots, *one.shape[2:]) for one in (use, room_m))
    worst = np.nan_to_num(flat, nan=-1.0).argmax(axis=0)
    unknown = np.isnan(flat).any(axis=0)
    most = np.take_along_axis(flat, worst[None], axis=0)[0]
    past = np.where(most > 1.0, 1.0, np.where(unknown, np.nan, 0.0))
    names = tuple(dict.fromkeys(places))
    which = np.array([names.index(one) for one in places])[worst % spots]
    return RoomOut(
        past, np.where(unknown & ~(most > 1.0), np.nan, most),
        np.take_along_axis(flat_m, worst[None], axis=0)[0],
        worst // spots, which, tuple(room.of for room in rooms), names,
    )  # fmt: skip


def _poses(stay: Stay, begun: Begun, out_rad: float) -> tuple[Floats, list[str]]:
    """All places she may be at, (place, entry, hour, 3), and in which part of the way."""
    poses, places = [], []
    for share in _TO_ANCHOR:
        place = OFF_THE_LINES if share == 0.0 else TO_THE_ANCHOR
        for blown in _BLOWN:
            poses.append(_to_anchor(stay, begun, share, blown))
            places.append(place)
    beam_on = _nearest_beam(begun.from_rad, out_rad)
    for ahead, heading, place in [
        (0.0, beam_on, BREAKING_OUT),
        *((one, np.full_like(beam_on, out_rad), AWAY) for one in _LENGTHS_OUT),
    ]:
        for blown in _BLOWN:
            poses.append(_free(stay, begun, (ahead, out_rad, heading), blown))
            places.append(place)
    return np.array(poses), places


def _nearest_beam(from_rad: Floats, out_rad: float) -> Floats:
    """Beam on to the wind, that heading of the two which is nearer to the way out."""
    port, starboard = from_rad + 0.5 * math.pi, from_rad - 0.5 * math.pi
    nearer = np.cos(port - out_rad) >= np.cos(starboard - out_rad)
    return np.asarray(np.where(nearer, port, starboard))


def _to_anchor(stay: Stay, begun: Begun, share: float, blown: float) -> Floats:
    """A share of the way from her berth to over the anchor, blown off, held by the chain."""
    assert stay.lie is not None
    lie, roller_m = stay.lie, stay.boat.roller.x_m
    q = begun.q
    toward = np.arctan2(lie.let_go_east_m - q[..., 0], lie.let_go_north_m - q[..., 1])
    turn = np.mod(toward - q[..., 2] + math.pi, 2.0 * math.pi) - math.pi
    heading = q[..., 2] + min(1.0, 3.0 * share) * turn
    over_east = lie.let_go_east_m - roller_m * np.sin(toward)
    over_north = lie.let_go_north_m - roller_m * np.cos(toward)
    east = q[..., 0] + share * (over_east - q[..., 0])
    north = q[..., 1] + share * (over_north - q[..., 1])
    down_m = blown * begun.blown_m
    moved = np.stack(
        [east - down_m * np.sin(begun.from_rad), north - down_m * np.cos(begun.from_rad), heading],
        axis=-1,
    )
    return _held(stay, begun, moved, share)


def _held(stay: Stay, begun: Begun, q: Floats, share: float) -> Floats:
    """Moved back toward the anchor where the chain that is out then is too short."""
    assert stay.lie is not None
    roller_m = stay.boat.roller.x_m
    bow_east = q[..., 0] + roller_m * np.sin(q[..., 2]) - stay.lie.let_go_east_m
    bow_north = q[..., 1] + roller_m * np.cos(q[..., 2]) - stay.lie.let_go_north_m
    far_m = np.hypot(bow_east, bow_north)
    # chain out goes evenly from all of it to up and down
    down_m = up_and_down_m(stay, begun.level_m)
    out_m = begun.out_m + share * (down_m - begun.out_m)
    most_m = np.maximum(straight_reach_m(stay, begun.level_m, out_m), 1.0)
    back = np.where(far_m > most_m, 1.0 - most_m / np.maximum(far_m, 1e-9), 0.0)
    return np.stack([q[..., 0] - back * bow_east, q[..., 1] - back * bow_north, q[..., 2]], -1)


def _free(stay: Stay, begun: Begun, on: tuple[float, float, Floats], blown: float) -> Floats:
    """Lengths out from over the anchor on a bearing, with a heading there, blown off."""
    assert stay.lie is not None
    lengths, out_rad, heading = on
    ahead_m, down_m = lengths * stay.boat.hull.length_m, blown * begun.blown_m
    roller_m = stay.boat.roller.x_m if lengths == 0.0 else 0.0
    east = (
        stay.lie.let_go_east_m + ahead_m * math.sin(out_rad)
        - roller_m * np.sin(heading) - down_m * np.sin(begun.from_rad)
    )  # fmt: skip
    north = (
        stay.lie.let_go_north_m + ahead_m * math.cos(out_rad)
        - roller_m * np.cos(heading) - down_m * np.cos(begun.from_rad)
    )  # fmt: skip
    return np.stack([east, north, heading + 0.0 * begun.from_rad], axis=-1)
