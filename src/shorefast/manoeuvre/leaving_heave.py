"""Heaving in: how long it takes, and the windlass against the chain."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.basis import Assumption, Basis, Finding
from shorefast.stay import Stay

SLOW_TO_FAST_MPS = (10.0 / 60.0, 15.0 / 60.0, 20.0 / 60.0)
"""Ten, fifteen and twenty metres a minute: small windlasses under load (common practice)."""
BREAK_OUT_S = 60.0
"""From up and down to the anchor off the ground: our choice."""


@dataclass(frozen=True)
class Heaving:
    """Heaving in from the moment the last line is gone.

    Attributes
    ----------
    from_m, up_and_down_m : float
        Chain out at its beginning and when it hangs plumb. [m]
    heave_mps : float
        The windlass's, or the slowest of those told beside it where nobody knows. [m/s]
    known : bool
        Whether somebody told the windlass's speed.
    up_s, home_s : float
        Until the anchor is broken out; from then till it is home. [s]
    by_speed_s : tuple of (speed, time)
        Until up and down, by windlasses of ten, fifteen, twenty metres a minute. [m/s, s]
    """

    from_m: float
    up_and_down_m: float
    heave_mps: float
    known: bool
    up_s: float
    home_s: float
    by_speed_s: tuple[tuple[float, float], ...]


def heave_s(length_m: float, heave_mps: float) -> float:
    """Time to heave in a length of chain, the load not slowing the windlass. [s]"""
    return max(length_m, 0.0) / heave_mps


def heaving(stay: Stay, from_m: float, up_and_down_m: float) -> Heaving:
    """How long it takes to heave in so much chain, break out and bring the anchor home."""
    told = stay.boat.windlass.heave_mps
    mps = told if told is not None else SLOW_TO_FAST_MPS[0]
    # where the water is unknown all of it may have to come in
    length_m = from_m - (up_and_down_m if math.isfinite(up_and_down_m) else 0.0)
    return Heaving(
        from_m, up_and_down_m, mps, told is not None,
        heave_s(length_m, mps) + BREAK_OUT_S, heave_s(up_and_down_m, mps),
        tuple((speed, heave_s(length_m, speed)) for speed in SLOW_TO_FAST_MPS),
    )  # fmt: skip


def heave_basis(found: Heaving) -> Basis:
    """What the time for heaving rests on."""
    unknown = () if found.known else (
        Finding("Windlass", "nobody says how fast it heaves; reckoned with 10 m a minute"),
    )  # fmt: skip
    said = Assumption(
        f"Heaving goes at {60.0 * found.heave_mps:.0f} m a minute, and breaking out takes"
        f" {BREAK_OUT_S:.0f} s (our choice)",
        "Under load a windlass heaves slower, and an anchor long pulled at breaks out late",
    )
    return Basis(assumptions=(said,), findings=unknown)


def windlass_share(stay: Stay, pull_n: float) -> float:
    """The chain's pull over what the windlass pulls; NaN where nobody knows."""
    can_n = stay.boat.windlass.pull_n
    return math.nan if can_n is None else pull_n / can_n
