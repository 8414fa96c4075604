"""What this boat can do: her own table, by depth of the water and slope of the bed."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.boat import Yacht, astern_pull
from shorefast.manoeuvre.able_chain import (
    CHAIN_DOUBT,
    RESERVE_M,
    all_out,
    asked_out,
    at_depths,
    depths_for,
    force_doubt,
    needed_out,
    whole_table,
    wind_shares,
)
from shorefast.manoeuvre.able_gear import engine_pulls, heaving, line_spans
from shorefast.manoeuvre.able_kinds import Able
from shorefast.manoeuvre.falling import falls
from shorefast.manoeuvre.leeway import leeway
from shorefast.stay import LEAST_WATER_M

DEPTHS_M = (5.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0)
SLOPES_RAD = tuple(math.radians(up) for up in (0.0, 5.0, 10.0, 15.0, 20.0, 25.0, -10.0, -20.0))


@dataclass(frozen=True)
class AbleAsked:
    """What is asked: steady winds [m/s], for the chain and for the drift; lengths out [m]."""

    wind_mps: tuple[float, ...]
    drift_wind_mps: tuple[float, ...]
    chain_out_m: tuple[float, ...] = ()
    depth_m: tuple[float, ...] = DEPTHS_M
    slope_rad: tuple[float, ...] = SLOPES_RAD


def able(boat: Yacht, asked: AbleAsked) -> Able:
    """Her chain, engine, lines, windlass and drift, from her file alone.

    Parameters
    ----------
    boat : Yacht
    asked : AbleAsked

    Raises
    ------
    BadInput
        For a length out that is not aboard, or a rode no longer than what stays inboard.
    """
    depth_m, slope_rad = np.array(asked.depth_m), np.array(asked.slope_rad)
    table = whole_table(boat, depths_for(boat, depth_m), slope_rad)
    curve = all_out(boat, table)
    more = tuple(asked_out(boat, out_m, depth_m, slope_rad) for out_m in asked.chain_out_m)
    return Able(
        name=boat.name,
        aboard_m=boat.rode_aboard_m,
        reserve_m=RESERVE_M,
        roller_m=boat.roller.z_m,
        wind_doubt=wind_shares(boat)[1] - 1.0,
        chain=(at_depths(curve, depth_m), *more),
        curve=curve,
        needed=needed_out(boat, table, curve, depth_m, np.array(asked.wind_mps)),
        engine=engine_pulls(boat, curve),
        lines=line_spans(boat),
        heaving=heaving(boat, depth_m),
        falls=falls(boat, depth_m),
        leeway=leeway(boat, np.array(asked.drift_wind_mps)),
        basis=boat.basis | _basis(boat),
    )


def _basis(boat: Yacht) -> Basis:
    said = [
        Assumption(
            "The bed is a plane, the water still, the pull steady and along the slope",
            "In gusts and swell the shank lifts sooner; a hollow or a step changes all of it",
        ),
        Assumption(
            f"A metre of her chain weighs within {CHAIN_DOUBT:.0%} of the table's (our estimate)",
            "The pull before the shank lifts goes with the weight",
        ),
        Assumption(
            f"The wind's force on her is known to {force_doubt(boat):.0%} (one standard"
            " deviation); she lies free, no line holds her into or across it",
            "Held by tight lines across the wind the anchor's pull can be twice that of the wind",
        ),
        Assumption(
            f"She keeps {LEAST_WATER_M:g} m under keel and rudder on the bed's own plane",
            "Real shores steepen and have stones: sound under the stern",
        ),
        Assumption(
            "Run free, half of the hanging chain's weight at the most is held back on deck; the"
            " anchor's drag is our estimate",
            "A brake, a kink or a heap in the locker makes it longer: count it once by a mark",
        ),
        Assumption(
            "The windlass lifts what its file says; breaking out is not in it",
            "Makers print the greatest pull; at work it is often a third of that",
        ),
        Assumption(
            "Beam-on her side drags once its area through the water, known to a quarter",
            "Under bare poles few boats lie quite beam-on: they forge ahead or fall off",
        ),
    ]
    if boat.snubber is not None:
        said.append(
            Assumption(
                f"Her snubber of {boat.snubber.length_m:g} m is set, its rope in place of chain",
                "Without it a little more pull is needed to lift the shank",
            )
        )
    basis = Basis(
        assumptions=tuple(said),
        sources=("irvine-1981", "leeway-taxonomy", "dnv-os-e301", "blendermann-1994"),
    )
    return basis if boat.engine is None else basis | astern_pull(boat.engine).basis
