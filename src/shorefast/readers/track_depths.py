"""Soundings of any track reduced to chart datum, the bad ones left out and counted."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame, carried, reduced, slope_along, steady
from shorefast.errors import BadInput, Unreadable
from shorefast.readers.depths import DEEPEST_M, DepthsRead, Tally, Told
from shorefast.readers.track_told import (
    ARM_UNKNOWN_M,
    Floats,
    Sailed,
    Sounded,
    Times,
    frame_round,
    times_of,
)
from shorefast.weather import WaterLevel

Flags = NDArray[np.bool_]
LeftOut = tuple[tuple[str, int], ...]

LOG = "NMEA 0183 log"
NOT_REDUCED = "surface of the moment, not reduced"
_ASK_WATER = (
    "Give the tide (tide.csv with time_utc,height_m) or one level_m above chart datum for this log."
)
NO_WATER = "no height of water told for that moment"


class OutsideTide(Unreadable):
    """A log of hours for none of which the height of the water is told.

    left_out : its (why, count), as ``DepthsRead`` has them.
    """

    def __init__(self, said: tuple[str, str, str, str], left_out: LeftOut) -> None:
        super().__init__(*said)
        self.left_out = left_out


@dataclass(frozen=True)
class Track:
    """Soundings along a track before they are judged.

    Attributes
    ----------
    has_date : bool
        Whether the moments have one.
    lines : (after, until)
        Only what stands on lines in between is given; the rest helps to judge it.
    """

    name: str
    kind: str
    sounded: Sounded
    has_date: bool
    lines: tuple[int, int | None] = (0, None)


@dataclass(frozen=True)
class Noticed:
    """What was left out, and remarks."""

    tally: Tally
    notes: list[str]


def reduce_track(
    track: Track, told: Told, sailed: Sailed, frame: Frame | None, noticed: Noticed
) -> DepthsRead:
    """Levels above chart datum out of depths under the surface.

    Parameters
    ----------
    frame : Frame or None
        The bay's plane; else one round the track.

    Raises
    ------
    BadInput
        If depths were told to count up, or water or day must be told and are not.
    Unreadable
        If no sounding is left; ``OutsideTide`` if for want of a height of the water.
    """
    _check_told(track, told, sailed)
    sounded = track.sounded
    if not sounded.t_s.size:
        raise _none_left(track, noticed)
    frame = frame or frame_round(sounded.lat_deg, sounded.lon_deg)
    east, north = frame.to_plane(sounded.lat_deg, sounded.lon_deg)
    good = _believed(track, east, north, noticed)
    sounded, east, north = sounded.only(good), east[good], north[good]
    water = _water(sounded, sailed)
    place = np.hypot(sounded.place_m, _run_m(sounded, east, north, sailed))
    east, north, arm = _on_transducer(east, north, sounded.heading_rad, sailed, noticed)
    slope = slope_along(east, north, sounded.depth_m)
    doubts = sailed.doubts
    if told.deviation_m is not None:
        doubts = replace(doubts, sounder_m=told.deviation_m, sound_share=0.0)
    level, deviation = reduced(sounded.depth_m, water, slope, np.hypot(place, arm), doubts)
    given = _given(track, sounded, np.isfinite(level), sailed, noticed)
    lat, lon = frame.to_earth(east[given], north[given])
    datum = NOT_REDUCED if sailed.water is None else told.datum
    return DepthsRead(
        track.name, track.kind, lat, lon, level[given] + told.datum_offset_m, deviation[given],
        noticed.tally.rows(), "EPSG:4326", datum, None, tuple(noticed.notes), sailed=True,
    )  # fmt: skip


def _check_told(track: Track, told: Told, sailed: Sailed) -> None:
    if told.depth == "up":
        raise BadInput(
            track.name,
            "depth up",
            f"depths in a {track.kind} count down from the surface",
            "Take depth out, or say down.",
        )
    if sailed.water is None and not sailed.as_it_was:
        raise BadInput(
            track.name,
            "depths under the surface of the moment",
            "how high the water stood nobody told",
            _ASK_WATER,
        )
    if sailed.by_the_minute is not None and track.sounded.t_s.size and not track.has_date:
        raise BadInput(
            track.name,
            "no date in it" if track.kind == LOG else "no times in it",
            "the tide changes from day to day" if track.kind == LOG else "the tide changes",
            sailed.ways_out.no_day if track.kind == LOG else sailed.ways_out.no_times,
        )


def _none_left(track: Track, noticed: Noticed) -> Unreadable:
    rows = noticed.tally.rows()
    why = ", ".join(f"{count} times {why}" for why, count in rows)
    first = next(iter(noticed.tally.first.values()), "")
    return Unreadable(
        track.name,
        f"no sounding in it can be believed ({why}; first {first})" if rows else "no depth in it",
        f"soundings in a {track.kind} wanted",
        "Look at the instruments, or leave this log out.",
    )


def _believed(track: Track, east_m: Floats, north_m: Floats, noticed: Noticed) -> Flags:
    """Soundings that are no false echo; the shoalest spike left out is told with its place."""
    sounded = track.sounded
    deep = sounded.depth_m > DEEPEST_M
    judged = steady(sounded.t_s, east_m, north_m, sounded.depth_m)
    reasons = {
        "deeper than any sea": deep,
        "false echo: no slope explains the jump from its neighbours": judged.false_echo & ~deep,
        "bottom lost: depths leap about": judged.unsteady & ~deep,
    }
    for why, found in reasons.items():
        inside = found & _inside(track, sounded)
        if inside.any():
            first = int(sounded.line[inside][0])
            noticed.tally.add(why, f"{track.name}, line {first}", int(inside.sum()))
    good = ~(deep | judged.false_echo | judged.unsteady)
    if not good.any():
        raise _none_left(track, noticed)
    _tell_shoalest(track, judged.false_echo & ~deep & _inside(track, sounded), good, noticed)
    return np.asarray(good)


def _inside(track: Track, sounded: Sounded) -> Flags:
    after, until = track.lines
    inside = sounded.line > after
    return np.asarray(inside if until is None else inside & (sounded.line <= until))


def _tell_shoalest(track: Track, false: Flags, good: Flags, noticed: Noticed) -> None:
    """A remark on the shoalest spike that stood above the good soundings beside it."""
    sounded = track.sounded
    at = np.flatnonzero(false)
    level = np.interp(at, np.flatnonzero(good), sounded.depth_m[good])
    shoal = at[sounded.depth_m[at] < level]
    if not shoal.size:
        return
    worst = int(shoal[np.argmin(sounded.depth_m[shoal])])
    noticed.notes.append(
        f"{shoal.size} of the false echoes stand above their neighbours, the shoalest "
        f"{sounded.depth_m[worst]:.1f} m under the surface at {sounded.lat_deg[worst]:.5f}, "
        f"{sounded.lon_deg[worst]:.5f}: a fish, or a rock"
    )


def _water(sounded: Sounded, sailed: Sailed) -> Floats:
    """Height of the surface above chart datum at each moment, 0 if it is not to be reduced."""
    height = sailed.by_the_minute
    if height is not None:
        return height(times_of(sounded.t_s))
    level_m = sailed.water if isinstance(sailed.water, int | float) else 0.0
    return np.full(sounded.t_s.shape, float(level_m))


def _run_m(sounded: Sounded, east_m: Floats, north_m: Floats, sailed: Sailed) -> Floats:
    """How far she runs in the moment between fix and depth. [m]"""
    if sounded.t_s.size < 2:
        return np.zeros(sounded.t_s.shape)
    step_s = np.diff(sounded.t_s)
    apart = np.hypot(np.diff(east_m), np.diff(north_m))
    speed = np.where(step_s > 0.0, apart / np.maximum(step_s, 0.1), 0.0)
    return np.asarray(np.append(speed[:1], speed) * sailed.doubts.moment_s)


def _on_transducer(
    east_m: Floats, north_m: Floats, heading_rad: Floats, sailed: Sailed, noticed: Noticed
) -> tuple[Floats, Floats, Floats]:
    """Places of the transducer and the doubt of the lever arm. [m]"""
    if sailed.arm_m is None:
        noticed.notes.append(
            f"where antenna and transducer are on board nobody told: {ARM_UNKNOWN_M:g} m of doubt"
        )
        return east_m, north_m, np.full(east_m.shape, ARM_UNKNOWN_M)
    unknown = int(np.sum(~np.isfinite(heading_rad)))
    if unknown and math.hypot(*sailed.arm_m) > 0.0:
        noticed.notes.append(
            f"heading unknown at {unknown} soundings: the {math.hypot(*sailed.arm_m):.1f} m from "
            "antenna to transducer are doubt there"
        )
    return carried(east_m, north_m, heading_rad, *sailed.arm_m)


def _given(track: Track, sounded: Sounded, known: Flags, sailed: Sailed, noticed: Noticed) -> Flags:
    """Those to be given: with a water height, on the lines asked for."""
    inside = _inside(track, sounded)
    dry = int(np.sum(inside & ~known))
    if dry:
        first = int(sounded.line[inside & ~known][0])
        noticed.tally.add(NO_WATER, f"{track.name}, line {first}", dry)
    if not (inside & known).any():
        if dry and isinstance(sailed.water, WaterLevel):
            raise _outside_tide(track, times_of(sounded.t_s[inside]), sailed.water, noticed)
        raise _none_left(track, noticed)
    return np.asarray(inside & known)


def _outside_tide(track: Track, at_utc: Times, water: WaterLevel, noticed: Noticed) -> OutsideTide:
    got = f"all its {at_utc.size} good soundings are of {span_words(at_utc)}"
    told = water.time_utc[np.isfinite(water.height_m)]
    against = f"the height of the water is told for {span_words(told)}" if told.size else ""
    way_out = "Name a tide of those hours, or correct the day."
    return OutsideTide((track.name, got, against, way_out), noticed.tally.rows())


def span_words(times_utc: Times) -> str:
    """From the first to the last of some moments, as they are told in UTC."""
    first, last = (one.astype("datetime64[m]").item() for one in (times_utc.min(), times_utc.max()))
    until = f"{last:%H:%M}" if first.date() == last.date() else f"{last:%Y-%m-%d %H:%M}"
    return f"{first:%Y-%m-%d %H:%M} to {until} UTC"
