"""How long the anchor is on its way to the bottom."""

from __future__ import annotations

import math

import numpy as np

from shorefast.boat import SEA_WATER_KGPM3, Anchor, Yacht, chain, rope
from shorefast.manoeuvre.able_kinds import Falls, Floats
from shorefast.quantities import STANDARD_GRAVITY_MPS2

STEEL_KGPM3 = 7850.0
# drag of chain along itself on its diameter a metre: dnv-os-e301, studless (from memory)
CHAIN_DRAG = 1.15
# drag times area of a falling anchor, by the two-thirds power of its volume, at the least
# and at the most: our estimate
_ANCHOR_DRAG = (1.5, 6.0)
# of the weight that hangs, what roller, gypsy and a heap of chain may hold back: our estimate
_HELD_BACK = (0.0, 0.5)
_STEP_M = 0.05


def anchor_wet_n(anchor: Anchor) -> float:
    """What an anchor weighs in sea water. [N]"""
    return anchor.mass_kg * STANDARD_GRAVITY_MPS2 * (1.0 - SEA_WATER_KGPM3 / STEEL_KGPM3)


def _piece_at(boat: Yacht, out_m: float) -> tuple[float, float, float]:
    """Wet weight a metre [N/m], mass a metre [kg/m] and diameter [m] of the rode there."""
    end_m = 0.0
    for piece in boat.rode:
        end_m += piece.length_m
        if out_m <= end_m:
            break
    if piece.kind == "chain":
        links = chain(piece.diameter_m, piece.grade or 30)
        return links.wet_weight_npm, links.mass_kgpm, piece.diameter_m
    laid = rope(piece.fibre or "nylon", piece.diameter_m)
    mass_kgpm = laid.air_weight_npm / STANDARD_GRAVITY_MPS2
    return laid.wet_weight_npm, mass_kgpm, piece.diameter_m


def free_fall_s(boat: Yacht, fall_m: Floats, held_back: float, anchor_drag: float) -> Floats:
    """Time the anchor takes to a depth below the roller, its chain running out after it. [s]

    The weight that hangs moves anchor and chain; the water drags on both, each metre of
    chain is taken along from rest, a share of the weight is held back on deck. Water that
    goes with the anchor, and the little way through the air, are left out.

    Parameters
    ----------
    fall_m : array
        From the roller to the bed. [m]
    held_back : float
        Share of the weight, 0 to 1.
    anchor_drag : float
        Drag coefficient times area, by the two-thirds power of the anchor's volume.

    Source
    ------
    dnv-os-e301, drag of studless chain along itself (from memory); the anchor's is our
    estimate.
    """
    volume_m3 = boat.anchor.mass_kg / STEEL_KGPM3
    half = 0.5 * SEA_WATER_KGPM3
    mass_kg, weight_n = boat.anchor.mass_kg, anchor_wet_n(boat.anchor)
    drag = half * anchor_drag * volume_m3 ** (2.0 / 3.0)
    steps = math.ceil(float(np.max(fall_m)) / _STEP_M)
    square, t_s = 0.0, [0.0]
    for k in range(steps):
        wet_npm, kgpm, diameter_m = _piece_at(boat, (k + 0.5) * _STEP_M)
        # over one step the square of the speed goes straight to where it would settle
        loss = drag + kgpm
        settles = (1.0 - held_back) * weight_n / loss
        before = math.sqrt(square)
        square = settles + (square - settles) * math.exp(-2.0 * loss * _STEP_M / mass_kg)
        t_s.append(t_s[-1] + 2.0 * _STEP_M / (before + math.sqrt(square)))
        mass_kg += kgpm * _STEP_M
        weight_n += wet_npm * _STEP_M
        drag += half * CHAIN_DRAG * diameter_m * _STEP_M
    return np.interp(fall_m, _STEP_M * np.arange(steps + 1), t_s)


def falls(boat: Yacht, depth_m: Floats) -> Falls:
    """Time from letting go to the bottom: veered by the motor, and run free. [s]

    Parameters
    ----------
    depth_m : array (depth,)
        Of the water under the roller. [m]
    """
    fall_m = depth_m + boat.roller.z_m
    veer_mps = math.nan if boat.windlass.veer_mps is None else boat.windlass.veer_mps
    low_s, high_s = (
        free_fall_s(boat, fall_m, held, drag)
        for held, drag in zip(_HELD_BACK, _ANCHOR_DRAG, strict=True)
    )
    return Falls(depth_m, fall_m / veer_mps, low_s, high_s)
