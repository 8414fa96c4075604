"""How hard the engine pulls, standing still."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat.chain import SEA_WATER_KGPM3
from shorefast.boat.own_pulls import GIVEN_DOUBT, own_pulls
from shorefast.boat.shipped import shipped_table
from shorefast.boat.yacht import Engine
from shorefast.errors import OutsideModel
from shorefast.quantities import from_si, to_si

SHAFT_SHARE = 0.9


@dataclass(frozen=True)
class AsternPull:
    """Pull of the engine astern, standing still, and how far to trust it. [N]"""

    nominal_n: float
    low_n: float
    high_n: float
    source: str
    basis: Basis


def static_thrust_n(shaft_power_w: float, propeller_diameter_m: float) -> float:
    """Thrust ahead of a small propeller, standing still. [N]

    Source
    ------
    gerr-propeller, T = 62.72 (SHP D / 12)^0.67 in lbf, hp, inches (formula read).
    """
    power_hp = from_si(shaft_power_w, "power", "hp")
    diameter_in = from_si(propeller_diameter_m, "length", "in")
    return to_si(62.72 * (power_hp * diameter_in / 12.0) ** 0.67, "force", "lbf")


def tug_thrust_n(shaft_power_w: float, propeller_diameter_m: float) -> float:
    """The same for large, slow propellers of tugs, before losses. [N]

    Source
    ------
    marine-encyclopaedia, T = (D P)^(2/3) in kN, m, kW (read).
    """
    return float((propeller_diameter_m * shaft_power_w / 1e3) ** (2.0 / 3.0) * 1e3)


def ideal_thrust_n(shaft_power_w: float, propeller_diameter_m: float) -> float:
    """What no propeller of that size can pass: the actuator disc. [N]

    Source
    ------
    actuator-disc, T = (rho pi D^2 / 2 P^2)^(1/3) (momentum theory).
    """
    disc = SEA_WATER_KGPM3 * math.pi * propeller_diameter_m**2 / 2.0
    return float((disc * shaft_power_w**2) ** (1.0 / 3.0))


def astern_pull(engine: Engine, revs_share: float = 1.0) -> AsternPull:
    """How hard she pulls astern at a share of full revs, standing still.

    By her skipper's own readings where full revs are told too; else a pull the skipper
    gives is taken as it is; else the static thrust formula times what a propeller of
    her kind reaches astern. It goes with the square of the revs. Prop walk, ventilation
    and a foul bottom are left out.

    Parameters
    ----------
    engine : Engine
    revs_share : float
        Revs over the revs of full throttle, 0 to 1.

    Raises
    ------
    OutsideModel
        For revs beyond full throttle, or an unknown kind of propeller.

    Source
    ------
    gerr-propeller (read); astern-thrust, shares by propeller (from memory).
    """
    if not 0.0 <= revs_share <= 1.0:
        raise OutsideModel(
            where="Engine",
            got=f"{revs_share:.2g} of full revs asked",
            against="from 0 to 1 is known",
            way_out="Give revs from 0 up to those of full throttle.",
        )
    own = own_pulls(engine)
    if own is not None and engine.full_revs_rpm is not None:
        at = own.pull_n(revs_share * engine.full_revs_rpm)
        return AsternPull(*at, "boat file", own.basis | _beside_formula(engine, own.pull_n))
    if engine.astern_pull_n is not None:
        given_n = engine.astern_pull_n
        shares = (1.0, 1.0 - GIVEN_DOUBT, 1.0 + GIVEN_DOUBT)
        return _pull(given_n, shares, revs_share, "boat file", _given())
    ahead_n = static_thrust_n(SHAFT_SHARE * engine.power_w, engine.propeller_diameter_m)
    return _pull(
        ahead_n, _astern_shares(engine.propeller), revs_share, "gerr-propeller", _by_formula()
    )


def ahead_share(propeller: str) -> float:
    """What a propeller of a kind reaches ahead of the static thrust formula, standing still.

    Raises
    ------
    OutsideModel
        For an unknown kind of propeller.

    Source
    ------
    astern-thrust (from memory).
    """
    return float(_row_of(propeller)["ahead"])


@dataclass(frozen=True)
class AheadPull:
    """Pull of the engine ahead, standing still, and how far to trust it. [N]"""

    nominal_n: float
    low_n: float
    high_n: float
    basis: Basis


def ahead_pull(engine: Engine) -> AheadPull:
    """How hard she pulls ahead at full throttle, standing still.

    Her pull astern over the share of the pull ahead that a propeller of her kind reaches
    astern; the low end has the low end of the one and the high end of the other.

    Raises
    ------
    OutsideModel
        For an unknown kind of propeller.

    Source
    ------
    gerr-propeller (read); astern-thrust, shares by propeller (from memory).
    """
    astern, ahead = astern_pull(engine), ahead_share(engine.propeller)
    nominal, low, high = (share / ahead for share in _astern_shares(engine.propeller))
    said = Assumption(
        f"Ahead she pulls what she pulls astern over {nominal:.2g}, the share of her pull ahead"
        f" that such a propeller reaches astern ({low:.2g} to {high:.2g})",
        "With a foul bottom or propeller she pulls less: measure it against a bollard",
    )
    basis = astern.basis | Basis(assumptions=(said,), sources=("gerr-propeller", "astern-thrust"))
    return AheadPull(astern.nominal_n / nominal, astern.low_n / high, astern.high_n / low, basis)


def _pull(
    full_n: float, shares: tuple[float, float, float], revs_share: float, source: str, basis: Basis
) -> AsternPull:
    nominal_n, low_n, high_n = (full_n * share * revs_share**2 for share in shares)
    return AsternPull(nominal_n, low_n, high_n, source, basis)


def _astern_shares(propeller: str) -> tuple[float, float, float]:
    row = _row_of(propeller)
    return float(row["nominal"]), float(row["low"]), float(row["high"])


def _row_of(propeller: str) -> Mapping[str, str]:
    rows = shipped_table("shorefast.boat", "thrust")
    for row in rows:
        if row["propeller"] == propeller:
            return row
    raise OutsideModel(
        where="Propeller",
        got=f"'{propeller}'",
        against=f"known are {', '.join(row['propeller'] for row in rows)}",
        way_out="Take the nearest of these.",
    )


def _beside_formula(engine: Engine, pull_n: Callable[[float], tuple[float, float, float]]) -> Basis:
    """That readings carried to full revs lie outside what the formula says, where they do."""
    ahead_n = static_thrust_n(SHAFT_SHARE * engine.power_w, engine.propeller_diameter_m)
    _, low, high = _astern_shares(engine.propeller)
    full_n = pull_n(engine.full_revs_rpm or 0.0)[0]
    if low * ahead_n <= full_n <= high * ahead_n:
        return Basis()
    less = "less" if full_n < low * ahead_n else "more"
    said = (
        f"carried to full revs they say {full_n:.0f} N, {less} than the {low * ahead_n:.0f} to"
        f" {high * ahead_n:.0f} N by formula for that power and propeller: look at the revs,"
        " the balance, the propeller and the bottom again"
    )
    return Basis(findings=(Finding("Engine pulls", said),), sources=("gerr-propeller",))


def _given() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                f"The astern pull in the boat file is right to {GIVEN_DOUBT:.0%}",
                "The proof is that much more or less",
            ),
        )
    )


def _by_formula() -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "The astern pull is by formula from power and propeller",
                "It can be half or half as much again: measure it with a spring balance",
            ),
        ),
        sources=("gerr-propeller", "astern-thrust"),
    )
