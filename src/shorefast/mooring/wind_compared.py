"""The same boat by other published wind formulas: how far they lie apart is our doubt.

None of them was fitted to yachts, so the spread is said as doubt and never used to
mend a force.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Basis, Finding
from shorefast.boat import Hull, Windage, shipped_table
from shorefast.errors import OutsideModel
from shorefast.mooring.wind_load import AIR_KGPM3, WindForm, isherwood
from shorefast.mooring.wind_parts import PACKAGE, form_coefficients, part_drag

Floats = NDArray[np.float64]

MODELS = ("Blendermann, speed boat", "Blendermann, fishing vessel", "Isherwood")
KINDS = ("along her", "across her", "turning her")
_LEAST_CROSS_RAD, _MOST_CROSS_RAD = math.radians(80.0), math.radians(120.0)


@dataclass(frozen=True)
class ShipShape:
    """What the whole-ship formulas ask of a ship.

    Attributes
    ----------
    length_m, beam_m : float
        Over all. [m]
    frontal_m2, lateral_m2, house_m2 : float
        Projected areas; the house's is lateral. [m2]
    perimeter_m : float
        Outline of the lateral projection, waterline, masts and stays left out. [m]
    lever_m : float
        Lateral centre forward of midships. [m]
    masts : int
        Groups of masts.
    """

    length_m: float
    beam_m: float
    frontal_m2: float
    lateral_m2: float
    house_m2: float
    perimeter_m: float
    lever_m: float
    masts: int = 1


@dataclass(frozen=True)
class WindCompared:
    """Three forces by each model beside ours, all round.

    Attributes
    ----------
    from_rad : array, shape (angle,)
        Wind off the bow. [rad]
    models : tuple of str
        The published ones, in the order of the last axis but one of ``others``.
    ours, others : arrays, shape (angle, 3) and (angle, model, 3)
        Forward [N], starboard [N], turning [N m] for each pascal of the wind: [m2, m3].
    apart : array, shape (angle, model, 3)
        Other less ours, as a share of our largest all round.
    doubt, small_craft_doubt : array, shape (angle, 3)
        The widest of ``apart`` at that angle, without its sign: of all models, and of
        the two small-craft classes alone.
    basis : Basis
        One finding for each of the three, in words.
    """

    from_rad: Floats
    models: tuple[str, ...]
    ours: Floats
    others: Floats
    apart: Floats
    doubt: Floats
    small_craft_doubt: Floats
    basis: Basis


def ship_shape(hull: Hull, windage: Windage) -> ShipShape:
    """A cruising yacht as the whole-ship formulas see her.

    House and outline in the proportions of the windage estimate.

    Source
    ------
    Proportions of hull and house are common practice, no source.
    """
    freeboard_m, house_m = 0.10 * hull.length_m, 0.45
    return ShipShape(
        hull.length_m,
        hull.beam_m,
        windage.frontal_m2,
        windage.lateral_m2,
        0.45 * hull.length_m * house_m,
        hull.length_m + 2.0 * (freeboard_m + house_m),
        windage.lever_m,
    )


@cache
def _regression() -> Floats:
    rows = shipped_table(PACKAGE, "isherwood")
    names = [name for name in rows[0] if name not in ("source", "status")]
    return np.array([[float(row[name]) for name in names] for row in rows])


def merchant_coefficients(ship: ShipShape, from_rad: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """CX, CY, CN of a merchant ship, with our signs, for winds all round.

    Parameters
    ----------
    from_rad : array
        Where the wind comes from, clockwise off the bow. [rad]

    Raises
    ------
    OutsideModel
        For a length, a beam or an area that is not more than 0.

    Source
    ------
    isherwood-1972, regression tables (read). Its ships are merchant ships: a yacht
    lies outside them, so far that the force along her can take the wrong sign.
    """
    least = min(ship.length_m, ship.beam_m, ship.frontal_m2, ship.lateral_m2)
    if not least > 0.0:
        raise OutsideModel(
            "Wind on a merchant ship",
            f"a length, beam or area of {least:g}",
            "the regression divides by them",
            "Give all of them above 0.",
        )
    angle = np.asarray(from_rad, np.float64)
    angle = np.arctan2(np.sin(angle), np.cos(angle))
    length_m = ship.length_m
    terms = np.array([
        1.0,
        2.0 * ship.lateral_m2 / length_m**2,
        2.0 * ship.frontal_m2 / ship.beam_m**2,
        length_m / ship.beam_m,
        ship.perimeter_m / length_m,
        0.5 - ship.lever_m / length_m,
        ship.masts,
        ship.house_m2 / ship.lateral_m2,
    ])  # fmt: skip
    cx, cy, cn = isherwood(np.abs(angle), terms, _regression())
    side = np.where(angle >= 0.0, 1.0, -1.0)
    return cx, -side * cy, -side * cn


def wind_compared(ship: ShipShape, form: WindForm, from_rad: ArrayLike) -> WindCompared:
    """Our form beside two small-craft classes and the merchant-ship regression.

    All take the same wind and the same areas, so only the formulas differ. Near an
    angle where a force passes nought a ratio says nothing: what lies between is
    given as a share of our largest force of that kind all round.

    Parameters
    ----------
    ship : ShipShape
    form : WindForm
        Ours, as the statics use it.
    from_rad : array, shape (angle,)
        Winds off the bow, all round for a fair largest. [rad]

    Source
    ------
    blendermann-1994 (speed boat, fishing vessel); isherwood-1972.
    """
    angles = np.atleast_1d(np.asarray(from_rad, np.float64))
    small = (
        WindForm(ship.frontal_m2, ship.lateral_m2, ship.length_m, ship.lever_m, *part_drag(name))
        for name in ("speed boat", "fishing vessel")
    )
    sizes = np.array(
        [ship.frontal_m2, ship.lateral_m2, ship.lateral_m2 * ship.length_m], np.float64
    )
    scaled = np.array([form.frontal_m2, form.lateral_m2, form.lateral_m2 * form.length_m])
    ours = np.stack(form_coefficients(form, angles), -1) * scaled
    others = [np.stack(form_coefficients(other, angles), -1) * sizes for other in small]
    others.append(np.stack(merchant_coefficients(ship, angles), -1) * sizes)
    beside = np.stack(others, axis=1)
    apart = (beside - ours[:, None, :]) / np.max(np.abs(ours), axis=0)
    doubts = np.max(np.abs(apart), axis=1), np.max(np.abs(apart[:, :2]), axis=1)
    basis = _basis(np.sign(ours)[:, None, :] * apart)
    return WindCompared(angles, MODELS, ours, beside, apart, *doubts, basis)


def force_apart_n(compared: WindCompared, wind_mps: float) -> Floats:
    """How far the models lie from ours in one wind, shape (angle, model, 3). [N, N, N m]"""
    q_pa = 0.5 * AIR_KGPM3 * wind_mps**2
    between: Floats = q_pa * (compared.others - compared.ours[:, None, :])
    return between


def _basis(more: Floats) -> Basis:
    """In words, from how much more than ours each model has (angle, model, 3)."""
    findings = tuple(
        Finding(
            "Wind force",
            f"{said} two classes of small craft lie {_range(more[:, :2, number])} of our"
            f" largest beside ours; a merchant ship's formula, far outside its ships,"
            f" {_range(more[:, 2, number])}; none of them was fitted to yachts",
        )
        for number, said in enumerate(KINDS)
    )
    return Basis(sources=("blendermann-1994", "isherwood-1972"), findings=findings)


def _range(more: Floats) -> str:
    # nought added: no "-0 %"
    return f"{round(more.min(), 2) + 0.0:+.0%} to {round(more.max(), 2) + 0.0:+.0%}"


def along_shape(from_rad: ArrayLike, cross_rad: float, *, spread_house: bool) -> Floats:
    """How the wind's force along a ship goes with its angle: 1 ahead, -1 astern.

    Parameters
    ----------
    from_rad : array
        Wind off the bow, 0 to pi. [rad]
    cross_rad : float
        Where the force along her is nought, 80 to 120 degrees by kind of ship. [rad]
    spread_house : bool
        True for houses all along her, False for a single one.

    Raises
    ------
    OutsideModel
        For an angle outside 0 to 180 degrees, or a crossing outside 80 to 120.

    Source
    ------
    ufc-4-159-03, eq. 6 and 7 (read); the range of the crossing from memory.
    """
    t = np.asarray(from_rad, np.float64)
    if not _LEAST_CROSS_RAD - 1e-9 <= cross_rad <= _MOST_CROSS_RAD + 1e-9:
        raise OutsideModel(
            "Wind along a ship",
            f"no force at {math.degrees(cross_rad):g} degrees off the bow",
            "80 to 120 degrees are printed for ships",
            "Give an angle in that range.",
        )
    if np.any((t < 0.0) | (t > math.pi + 1e-9)):
        raise OutsideModel(
            "Wind along a ship",
            f"{np.degrees(t.min()):g} to {np.degrees(t.max()):g} degrees off the bow",
            "the shape holds for 0 to 180 degrees",
            "Give the angle off the bow without its side.",
        )
    quarter, rest_rad = 0.5 * math.pi, math.pi - cross_rad
    before, after = t * quarter / cross_rad, (t - cross_rad) * quarter / rest_rad
    phi: Floats = np.where(t < cross_rad, before, after + quarter)
    if not spread_house:
        return np.cos(phi)
    return (np.sin(phi + quarter) - np.sin(5.0 * (phi + quarter)) / 10.0) / 0.9
