"""What waves and wash do to how deep she reaches."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.mooring import deep_wavelength_m, dip_share, highest_share
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
        waves_m = 0.5 * highest_m * _dip(stay, stay.waves.period_s, _toward_her(stay))
    if stay.wash is not None and stay.wash.height_m > 0.0:
        wash_m = 0.5 * stay.wash.height_m * _dip(stay, stay.wash.period_s, _AROUND)
    return Heave(waves_m, wash_m, _heave_basis(stay, waves_m, wash_m))


def _toward_her(stay: Stay) -> Floats:
    """Where the waves may come from, off her bow; from anywhere where no lie is given. [rad]"""
    if stay.waves is None or stay.lie is None:
        return _AROUND
    off_rad = stay.waves.from_rad - stay.lie.heading_rad
    return off_rad + _ABOUT_RAD * np.linspace(-1.0, 1.0, 9)


def _dip(stay: Stay, period_s: float, off_bow_rad: Floats) -> float:
    """The greatest share of the amplitude over these directions, for the outermost part."""
    long_m, beam_m = stay.boat.hull.waterline_m, stay.boat.hull.beam_m
    cosine, sine = np.cos(off_bow_rad), np.sin(off_bow_rad)
    extent_m = np.hypot(long_m * cosine, beam_m * sine)
    out_m = np.zeros_like(off_bow_rad)
    for part in stay.boat.underwater:
        out_m = np.maximum(out_m, np.abs(part.x_m * cosine + part.y_m * sine))
    return float(dip_share(extent_m, deep_wavelength_m(period_s), 2.0 * out_m / extent_m).max())


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
