"""Her own periods on her lines, from what she weighs and how stiffly she lies."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.mooring.current_force import Underbody
from shorefast.mooring.wind_load import WATER_KGPM3

Floats = NDArray[np.float64]

WAYS = ("surge", "sway", "yaw")
# shares of her own mass, of her length: fossen-2021 (from memory)
SURGE_SHARE, GYRATION_SHARE = 0.08, 0.25


class Inertia(NamedTuple):
    """What must be moved along [kg], across [kg] and turned [kg m2], added water included."""

    surge_kg: float
    sway_kg: float
    yaw_kgm2: float


@dataclass(frozen=True)
class Natural:
    """Her natural periods at a rest.

    Attributes
    ----------
    way : tuple of str
        "surge", "sway" or "yaw": what each swing is most of, longest period first.
    period_s : array, shape (3,)
        NaN where she would not swing back. [s]
    shape : array, shape (3, 3)
        Rows: how each swing goes, surge and sway [m], yaw [rad], its energy set to one.
    """

    way: tuple[str, ...]
    period_s: Floats
    shape: Floats


def inertia(body: Underbody, keel: float = 0.5) -> Inertia:
    """Her inertia with the water that goes with her.

    Along: 0.08 of her own mass. Across and turning by strips: each an ellipse's half as
    deep as she is there, pi rho d2 / 2. ``keel`` is how much of the keel's strips counts:
    0 leaves it out, 1 takes it as if water could not go round its ends.

    Parameters
    ----------
    body : Underbody
    keel : float
        From 0 to 1. A short keel lets water round its ends: half of it is our choice.

    Source
    ------
    newman-1977, ch. 4 (ellipse); fossen-2021, ch. 6 (surge, radius of gyration).
    """
    mass_kg, long_m = body.displacement_kg, body.waterline_m
    per_m2 = 0.5 * math.pi * WATER_KGPM3
    # depth squared falls off as a parabola to nothing at the ends
    hull_kg = per_m2 * body.body_m**2 * long_m * 2.0 / 3.0
    hull_kgm2 = per_m2 * body.body_m**2 * long_m**3 / 30.0
    fin_m = body.draught_m - body.body_m
    chord_m = body.keel_m2 / fin_m if fin_m > 0.0 else 0.0
    keel_kg = keel * per_m2 * (body.draught_m**2 - body.body_m**2) * chord_m
    keel_kgm2 = keel_kg * (body.keel_x_m**2 + chord_m**2 / 12.0)
    own_kgm2 = mass_kg * (GYRATION_SHARE * long_m) ** 2
    return Inertia(
        mass_kg * (1.0 + SURGE_SHARE),
        mass_kg + hull_kg + keel_kg,
        own_kgm2 + hull_kgm2 + keel_kgm2,
    )


def natural(stiffness: Floats, heading_rad: float, moved: Inertia) -> Natural:
    """Periods of her three slow swings about a rest, damping and waves' own water left out.

    Parameters
    ----------
    stiffness : array, shape (3, 3)
        -dF/dq at the rest, east, north [N/m], turning [N m/rad] (``Rest.stiffness``).
    heading_rad : float
    moved : Inertia

    Returns
    -------
    Natural
        NaN throughout where the stiffness is not known.

    Source
    ------
    fossen-2021, ch. 6: M q'' + K q = 0.
    """
    if not np.isfinite(stiffness).all():
        return Natural(WAYS, np.full(3, math.nan), np.full((3, 3), math.nan))
    sine, cosine = math.sin(heading_rad), math.cos(heading_rad)
    turned = np.array([[sine, cosine, 0.0], [cosine, -sine, 0.0], [0.0, 0.0, 1.0]])
    root = np.sqrt(np.array(moved))
    scaled = (turned.T @ stiffness @ turned) / np.outer(root, root)
    # wind and following chain make it slightly unequal across its diagonal
    value, vector = np.linalg.eigh(0.5 * (scaled + scaled.T))
    with np.errstate(divide="ignore", invalid="ignore"):
        period_s = np.where(value > 0.0, 2.0 * math.pi / np.sqrt(value), math.nan)
    return Natural(_ways(vector), period_s, (vector / root[:, None]).T)


def _ways(vector: Floats) -> tuple[str, ...]:
    """What each swing is most of by energy, each way named once."""
    share, named = vector.T**2, [""] * 3
    for _ in range(3):
        swing, way = divmod(int(np.argmax(share)), 3)
        named[swing] = WAYS[way]
        share[swing, :], share[:, way] = -1.0, -1.0
    return tuple(named)
