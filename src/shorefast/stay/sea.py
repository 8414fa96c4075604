"""What waves and wash do to how deep she reaches."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Assumption, Basis
from shorefast.mooring import deep_wavelength_m, dip_share, highest_share
from shorefast.stay.by_fetch import SeaByFetch
from shorefast.stay.plan import Stay

Floats = NDArray[np.float64]
# she and the waves both turn about their directions: our choice
_ABOUT_RAD = math.radians(20.0)
_AROUND = np.linspace(0.0, math.pi, 37)


@dataclass(frozen=True)
class Heave:
    """How far keel, rudder and ladder may go below still water. [m]

    waves_m, wash_m : of the waves and of a passing vessel's wash, 0 where none are told.
    """

    waves_m: float
    wash_m: float
    basis: Basis

    @property
    def down_m(self) -> float:
        """Both at once: the highest wave as the wash comes by."""
        return self.waves_m + self.wash_m


def heave_m(stay: Stay) -> float:
    """How far what can touch may go below still water, by waves and wash together. [m]"""
    return heave(stay).down_m


def heave(stay: Stay) -> Heave:
    """How far keel, rudder and ladder go down in the troughs, one figure for all of them.

    Half the highest of a thousand waves where they are long; the share of it that a
    hull of her waterline takes up where they are short, pitch at the outermost part
    included. Never more than the trough is deep. The wash comes from anywhere, so it is
    met by her beam or her length, whichever gives more.

    Returns
    -------
    Heave
        In m; nought where neither waves nor wash are told.

    Source
    ------
    longuet-higgins-1952; faltinsen-1990, ch. 3.
    """
    waves_m = wash_m = 0.0
    if stay.waves is not None and stay.waves.height_m > 0.0:
        highest_m = highest_share() * stay.waves.height_m
        dipped = _dip(stay, stay.waves.period_s, _toward_her(stay, stay.waves.from_rad))
        waves_m = 0.5 * highest_m * float(dipped)
    if stay.wash is not None and stay.wash.height_m > 0.0:
        wash_m = 0.5 * stay.wash.height_m * float(_dip(stay, stay.wash.period_s, _AROUND))
    return Heave(waves_m, wash_m, _heave_basis(stay, waves_m, wash_m))


def sea_down_m(stay: Stay, sea: SeaByFetch | None) -> Floats:
    """How far she goes below still water in the sea of each hour. [m]

    As ``heave``, with the waves by fetch; nought where they are unknown, which is told.

    Returns
    -------
    array, shape (member, time), or of no dimension where there is no such sea
    """
    if sea is None:
        return np.zeros(())
    known = np.isfinite(sea.height_m) & (sea.height_m > 0.0)
    period_s = np.where(known, sea.period_s, 1.0)
    dipped = _dip(stay, period_s, _toward_her(stay, np.where(known, sea.from_rad, 0.0)))
    height_m = np.where(known, sea.height_m, 0.0)
    return np.asarray(0.5 * highest_share() * height_m * dipped)


def _toward_her(stay: Stay, from_rad: ArrayLike) -> Floats:
    """Where the waves may come from, off her bow, on a last axis; from anywhere without a lie."""
    if stay.lie is None:
        return _AROUND
    off_rad = np.asarray(from_rad, float)[..., np.newaxis] - stay.lie.heading_rad
    return np.asarray(off_rad + _ABOUT_RAD * np.linspace(-1.0, 1.0, 9))


def _dip(stay: Stay, period_s: ArrayLike, off_bow_rad: Floats) -> Floats:
    """The greatest share of the amplitude over the last axis, for the outermost part."""
    long_m, beam_m = stay.boat.hull.waterline_m, stay.boat.hull.beam_m
    cosine, sine = np.cos(off_bow_rad), np.sin(off_bow_rad)
    extent_m = np.hypot(long_m * cosine, beam_m * sine)
    out_m = np.zeros_like(off_bow_rad)
    for part in stay.boat.underwater:
        out_m = np.maximum(out_m, np.abs(part.x_m * cosine + part.y_m * sine))
    length_m = deep_wavelength_m(np.asarray(period_s, float)[..., np.newaxis])
    share: Floats = dip_share(extent_m, length_m, 2.0 * out_m / extent_m).max(axis=-1)
    return share


def _heave_basis(stay: Stay, waves_m: float, wash_m: float) -> Basis:
    said = []
    if stay.waves is None:
        said.append(_NO_WAVES)
    else:
        said.append(
            Assumption(
                f"In waves of {stay.waves.height_m:.1f} m ({stay.waves.period_s:.1f} s) keel and"
                f" rudder go down {waves_m:.2f} m below still water: her share of half the"
                f" highest wave in a thousand ({highest_share():.2f} of the significant height)",
                "If she pitches in step with waves twice her length, her ends dip a third deeper",
            )
        )
    if stay.wash is not None:
        said.append(
            Assumption(
                f"The wash of a passing vessel, {stay.wash.height_m:.1f} m, takes them down"
                f" {wash_m:.2f} m more",
                "A larger vessel, or one that comes faster and nearer, throws a higher wash",
            )
        )
    told = stay.waves is not None or stay.wash is not None
    return Basis((), tuple(said), ("longuet-higgins-1952", "faltinsen-1990") if told else ())


_NO_WAVES = Assumption(
    "Waves are left out: the stay names none",
    "In waves keel and rudder go deeper, she moves, and slack lines come taut with a jerk",
)
