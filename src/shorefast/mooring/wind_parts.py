"""Wind on a yacht part by part: each with its own drag, height and place along her.

Body axes: x forward, y to starboard, turning clockwise seen from above. Parts do
not shelter each other, so the sum from ahead is an upper figure.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Assumption, Basis
from shorefast.boat import Hull, shipped_table
from shorefast.errors import OutsideModel
from shorefast.mooring.wind_load import AIR_KGPM3, WindForm

Floats = NDArray[np.float64]

PACKAGE = "shorefast.mooring"
TENDER_PLACES = ("davits", "foredeck")
WATER_EXPONENT = 1.0 / 11.5
_REFERENCE_M = 10.0
_GREATEST_EXPONENT = 0.3
_GREATEST_HEIGHT_M = 100.0
_SHORTEST_M, _LONGEST_M = 6.0, 25.0
_BASIS = Basis(
    assumptions=(
        Assumption(
            "No part of her shelters another from the wind",
            "From ahead the sum is a little too large; abeam it hardly matters",
        ),
    ),
    sources=("blendermann-1994", "larsson-eliasson", "hoerner-1965"),
)


class PartDrag(NamedTuple):
    """How a kind of part drags: across, along from ahead and astern, delta, turn.

    ``delta`` and ``turn`` are the whole-ship form's cross-force parameter and the
    share of the length by which the lever moves aft for each radian.
    """

    across: float
    ahead: float
    astern: float
    delta: float
    turn: float


@dataclass(frozen=True)
class WindPart:
    """One part the wind sees.

    Attributes
    ----------
    name : str
        In the skipper's words ("rolled headsail").
    drag : PartDrag
    frontal_m2, lateral_m2 : float
        Projected areas from ahead and from abeam; frontal may be 0. [m2]
    height_m : float
        Its centre above the water. [m]
    x_m : float
        Its centre forward of midships. [m]
    length_m : float
        Along her; matters only where ``drag.turn`` is not 0. [m]
    """

    name: str
    drag: PartDrag
    frontal_m2: float
    lateral_m2: float
    height_m: float
    x_m: float
    length_m: float = 0.0


@dataclass(frozen=True)
class PartsForce:
    """What the wind does to each part.

    Attributes
    ----------
    names : tuple of str
    forward_n, starboard_n : array, shape (..., part)
        Forces forward and to starboard. [N]
    turning_nm : array, shape (..., part)
        Moment about midships, clockwise from above. [N m]
    basis : Basis
    """

    names: tuple[str, ...]
    forward_n: Floats
    starboard_n: Floats
    turning_nm: Floats
    basis: Basis

    @property
    def whole(self) -> tuple[Floats, Floats, Floats]:
        """Forward [N], starboard [N] and turning [N m] of all parts together."""
        return self.forward_n.sum(-1), self.starboard_n.sum(-1), self.turning_nm.sum(-1)


@cache
def part_drag(kind: str) -> PartDrag:
    """The drag of a kind of part from the shipped table.

    Raises
    ------
    OutsideModel
        For a kind that is not in the table.

    Source
    ------
    blendermann-1994 (speed boat, fishing vessel: hull, house, tender); larsson-eliasson,
    fig. 9.2 (mast 1.0, stays 1.2); hoerner-1965 (sprayhood, hollow from astern).
    """
    rows = {row["part"]: row for row in shipped_table(PACKAGE, "wind_parts")}
    if kind not in rows:
        raise OutsideModel(
            "Wind by parts",
            f"part '{kind}'",
            f"known are {', '.join(rows)}",
            "Take one of these.",
        )
    row = rows[kind]
    return PartDrag(*(float(row[name]) for name in PartDrag._fields))


def mast(height_m: float, foot_m: float, thickness_m: float, x_m: float) -> WindPart:
    """A mast: mean thickness times its height above the foot. [m]

    Source
    ------
    larsson-eliasson, fig. 9.2.
    """
    area_m2 = height_m * thickness_m
    return WindPart("mast", part_drag("mast"), area_m2, area_m2, foot_m + height_m / 2.0, x_m)


def stays(wires: Sequence[tuple[float, float]], height_m: float, x_m: float) -> WindPart:
    """Stays and shrouds, given as (diameter, length) each, [m]; lean is left out.

    Source
    ------
    larsson-eliasson, fig. 9.2.
    """
    area_m2 = sum(diameter_m * length_m for diameter_m, length_m in wires)
    return WindPart("stays", part_drag("stays"), area_m2, area_m2, height_m, x_m)


def tender(hull: Hull, place: str) -> WindPart:
    """An inflatable of 2.7 m, upside down on the foredeck or athwart in davits.

    Raises
    ------
    OutsideModel
        For another place.

    Source
    ------
    blendermann-1994 (speed boat); its size is common practice, no source.
    """
    if place not in TENDER_PLACES:
        raise OutsideModel(
            "Tender",
            f"carried '{place}'",
            f"known are {', '.join(TENDER_PLACES)}",
            "Take one of these, or leave the tender out if it is in the water.",
        )
    end_m2, side_m2 = 1.5 * 0.45, 2.7 * 0.45
    deck_m, drag = 0.10 * hull.length_m, part_drag("tender")
    if place == "davits":
        # athwart: the wind from ahead sees its side
        return WindPart("tender", drag, side_m2, end_m2, deck_m + 0.3, -0.5 * hull.length_m, 1.5)
    return WindPart("tender", drag, end_m2, side_m2, deck_m + 0.25, 0.28 * hull.length_m, 2.7)


def cruising_parts(hull: Hull, tender_place: str | None = None) -> tuple[WindPart, ...]:
    """The parts of a single-masted cruising yacht, sails furled, from her length and beam.

    The same plain shapes as boat.estimate_windage, whose areas they add up to.

    Parameters
    ----------
    hull : Hull
    tender_place : str, optional
        "davits" or "foredeck"; None where it is not on deck.

    Raises
    ------
    OutsideModel
        For a hull outside 6 to 25 m.

    Source
    ------
    larsson-eliasson, fig. 9.2 (which parts count; stays of the 40 ft example);
    proportions of hull and rig are common practice, no source.
    """
    long_m, beam_m = hull.length_m, hull.beam_m
    if not _SHORTEST_M <= long_m <= _LONGEST_M:
        raise OutsideModel(
            "Wind by parts",
            f"{long_m:g} m long",
            "the proportions hold for 6 to 25 m",
            "Give her frontal and lateral area instead.",
        )
    deck_m, spar_m2 = 0.10 * long_m, 0.012 * long_m**2
    above_m = deck_m + 0.45
    parts = (
        _plate("hull", beam_m, deck_m, long_m, (deck_m / 2.0, 0.0)),
        _plate("house", 0.6 * beam_m, 0.45, 0.45 * long_m, (deck_m + 0.225, 0.0)),
        _plate("sprayhood", 0.6 * beam_m, 0.6, 2.5, (above_m + 0.3, -0.15 * long_m)),
        mast(1.4 * long_m, deck_m, 0.012 * long_m, 0.08 * long_m),
        _spar("rolled headsail", spar_m2, spar_m2, (deck_m + 0.6 * long_m, 0.29 * long_m)),
        # 76.7 m of 8 mm and 23.9 m of 10 mm on 12.19 m of length
        stays([(0.00574 * long_m, long_m)], deck_m + 0.6 * long_m, 0.08 * long_m),
        _spar("boom and sail", 0.0, 1.1 * spar_m2, (deck_m + 0.15 * long_m, -0.12 * long_m)),
    )
    return parts if tender_place is None else (*parts, tender(hull, tender_place))


def _plate(
    kind: str, wide_m: float, tall_m: float, long_m: float, centre: tuple[float, float]
) -> WindPart:
    return WindPart(kind, part_drag(kind), wide_m * tall_m, long_m * tall_m, *centre, long_m)


def _spar(name: str, frontal_m2: float, lateral_m2: float, centre: tuple[float, float]) -> WindPart:
    return WindPart(name, part_drag("rolled sail"), frontal_m2, lateral_m2, *centre)


def speed_share(height_m: float, exponent: float = WATER_EXPONENT) -> float:
    """The wind at a height as a share of the wind at 10 m.

    Parameters
    ----------
    height_m : float
        Above the water. [m]
    exponent : float
        1/11.5 the mean over water, 0.064 a gust over water; 0 a fall wind.

    Raises
    ------
    OutsideModel
        For a height outside 0 to 100 m or an exponent outside 0 to 0.3.

    Source
    ------
    scientimate-wind, exponent 1/11.5 over water.
    """
    if not 0.0 < height_m <= _GREATEST_HEIGHT_M:
        raise OutsideModel(
            "Wind profile",
            f"{height_m:g} m above the water",
            "the power law holds for more than 0 to 100 m",
            "Give the height of the part's centre.",
        )
    if not 0.0 <= exponent <= _GREATEST_EXPONENT:
        raise OutsideModel(
            "Wind profile",
            f"exponent {exponent:g}",
            "0 to 0.3 are printed for water, open and built-up land",
            "Give one in that range.",
        )
    return float((height_m / _REFERENCE_M) ** exponent)


def form_coefficients(form: WindForm, from_rad: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """CX, CY, CN of the whole-ship form for arrays of winds off the bow.

    The same form and signs as ``wind_coefficients``, for arrays of any shape.

    Source
    ------
    blendermann-1994, as tabulated in fossen-2021, ch. 10.
    """
    angle = np.asarray(from_rad, np.float64)
    angle = np.arctan2(np.sin(angle), np.cos(angle))
    gamma = np.abs(angle)
    along_af = np.where(gamma <= 0.5 * math.pi, form.ahead, form.astern)
    along = along_af * form.frontal_m2 / form.lateral_m2
    shape = 1.0 - 0.5 * form.delta * (1.0 - along / form.across) * np.sin(2.0 * gamma) ** 2
    cy = -np.where(angle >= 0.0, 1.0, -1.0) * form.across * np.sin(gamma) / shape
    lever = form.lever_m / form.length_m - form.turn * (gamma - 0.5 * math.pi)
    return (
        -along_af * np.cos(gamma) / shape,
        cy,
        (lever + form.swing * np.cos(gamma)) * cy,
    )


def parts_force(
    parts: Sequence[WindPart],
    wind_mps: ArrayLike,
    from_rad: ArrayLike,
    *,
    exponent: float = WATER_EXPONENT,
    density_kgpm3: float = AIR_KGPM3,
) -> PartsForce:
    """Force and moment of the wind on each part.

    Parameters
    ----------
    parts : sequence of WindPart
    wind_mps : array
        At 10 m above the water. [m/s]
    from_rad : array, broadcast with ``wind_mps``
        Where the wind comes from, clockwise off the bow. [rad]
    exponent : float
        How the wind grows with height: see ``speed_share``.
    density_kgpm3 : float
        Of the air. [kg/m3]

    Returns
    -------
    force : PartsForce

    Raises
    ------
    OutsideModel
        For no parts at all, and as ``speed_share``.

    Source
    ------
    blendermann-1994 (hull, house, tender); larsson-eliasson, fig. 9.2 (spars, stays).
    """
    if not parts:
        raise OutsideModel(
            "Wind by parts", "no parts given", "at least one wanted", "Give the hull at least."
        )
    wind, angle = np.broadcast_arrays(
        np.asarray(wind_mps, np.float64), np.asarray(from_rad, np.float64)
    )
    pieces = []
    for part in parts:
        q_pa = 0.5 * density_kgpm3 * (wind * speed_share(part.height_m, exponent)) ** 2
        pieces.append([q_pa * arm for arm in _arms(part, angle)])
    forward_n, starboard_n, turning_nm = (
        np.stack(kind, axis=-1) for kind in zip(*pieces, strict=True)
    )
    return PartsForce(
        tuple(part.name for part in parts), forward_n, starboard_n, turning_nm, _BASIS
    )


def _arms(part: WindPart, angle: Floats) -> tuple[Floats, Floats, Floats]:
    """Force forward and to starboard [m2] and moment [m3] for each pascal of the wind."""
    length_m = part.length_m or 1.0
    drag = part.drag
    form = WindForm(
        part.frontal_m2, part.lateral_m2, length_m, part.x_m,
        drag.across, drag.ahead, drag.astern, drag.delta, drag.turn,
    )  # fmt: skip
    cx, cy, cn = form_coefficients(form, angle)
    return cx * part.frontal_m2, cy * part.lateral_m2, cn * part.lateral_m2 * length_m
