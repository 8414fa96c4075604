"""A current on hull, keel and propeller, growing as the water under her grows less.

Body axes: x forward, y to starboard; ``toward_rad`` is where the water goes to,
clockwise off the bow. How a current turns a bare hull is left out: the printed
constants of that formula have not been read.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Assumption, Basis
from shorefast.boat import Engine, Hull
from shorefast.errors import OutsideModel
from shorefast.mooring.wind_load import WATER_KGPM3

Floats = NDArray[np.float64]

# kinematic viscosity of sea water [m2/s], ufc-4-159-03 table 4-1 (from memory)
VISCOSITY_M2PS = 1.191e-6
AGROUND_COEFFICIENT, DEPTH_POWER = 3.2, 2.0
SIDE_DRAG, FORM_DRAG, PROPELLER_DRAG = 1.0, 0.1, 1.0
_LEAST_REYNOLDS = 1e5
_GREATEST_MPS = 5.0
_BODY_SHARE, _KEEL_SHARE = 0.3, 0.2
# blades seen from ahead as a share of the disc: common practice, no source
_BLADES = {
    "fixed": 0.50, "fixed 2-blade": 0.33, "fixed 3-blade": 0.50, "folding": 0.06,
    "feathering": 0.10,
}  # fmt: skip
_BASIS = Basis(
    assumptions=(
        Assumption(
            "The current is the same all along her and down to her keel",
            "An eddy at one end turns her, which is left out",
        ),
        Assumption(
            "Hull and keel drag once their side area across the current",
            "Oblique currents lift on the keel and can push up to twice as hard",
        ),
    ),
    sources=("ufc-4-159-03", "ittc-1957"),
)


@dataclass(frozen=True)
class Underbody:
    """What the current meets.

    Attributes
    ----------
    waterline_m, beam_m : float
        Length and beam at the water. [m]
    body_m, draught_m : float
        Depth of the hull without its keel, and with it. [m]
    displacement_kg : float
    keel_m2, keel_x_m : float
        Side of keel and rudder, its centre forward of midships. [m2, m]
    propeller_m2 : float
        Blades seen from ahead. [m2]
    """

    waterline_m: float
    beam_m: float
    body_m: float
    draught_m: float
    displacement_kg: float
    keel_m2: float = 0.0
    keel_x_m: float = 0.0
    propeller_m2: float = 0.0


class Along(NamedTuple):
    """A current's force along her. [N]"""

    form_n: Floats
    friction_n: Floats
    propeller_n: Floats

    @property
    def whole_n(self) -> Floats:
        """All three together. [N]"""
        return self.form_n + self.friction_n + self.propeller_n


@dataclass(frozen=True)
class CurrentForce:
    """What a current does to her, inputs broadcast together.

    Attributes
    ----------
    along : Along
        Forward. [N]
    hull_n, keel_n : array
        To starboard. [N]
    turning_nm : array
        Of the keel's force about midships, clockwise from above. [N m]
    basis : Basis
    """

    along: Along
    hull_n: Floats
    keel_n: Floats
    turning_nm: Floats
    basis: Basis

    @property
    def forward_n(self) -> Floats:
        """Forward in all. [N]"""
        return self.along.whole_n

    @property
    def starboard_n(self) -> Floats:
        """To starboard in all. [N]"""
        return self.hull_n + self.keel_n


def underbody(hull: Hull, engine: Engine | None = None) -> Underbody:
    """A fin-keel cruising yacht's shape under water from the boat file's five sizes.

    Source
    ------
    Shares of draught and side are common practice, no source.
    """
    propeller_m2 = 0.0
    if engine is not None:
        disc_m2 = 0.25 * math.pi * engine.propeller_diameter_m**2
        propeller_m2 = _BLADES.get(engine.propeller, _BLADES["fixed"]) * disc_m2
    return Underbody(
        hull.waterline_m,
        0.9 * hull.beam_m,
        _BODY_SHARE * hull.draught_m,
        hull.draught_m,
        hull.displacement_kg,
        _KEEL_SHARE * hull.waterline_m * hull.draught_m,
        propeller_m2=propeller_m2,
    )


def deep_water_coefficient(body: Underbody, section_m2: float) -> float:
    """A ship's drag across a current in deep water, C0 = 0.22 sqrt(chi).

    chi = LWL2 Am / (B volume). For ships; the root sign is inferred from the
    printed worked example. A keel yacht takes 1 (``SIDE_DRAG``) instead.

    Parameters
    ----------
    section_m2 : float
        Midship section under water. [m2]

    Raises
    ------
    OutsideModel
        For a section that is not between 0 and beam times draught.

    Source
    ------
    ufc-4-159-03, eq. 11 to 13 (read; root inferred).
    """
    most_m2 = body.beam_m * body.draught_m
    if not 0.0 < section_m2 <= most_m2:
        raise OutsideModel(
            "Current on a ship",
            f"midship section {section_m2:g} m2",
            f"beam times draught is {most_m2:g} m2",
            "Give a section above 0 and within that.",
        )
    volume_m3 = body.displacement_kg / WATER_KGPM3
    return 0.22 * math.sqrt(body.waterline_m**2 * section_m2 / (body.beam_m * volume_m3))


def broadside_coefficient(depth_share: ArrayLike, deep: float = SIDE_DRAG) -> Floats:
    """Drag across a current over shallow water: C0 + (3.2 - C0) (T/d)2.

    Parameters
    ----------
    depth_share : array
        Draught over depth of the water, 0 (deep) to 1 (aground).
    deep : float
        C0, the drag in deep water.

    Raises
    ------
    OutsideModel
        For a share outside 0 to 1, or C0 outside 0 to 3.2.

    Source
    ------
    ufc-4-159-03, eq. 11 to 13 (read): C1 = 3.2, K = 2.
    """
    share = np.asarray(depth_share, np.float64)
    beyond = share[(share < 0.0) | (share > 1.0)]
    if beyond.size:
        raise OutsideModel(
            "Current across her",
            f"draught {beyond[0]:.2f} of the depth",
            "the formula holds from 0 to 1",
            "Give water at least as deep as her draught.",
        )
    if not 0.0 < deep <= AGROUND_COEFFICIENT:
        raise OutsideModel(
            "Current across her",
            f"drag {deep:g} in deep water",
            "the formula holds for more than 0 to 3.2",
            "Take 1 for a keel yacht.",
        )
    coefficient: Floats = deep + (AGROUND_COEFFICIENT - deep) * share**DEPTH_POWER
    return coefficient


def broadside_force_n(
    current_mps: ArrayLike,
    side_m2: float,
    depth_share: ArrayLike,
    *,
    deep: float = SIDE_DRAG,
    density_kgpm3: float = WATER_KGPM3,
) -> Floats:
    """Force of a current square on her side. [N]

    Parameters
    ----------
    current_mps, depth_share : arrays, broadcast together
        As ``current_force`` and ``broadside_coefficient``.
    side_m2 : float
        Waterline times draught for a ship; hull or keel for a yacht. [m2]

    Raises
    ------
    OutsideModel
        As ``broadside_coefficient``; for a current over 5 m/s.

    Source
    ------
    ufc-4-159-03, eq. 11 to 13 (read).
    """
    q_pa = 0.5 * density_kgpm3 * _speed(current_mps) ** 2
    force_n: Floats = q_pa * side_m2 * broadside_coefficient(depth_share, deep)
    return force_n


def _speed(current_mps: ArrayLike) -> Floats:
    speed = np.asarray(current_mps, np.float64)
    beyond = speed[(speed < 0.0) | (speed > _GREATEST_MPS)]
    if beyond.size:
        raise OutsideModel(
            "Current",
            f"{beyond[0]:g} m/s",
            "the formulas are for 0 to 5 m/s",
            "Give the speed without a sign and the direction apart.",
        )
    return speed


def friction_coefficient(reynolds: ArrayLike) -> Floats:
    """Skin friction 0.075 / (log10 Rn - 2)2 of a turbulent flow.

    Raises
    ------
    OutsideModel
        Below a Reynolds number of 100,000.

    Source
    ------
    ittc-1957; ufc-4-159-03, eq. 15 to 23 (read).
    """
    number = np.asarray(reynolds, np.float64)
    if np.any(number < _LEAST_REYNOLDS):
        raise OutsideModel(
            "Friction of the water",
            f"Reynolds number {np.nanmin(number):.3g}",
            "the friction line begins at 100000",
            "Leave friction out: it is under a tenth of a newton there.",
        )
    line: Floats = 0.075 / (np.log10(number) - 2.0) ** 2
    return line


def printed_propeller_m2(
    body: Underbody, area_ratio: float, pitch_over_diameter: float = 1.0
) -> float:
    """A ship's propeller from her waterline: (LWL B / AR) / (1.067 - 0.229 p/d). [m2]

    Parameters
    ----------
    area_ratio : float
        Waterline area over the propeller's blades, 100 to 270 by kind of ship.

    Raises
    ------
    OutsideModel
        For a ratio outside 100 to 270, or a pitch outside 0.5 to 1.5 diameters (the
        first from memory, the second ours).

    Source
    ------
    ufc-4-159-03, eq. 15 to 23 (read).
    """
    if not (100.0 <= area_ratio <= 270.0 and 0.5 <= pitch_over_diameter <= 1.5):
        raise OutsideModel(
            "Propeller of a ship",
            f"area ratio {area_ratio:g}, pitch {pitch_over_diameter:g} of its diameter",
            "the formula is for 100 to 270 and 0.5 to 1.5",
            "Give the blades' area itself.",
        )
    blades_m2 = body.waterline_m * body.beam_m / area_ratio
    return blades_m2 / (1.067 - 0.229 * pitch_over_diameter)


def along_force(
    body: Underbody,
    current_mps: ArrayLike,
    toward_rad: ArrayLike,
    *,
    density_kgpm3: float = WATER_KGPM3,
) -> Along:
    """Force of a current along her: form, friction and a propeller that stands still.

    Form 0.1 on beam times depth of hull; friction on S = 1.7 T LWL + volume / T;
    propeller 1.0 on its blades. Below a Reynolds number of 100,000 (1 cm/s for
    11 m) friction is nought.

    Parameters
    ----------
    body : Underbody
    current_mps : array
        0 to 5. [m/s]
    toward_rad : array, broadcast with it
        Where the water goes to, clockwise off the bow. [rad]

    Raises
    ------
    OutsideModel
        For a current over 5 m/s.

    Source
    ------
    ufc-4-159-03, eq. 15 to 23 (read).
    """
    speed, toward = np.broadcast_arrays(_speed(current_mps), np.asarray(toward_rad, np.float64))
    q_pa = 0.5 * density_kgpm3 * speed**2 * np.cos(toward)
    volume_m3 = body.displacement_kg / density_kgpm3
    wetted_m2 = 1.7 * body.body_m * body.waterline_m + volume_m3 / body.body_m
    reynolds = speed * np.abs(np.cos(toward)) * body.waterline_m / VISCOSITY_M2PS
    still = reynolds < _LEAST_REYNOLDS
    friction = np.where(still, 0.0, friction_coefficient(np.maximum(reynolds, _LEAST_REYNOLDS)))
    return Along(
        q_pa * FORM_DRAG * body.beam_m * body.body_m,
        q_pa * friction * wetted_m2,
        q_pa * PROPELLER_DRAG * body.propeller_m2,
    )


def current_force(
    body: Underbody, current_mps: ArrayLike, toward_rad: ArrayLike, depth_m: ArrayLike
) -> CurrentForce:
    """What a current does to a keel yacht.

    Across: drag 1 on the side of hull and of keel, each raised for shallow water by
    its own draught over the depth. Unknown depth (NaN) gives unknown force.

    Parameters
    ----------
    body : Underbody
    current_mps : array
        0 to 5. [m/s]
    toward_rad : array
        Where the water goes to, clockwise off the bow. [rad]
    depth_m : array
        Of the water now, at least her draught. [m]

    Raises
    ------
    OutsideModel
        For water no deeper than her draught, or a current over 5 m/s.

    Source
    ------
    ufc-4-159-03, eq. 11 to 23 (read); drag 1 on hull and keel from memory.
    """
    depth = np.asarray(depth_m, np.float64)
    if np.any(depth < body.draught_m):
        raise OutsideModel(
            "Current across her",
            f"water {np.nanmin(depth):.1f} m deep",
            f"she draws {body.draught_m:.1f} m",
            "Take the depth where she floats.",
        )
    toward = np.asarray(toward_rad, np.float64)
    sine = np.sin(toward)
    hull_m2 = body.waterline_m * body.body_m
    hull_n = sine * broadside_force_n(current_mps, hull_m2, body.body_m / depth)
    keel_n = sine * broadside_force_n(current_mps, body.keel_m2, body.draught_m / depth)
    along = along_force(body, current_mps, toward)
    return CurrentForce(along, hull_n, keel_n, body.keel_x_m * keel_n, _BASIS)
