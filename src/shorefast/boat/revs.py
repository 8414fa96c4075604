"""Engine revs to pull astern, standing still, and back, with the doubt of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from shorefast.basis import Assumption, Basis
from shorefast.boat.own_pulls import OwnPulls, own_pulls
from shorefast.boat.thrust import AsternPull, astern_pull
from shorefast.boat.yacht import Engine

Reach = Literal["reached", "perhaps", "beyond", "unknown"]


@dataclass(frozen=True)
class RevsFor:
    """The revs for a pull, as shares of full revs and as revolutions. NaN where unknown.

    ``low`` if she pulls as hard as she may, ``high`` if as weakly.
    reach : "reached" where full revs give it even so; "perhaps" where they give it only if
        she pulls harder than that; "beyond" where they never do; "unknown" where nobody
        knows what full revs are.
    """

    pull_n: float
    share: float
    share_low: float
    share_high: float
    revs_rpm: float
    revs_low_rpm: float
    revs_high_rpm: float
    reach: Reach


@dataclass(frozen=True)
class RevsCurve:
    """Pull astern against revs, standing still.

    Attributes
    ----------
    full : AsternPull
        At full revs: the one ``astern_pull`` tells.
    full_revs_rpm : float or None
        None where nobody knows: then shares of full revs are all that can be told.
    own : OwnPulls or None
        The skipper's own readings.
    """

    full: AsternPull
    full_revs_rpm: float | None
    own: OwnPulls | None
    basis: Basis

    @property
    def by_readings_only(self) -> bool:
        """Whether revs are known by readings alone, and no share of full revs is."""
        return self.own is not None and self.full_revs_rpm is None

    def at_share(self, share: float) -> AsternPull:
        """The pull at a share of full revs; not asked where they are known by readings only. [N]"""
        if self.own is not None and self.full_revs_rpm is not None:
            nominal_n, low_n, high_n = self.own.pull_n(share * self.full_revs_rpm)
        else:
            full = (self.full.nominal_n, self.full.low_n, self.full.high_n)
            nominal_n, low_n, high_n = (each * share**2 for each in full)
        return AsternPull(nominal_n, low_n, high_n, self.full.source, self.basis)

    def at_revs(self, revs_rpm: float) -> AsternPull:
        """The pull at so many revolutions; NaN where nobody knows what full revs are. [N]"""
        if self.own is not None:
            return AsternPull(*self.own.pull_n(revs_rpm), "boat file", self.basis)
        if self.full_revs_rpm is None:
            nan = math.nan
            return AsternPull(nan, nan, nan, self.full.source, self.basis)
        return self.at_share(revs_rpm / self.full_revs_rpm)

    def revs_for(self, pull_n: float) -> RevsFor:
        """The revs for a wanted pull, with their range; what full revs cannot give is said. [N]"""
        full_rpm = self.full_revs_rpm or math.nan
        if pull_n <= 0.0:
            return _told(pull_n, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
        if self.own is not None:
            rpm, low, high = (_revs_of(self.own, pull_n, which) for which in (0, 2, 1))
            return _told(
                pull_n, (rpm / full_rpm, low / full_rpm, high / full_rpm), (rpm, low, high)
            )
        full_n = (self.full.nominal_n, self.full.high_n, self.full.low_n)
        share, least, most = (math.sqrt(pull_n / each) for each in full_n)
        revs = (share * full_rpm, least * full_rpm, most * full_rpm)
        return _told(pull_n, (share, least, most), revs)


def _told(
    pull_n: float, share: tuple[float, float, float], rpm: tuple[float, float, float]
) -> RevsFor:
    return RevsFor(pull_n, *share, *rpm, _reach(share[1], share[2]))


def _revs_of(own: OwnPulls, pull_n: float, which: int) -> float:
    """The revs at which one of pull, least and most is what is wanted. [rpm]"""
    low, high = 1.0, 50.0 * own.most_rpm
    for _ in range(80):
        middle = math.sqrt(low * high)
        if own.pull_n(middle)[which] < pull_n:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high)


def _reach(share_low: float, share_high: float) -> Reach:
    if math.isnan(share_high):
        return "unknown"
    if share_high <= 1.0:
        return "reached"
    return "perhaps" if share_low <= 1.0 else "beyond"


def revs_curve(engine: Engine) -> RevsCurve:
    """How hard she pulls astern at any revs, standing still.

    By her skipper's own readings where there are some, else by the pull at full revs
    (told, or from power and propeller) times the square of the share of them. Idling in
    gear is the least an engine can do; what that is nobody tells.

    Raises
    ------
    OutsideModel
        For an unknown kind of propeller.

    Source
    ------
    gerr-propeller (read); astern-thrust, shares by propeller (from memory);
    propeller-laws (from memory).
    """
    full = astern_pull(engine)
    own = own_pulls(engine)
    basis = full.basis | _basis(engine) | (Basis() if own is None else own.basis)
    return RevsCurve(full, engine.full_revs_rpm, own, basis)


def _basis(engine: Engine) -> Basis:
    taken = [
        Assumption(
            "Standing still the pull goes with the square of the revs",
            "Air drawn down, or a hull close by, takes some of it at high revs",
        )
    ]
    if engine.full_revs_rpm is not None:
        taken.append(
            Assumption(
                f"Full revs, {engine.full_revs_rpm:.0f} rpm, are reached astern, standing still",
                "Many engines stop at 60 to 80 of 100 of them at a standstill: then the last"
                " steps are as far as she goes",
            )
        )
    if engine.propeller in ("folding", "feathering"):
        taken.append(
            Assumption(
                f"The {engine.propeller} propeller has opened fully astern",
                "One that has not pulls almost nothing: feel her take before the revs go up",
            )
        )
    return Basis(assumptions=tuple(taken), sources=("propeller-laws",))
