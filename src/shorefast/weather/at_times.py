"""A forecast and a tide table read at the hours of a stay."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.weather.series import Floats, Times, WaterLevel, Wind


@dataclass(frozen=True)
class _Between:
    """Where asked times fall in a row of times: entry before, share of the way on."""

    before: NDArray[np.int64]
    share: Floats
    inside: NDArray[np.bool_]

    def mix(self, values: Floats) -> Floats:
        """Straight lines along the last axis; NaN outside and beside an unknown entry."""
        first = values[..., self.before]
        last = values[..., np.minimum(self.before + 1, values.shape[-1] - 1)]
        # an entry hit exactly owes nothing to an unknown neighbour
        mixed = np.where(self.share == 0.0, first, first + self.share * (last - first))
        return np.where(self.inside, mixed, np.nan)


def _seconds(times: Times, since: np.datetime64) -> Floats:
    return (np.asarray(times, "datetime64[s]") - since).astype(np.float64)


def _between(row_utc: Times, at_utc: Times) -> _Between:
    row_s = _seconds(row_utc, row_utc[0])
    at_s = _seconds(at_utc, row_utc[0])
    before = np.clip(np.searchsorted(row_s, at_s, side="right") - 1, 0, len(row_s) - 1)
    gap_s = np.append(np.diff(row_s), 1.0)[before]
    inside = (at_s >= row_s[0]) & (at_s <= row_s[-1])
    share = np.where(inside, (at_s - row_s[before]) / gap_s, 0.0)
    return _Between(before, share, inside)


def _turn(between: _Between, from_rad: Floats) -> Floats:
    """Directions between the entries, the short way round; exactly opposite: clockwise."""
    steps = np.diff(from_rad, axis=-1)
    short = np.pi - np.mod(np.pi - steps, 2 * np.pi)
    way = np.concatenate([short, np.zeros_like(from_rad[..., :1])], axis=-1)
    start = from_rad[..., between.before]
    turned = np.where(between.share == 0.0, start, start + between.share * way[..., between.before])
    return np.where(between.inside, np.mod(turned, 2 * np.pi), np.nan)


def _most_of_spans(wind: Wind, at_utc: Times) -> Floats:
    """The greatest gust of all spans, ends included, that hold each asked time."""
    ends_s = _seconds(wind.time_utc, wind.time_utc[0])[:, np.newaxis]
    at_s = _seconds(at_utc, wind.time_utc[0])[np.newaxis, :]
    holds = (at_s <= ends_s) & (at_s >= ends_s - wind.gust_over_s)
    known = np.isfinite(wind.gust_mps)[..., np.newaxis]
    gusts = np.where(holds[np.newaxis] & known, wind.gust_mps[..., np.newaxis], -np.inf)
    most: Floats = gusts.max(axis=1)
    return np.where(np.isneginf(most), np.nan, most)


def wind_at(wind: Wind, times_utc: Times) -> Wind:
    """The same wind at other times: straight lines, direction the short way round.

    A gust that is the most of a span holds for the whole span; a time on the border
    of two spans takes the greater. Nothing is carried beyond the file's own times.

    Parameters
    ----------
    wind : Wind
    times_utc : datetime64 array, shape (time,)
        Any times, rising.

    Returns
    -------
    Wind
        Same members; NaN outside the file's span. ``gust_over_s`` is then 0.
    """
    at_utc = np.asarray(times_utc, "datetime64[s]")
    between = _between(wind.time_utc, at_utc)
    gust = _most_of_spans(wind, at_utc) if wind.gust_over_s > 0 else between.mix(wind.gust_mps)
    return Wind(
        member=wind.member,
        time_utc=at_utc,
        wind_mps=between.mix(wind.wind_mps),
        wind_from_rad=_turn(between, wind.wind_from_rad),
        gust_mps=gust,
        gust_over_s=0.0,
        height_m=wind.height_m,
        basis=wind.basis,
    )


def level_at(water: WaterLevel, times_utc: Times) -> Floats:
    """Height of the water above chart datum at any times. [m]

    Half a cosine between high and low waters, straight lines between heights in a
    row. For a semi-diurnal tide the half cosine is within 0.017 of the range of the
    rule of twelfths; where shallow water bends the curve it is not the truth.

    Parameters
    ----------
    water : WaterLevel
    times_utc : datetime64 array, shape (time,)

    Returns
    -------
    array, shape (time,)
        NaN outside the table's span.

    Source
    ------
    half-cosine-tide, common practice.
    """
    between = _between(water.time_utc, np.asarray(times_utc, "datetime64[s]"))
    if not water.turning:
        return between.mix(water.height_m)
    rise = (1.0 - np.cos(np.pi * between.share)) / 2.0
    return _Between(between.before, rise, between.inside).mix(water.height_m)
