"""Wind and current on the hull: three forces and a turning moment.

Body axes: x forward, y to starboard, moment clockwise seen from above (it makes
the heading grow).
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.compiled import hot_kernel

AIR_KGPM3 = 1.225
WATER_KGPM3 = 1025.0


class WindForm(NamedTuple):
    """What the wind formula needs of a ship.

    frontal_m2, lateral_m2 [m2]; length_m [m]; lever_m of the lateral centre
    forward of midships [m]; coefficients of drag across, along from ahead and
    from astern; cross-force parameter delta; how the lever of the side force moves
    aft as the wind draws aft: ``turn`` of the length for each radian (Blendermann:
    0.18) plus ``swing`` of the length times the cosine of the wind off the bow.
    """

    frontal_m2: float
    lateral_m2: float
    length_m: float
    lever_m: float
    across: float
    ahead: float
    astern: float
    delta: float
    turn: float = 0.18
    swing: float = 0.0


@hot_kernel
def wind_coefficients(form: WindForm, from_rad: float) -> tuple[float, float, float]:
    """CX (on the frontal area), CY and CN (on the lateral) for a wind off the bow.

    ``from_rad``: where the wind comes from, clockwise off the bow; positive on the
    starboard side. CX below 0 pushes astern, CY below 0 to port.

    Source
    ------
    blendermann-1994, as tabulated in fossen-2021, ch. 10.
    """
    angle = math.atan2(math.sin(from_rad), math.cos(from_rad))
    side = 1.0 if angle >= 0.0 else -1.0
    gamma = abs(angle)
    along_af = form.ahead if gamma <= 0.5 * math.pi else form.astern
    along = along_af * form.frontal_m2 / form.lateral_m2
    sine = math.sin(2.0 * gamma)
    shape = 1.0 - 0.5 * form.delta * (1.0 - along / form.across) * sine * sine
    cx = -along_af * math.cos(gamma) / shape
    cy = form.across * math.sin(gamma) / shape
    lever = form.lever_m / form.length_m - form.turn * (gamma - 0.5 * math.pi)
    cn = (lever + form.swing * math.cos(gamma)) * cy
    return cx, -side * cy, -side * cn


@hot_kernel
def wind_force(
    form: WindForm, wind_mps: float, from_rad: float, density_kgpm3: float
) -> tuple[float, float, float]:
    """Force forward and to starboard [N], moment clockwise [N m]."""
    cx, cy, cn = wind_coefficients(form, from_rad)
    q_pa = 0.5 * density_kgpm3 * wind_mps * wind_mps
    return (
        q_pa * cx * form.frontal_m2,
        q_pa * cy * form.lateral_m2,
        q_pa * cn * form.lateral_m2 * form.length_m,
    )


def isherwood(
    angle_rad: ArrayLike, terms: NDArray[np.float64], table: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """CX, CY, CN of a merchant ship by Isherwood's regression.

    Parameters
    ----------
    angle_rad : float or array
        Wind off the bow, 0 to pi.
    terms : array, shape (8,)
        2 AL/LOA2, 2 AF/B2, LOA/B, S/LOA, C/LOA, M, ASS/AL, in that order, one 1 first.
    table : array, shape (angle, 21)
        Angle in degrees, A0-A6, B0-B6, C0-C5 as printed.

    Source
    ------
    isherwood-1972. A yacht lies outside its ships.
    """
    one, al, af, lb, s, c, m, ass = terms
    degrees = np.degrees(np.asarray(angle_rad, float))
    rows = np.stack([np.interp(degrees, table[:, 0], column) for column in table[:, 1:].T], -1)
    cx = -rows[..., 0:7] @ np.array([one, al, af, lb, s, c, m])
    cy = rows[..., 7:14] @ np.array([one, al, af, lb, s, c, ass])
    cn = rows[..., 14:20] @ np.array([one, al, af, lb, s, c])
    return cx, cy, cn
