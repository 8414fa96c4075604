"""Soundings left out and guessed from others: which from which, and over what gap.

A bed is asked for between soundings, mostly beside a boat's track. So a sounding is
guessed from those past a round gap, from those off its own line, and, where it is told
which soundings are of one track, from those of other tracks alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay.neighbours import (
    NEAREST,
    OF_EACH,
    Neighbours,
    Thinned,
    beyond,
    fine_enough,
    nearest,
    set_after_set,
    thin_out,
)

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

TRIED = 400
ROUND_A_LINE = 5
IN_LINE = 0.3
LINES_LEAST = 20
LANE_LENGTH = 8.0
PASSED_OVER = 60
OTHERS_LEAST = 6
FIFTHS = 5
TRACKS_LEAST = 5
ON_TRACKS = 0.5


class Guess(NamedTuple):
    """Soundings guessed over one gap: which, from which others, how far off the nearest is."""

    at: Ints
    others: Ints
    ends: Ints
    apart_m: Floats

    def some(self, every: int) -> Guess:
        """Each so many of them."""
        part = slice(None, None, every)
        return Guess(self.at[part], self.others[part], self.ends, self.apart_m[part])


class _Lane(NamedTuple):
    """Strips left out: which way each runs (unit vectors), and half its width. [m]"""

    way: Floats
    gap_m: float


def sample(count: int, most: int) -> Ints:
    """Numbers spread evenly over a count."""
    return np.unique(np.linspace(0, count - 1, min(count, most)).astype(np.int64))


def over_gaps(places: Floats, sets: Neighbours, gaps_m: Sequence[float]) -> list[Guess]:
    """A sample of soundings guessed over round gaps, and over their own line, where in one.

    Parameters
    ----------
    places : array, shape (sounding, 2)
        East and north. [m]
    gaps_m : numbers
    """
    at = sample(len(places), TRIED)
    return [*_round_gaps(places, sets, at, gaps_m), *_lanes(places, sets, at, gaps_m)]


def beside_lines(places: Floats, sets: Neighbours, gaps_m: Sequence[float]) -> list[Guess]:
    """As ``over_gaps``, but those that lie in a line are guessed over it alone."""
    at = sample(len(places), TRIED)
    _, in_line = _lines(places, sets, at)
    return [
        *_round_gaps(places, sets, at[~in_line], gaps_m),
        *_lanes(places, sets, at[in_line], gaps_m),
    ]


def _round_gaps(
    places: Floats, sets: Neighbours, at: Ints, gaps_m: Sequence[float]
) -> Iterator[Guess]:
    if not at.size:
        return
    for gap in gaps_m:
        others, ends = beyond(sets, places[at], gap)
        yield Guess(at, others, ends, _apart_m(places, at, others))


def _apart_m(places: Floats, at: Ints, others: Ints) -> Floats:
    off = places[others] - places[at][:, None, :]
    apart = np.where(others >= 0, np.hypot(off[..., 0], off[..., 1]), np.inf)
    return np.asarray(apart.min(axis=1))


def _lines(places: Floats, sets: Neighbours, at: Ints) -> tuple[Floats, NDArray[np.bool_]]:
    """Way the soundings round each run (a unit vector), and whether they lie in a line."""
    _, index = nearest(sets[0], places[at], ROUND_A_LINE)
    off = places[index] - places[index].mean(axis=1, keepdims=True)
    xx, yy = (off**2).mean(axis=1).T
    xy = (off[..., 0] * off[..., 1]).mean(axis=1)
    middle, half = 0.5 * (xx + yy), np.hypot(0.5 * (xx - yy), xy)
    turn = 0.5 * np.arctan2(2.0 * xy, xx - yy)
    in_line = middle - half < IN_LINE**2 * (middle + half)
    return np.column_stack((np.cos(turn), np.sin(turn))), in_line


def _lanes(places: Floats, sets: Neighbours, at: Ints, gaps_m: Sequence[float]) -> Iterator[Guess]:
    """Guesses with a lane along the sounding's own line left out, eight times as long as wide."""
    way, in_line = _lines(places, sets, at)
    if in_line.sum() < LINES_LEAST:
        return
    at, way = at[in_line], way[in_line]
    for gap in gaps_m:
        lane = _Lane(way, gap)
        parts = [_off_lane(places, one, at, lane, count) for one, count in _sets(sets, gap)]
        told = (parts[0] >= 0).sum(axis=1) >= OTHERS_LEAST
        others, ends = set_after_set([part[told] for part in parts])
        if told.any():
            yield Guess(at[told], others, ends, _apart_m(places, at[told], others))


def _sets(sets: Neighbours, gap_m: float) -> Iterator[tuple[Thinned, int]]:
    """Sets fine enough for a gap, and how many of each have a say."""
    for k, one in enumerate(sets[fine_enough(sets, gap_m) :]):
        yield one, NEAREST if k == 0 else OF_EACH


def _off_lane(places: Floats, one: Thinned, at: Ints, lane: _Lane, count: int) -> Ints:
    """The nearest few of a set outside each sounding's lane, -1 for none."""
    _, index = nearest(one, places[at], count + PASSED_OVER)
    off = places[index] - places[at][:, None, :]
    c, s = lane.way[:, :1], lane.way[:, 1:]
    along = np.abs(off[..., 0] * c + off[..., 1] * s)
    across = np.abs(off[..., 1] * c - off[..., 0] * s)
    outside = (along > LANE_LENGTH * lane.gap_m) | (across > lane.gap_m)
    return np.where(outside & (np.cumsum(outside, axis=1) <= count), index, -1)


def tracks_told(track: Ints) -> bool:
    """Whether enough is told of which soundings are of one track to leave tracks out."""
    told = track[track >= 0]
    return told.size > ON_TRACKS * track.size and np.unique(told).size >= TRACKS_LEAST


def from_other_tracks(places: Floats, track: Ints, spacing_m: float) -> Iterator[Guess]:
    """A sample of soundings guessed with a fifth of all tracks left out, theirs among them.

    Parameters
    ----------
    places : array, shape (sounding, 2)
    track : array, shape (sounding,)
        Number of the track of each; those of none (-1) are never left out.
    spacing_m : float
        Between neighbours. [m]
    """
    numbers, of = np.unique(track, return_inverse=True)
    # drawn by where the tracks lie: their numbers come from the order of the files
    lie = np.lexsort([np.bincount(of, weights=places[:, k]) for k in (1, 0)])
    fifth = np.empty(numbers.size, np.int64)
    fifth[lie] = np.random.default_rng(0).permutation(numbers.size) % FIFTHS
    fifth[numbers < 0] = -1
    at = sample(track.size, 2 * TRIED)
    for part in range(FIFTHS):
        out, rest = at[fifth[of[at]] == part], np.flatnonzero(fifth[of] != part)
        if out.size and rest.size >= OTHERS_LEAST:
            sets = thin_out(places[rest], spacing_m)
            parts = [
                rest[nearest(one, places[out], NEAREST if k == 0 else OF_EACH)[1]]
                for k, one in enumerate(sets)
            ]
            others, ends = set_after_set(parts)
            yield Guess(out, others, ends, _apart_m(places, out, others))
