"""Drift in time: where she goes once something let go, and how hard the rest is jerked."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.errors import OutsideModel
from shorefast.mooring.batch import Moored, Path
from shorefast.mooring.current_force import (
    FORM_DRAG,
    PROPELLER_DRAG,
    SIDE_DRAG,
    VISCOSITY_M2PS,
    Underbody,
    friction_coefficient,
)
from shorefast.mooring.drift_steps import (
    D_AHEAD,
    D_ASIDE,
    D_EAST,
    D_HEADING,
    DRIFT_COLUMNS,
    Afloat,
    Seconds,
    drifts,
)
from shorefast.mooring.natural import inertia
from shorefast.mooring.released import Laid
from shorefast.mooring.rest import Load
from shorefast.mooring.shapes import Floats, Ints
from shorefast.mooring.wind_load import AIR_KGPM3, WATER_KGPM3

_STATES_AT_ONCE = 2
# friction of the hull is taken at this speed [m/s]
_FRICTION_AT_MPS = 0.5
DRIFT_BASIS = Basis(
    assumptions=(
        Assumption(
            "Adrift she has the air's push by her speed through it, drag once her side area"
            " across, the water that goes with her, and no lift of her keel; the gust stands",
            "Over shallow water, sailing ahead or with the helm over she goes slower or otherwise",
        ),
        Assumption(
            "A line that is left springs without loss while she swings",
            "Rope and chain dragged through water take some of the jerk: it is told high",
        ),
    ),
    sources=("fossen-2021", "newman-1977", "ufc-4-159-03", "ittc-1957"),
)


def afloat_of(
    body: Underbody, current_east_mps: float = 0.0, current_north_mps: float = 0.0
) -> Afloat:
    """How a keel yacht moves through deep water: inertia and drag.

    Across her hull and keel a drag of once their side; along her form, friction at a
    crawl and a propeller that stands still, as ``along_force`` has them.

    Parameters
    ----------
    body : Underbody
    current_east_mps, current_north_mps : float
        Where the water goes. [m/s]

    Source
    ------
    newman-1977, ch. 4; fossen-2021, ch. 6 (inertia); ufc-4-159-03; ittc-1957 (drag).
    """
    moved = inertia(body)
    reynolds = _FRICTION_AT_MPS * body.waterline_m / VISCOSITY_M2PS
    volume_m3 = body.displacement_kg / WATER_KGPM3
    wetted_m2 = 1.7 * body.body_m * body.waterline_m + volume_m3 / body.body_m
    area_m2 = (
        FORM_DRAG * body.beam_m * body.body_m
        + float(friction_coefficient(reynolds)) * wetted_m2
        + PROPELLER_DRAG * body.propeller_m2
    )
    half = 0.5 * WATER_KGPM3
    return Afloat(
        moved.surge_kg, moved.sway_kg, moved.yaw_kgm2,
        half * area_m2, half * SIDE_DRAG * body.waterline_m * body.body_m,
        half * SIDE_DRAG * body.keel_m2, body.waterline_m, body.keel_x_m,
        current_east_mps, current_north_mps,
    )  # fmt: skip


@dataclass(frozen=True)
class Drift:
    """Drifts of an array of states.

    Attributes
    ----------
    t_s : array (told,)
    track : array (state, told, D_*)
        Place [m], heading [rad], speeds ahead and to starboard through the water [m/s],
        turn [rad/s], work done on her by wind, lines and steady load, and lost to the
        water [J]. NaN after the end.
    peak_n : array (state, line)
        Greatest tension of each line at either end, the start included. [N]
    ended : int array (state,)
        GOES_ON, LIES_STILL, GONE_OUT (of the space) or NOT_KNOWN (a line's pull, wind,
        water).
    """

    t_s: Floats
    track: Floats
    peak_n: Floats
    ended: Ints

    @property
    def q(self) -> Floats:
        """Place and heading, (state, told, 3)."""
        poses: Floats = self.track[..., : D_HEADING + 1]
        return poses


def at_rest_over_ground(afloat: Afloat, q: Floats) -> Floats:
    """Her state where she lies still, (state, D_*): through a current she moves."""
    y = np.zeros((q.shape[0], DRIFT_COLUMNS))
    y[:, D_EAST : D_HEADING + 1] = q
    sine, cosine = np.sin(q[:, 2]), np.cos(q[:, 2])
    east_mps, north_mps = -afloat.current_east_mps, -afloat.current_north_mps
    y[:, D_AHEAD] = east_mps * sine + north_mps * cosine
    y[:, D_ASIDE] = east_mps * cosine - north_mps * sine
    return y


def drift(
    ready: Moored,
    afloat: Afloat,
    states: Path,
    laid: Laid,
    clock: Seconds,
    extra: Load | None = None,
) -> Drift:
    """Let her go from where she lay, with some of her lines gone, and follow her in time.

    Surge, sway and yaw with added mass, drag by strips, the wind by her speed through
    the air, and every line that is left, by the tables the rests come from. Heave, heel
    and trim, lift of the keel, damping in the lines and gusts that come and go are left
    out. Steps of the fourth order.

    Parameters
    ----------
    ready : Moored
    afloat : Afloat
    states : Path, arrays (state,)
        Water level; wind at the height of the windage, and where it blows from.
    laid : Laid
        Where she lay, still, and which lines are left; or, going on, ``track`` of one
        moment as its ``q``, (state, D_*).
    clock : Seconds
    extra : Load, optional
        A steady load beside the wind; not that of a current ``afloat`` has.

    Raises
    ------
    OutsideModel
        For a step longer than half a second, or times that are not above 0.

    Source
    ------
    fossen-2021, ch. 6 (Kirchhoff's equations); newman-1977, ch. 4;
    allen-plourde-1999 (from memory): yachts so make 3 to 4 % of the wind.
    """
    if not (0.0 < clock.step_s <= 0.5 and clock.told_s > 0.0 and clock.lasts_s > 0.0):
        raise OutsideModel(
            "Drift",
            f"steps of {clock.step_s:g} s, told every {clock.told_s:g} s for {clock.lasts_s:g} s",
            "steps hold up to 0.5 s, and time goes on",
            "Give a step of 0.05 s.",
        )
    begun = at_rest_over_ground(afloat, laid.q) if laid.q.shape[1] == 3 else laid.q
    count, lines = begun.shape[0], len(ready.scene.lines)
    told = round(clock.lasts_s / clock.told_s) + 1
    track = np.full((count, told, DRIFT_COLUMNS), math.nan)
    track[:, 0] = begun
    peak_n, ended = np.zeros((count, lines)), np.zeros(count, np.int64)
    flat = Path(*(np.ascontiguousarray(a, float) for a in states))
    from_there = Laid(*(np.ascontiguousarray(a, float) for a in laid))
    steady = extra or Load(0.0, 0.0, 0.0, 0.0, 0.0, AIR_KGPM3)

    def part(first: int) -> None:
        span = (first, min(count, first + _STATES_AT_ONCE))
        drifts(ready.boat, afloat, flat, from_there, steady, clock, (track, peak_n, ended), span)

    with ThreadPoolExecutor() as pool:
        list(pool.map(part, range(0, count, _STATES_AT_ONCE)))
    return Drift(clock.told_s * np.arange(told, dtype=np.float64), track, peak_n, ended)
