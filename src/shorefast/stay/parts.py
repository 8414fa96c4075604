"""What every part carries at a rest, what it should carry, and so its use."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.mooring import (
    L_BEARING,
    L_FAR,
    L_TENSION,
    L_UPLIFT,
    Holding,
    chosen_fractile,
    holding,
    proof_here_n,
    proof_lifted_share,
    slope_note,
    two_in_line,
)
from shorefast.stay.answer import PartUse
from shorefast.stay.gear import gear_basis
from shorefast.stay.limits import Limit, kilograms_of, part_use
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged
from shorefast.stay.rode_parts import rode_parts
from shorefast.stay.shore_parts import cleat_part, shore_parts, sling_parts

Floats = NDArray[np.float64]
# the anchor's need must stay below the pull that one in ten so let go would not hold
FRACTILE = 0.10
_PROOF_STAYS = (
    Assumption(
        "A proof counts as long as she lies: neither hours nor the turn of the tide take from it",
        "An anchor that was turned or lifted since holds what it happens to: prove it again",
    ),
)


@dataclass(frozen=True)
class Proven:
    """A proof at the shank: its pull [N], where it pulled to and its uplift [rad]."""

    pull_n: float
    toward_rad: float
    uplift_rad: float


@dataclass(frozen=True)
class Ground:
    """What holds the anchor: the odds before a proof, the proof, the slope there [rad].

    ``second`` are the odds of an anchor ahead of it in line; ``gear`` is what the
    strength of the gear in the lie rests on.
    """

    prior: Holding
    proven: Proven | None
    slope_rad: float
    second: Holding | None = None
    gear: Basis = field(default_factory=Basis)

    @property
    def basis(self) -> Basis:
        """What holding and gear rest on, the slope's remark included."""
        note = slope_note(self.slope_rad)
        said = self.prior.basis | (Basis(findings=(note,)) if note else Basis()) | self.gear
        if self.proven is not None:
            said = said | Basis(assumptions=_PROOF_STAYS)
        if self.second is not None:
            said = said | two_in_line(self.prior, self.second, FRACTILE).basis
        return said

    def limit_n(self, toward_rad: Floats, uplift_rad: Floats) -> Floats:
        """What the anchor is trusted with, by direction and uplift of the pull. [N]

        The larger of the proof, as far as it counts in that direction, and of the
        chosen low end of the odds; both less as the pull lifts the shank. Of two in
        line the low end is the first alone.
        """
        low_n = self._low_n(uplift_rad)
        if self.proven is None:
            return low_n
        here_n = proof_here_n(self.proven.pull_n, self.proven.toward_rad, toward_rad)
        share = proof_lifted_share(self.proven.uplift_rad, uplift_rad)
        return np.fmax(here_n * share, low_n)

    def _low_n(self, uplift_rad: Floats) -> Floats:
        if self.second is None:
            return chosen_fractile(self.prior, FRACTILE, uplift_rad, self.slope_rad)
        return two_in_line(self.prior, self.second, FRACTILE, uplift_rad, self.slope_rad).low_n

    def second_adds_n(self) -> float:
        """The most the second anchor adds to that, pulled along the bed; NaN unknown. [N]"""
        if self.second is None:
            return 0.0
        pair = two_in_line(self.prior, self.second, FRACTILE, 0.0, self.slope_rad)
        return float(pair.high_n - pair.low_n)


def slope_at_anchor(stay: Stay, toward_rad: float) -> float:
    """Slope of the bed at the anchor toward the boat, positive rising. [rad]"""
    assert stay.lie is not None
    east_m, north_m = stay.lie.let_go_east_m, stay.lie.let_go_north_m
    run_m = np.array([-4.0, 4.0])
    level_m = stay.bay.surface.level_at(
        east_m + run_m * math.sin(toward_rad), north_m + run_m * math.cos(toward_rad)
    )
    slope = float((level_m[1] - level_m[0]) / 8.0)
    return math.atan(slope) if math.isfinite(slope) else 0.0


def ground_of(stay: Stay, proven: Proven | None) -> Ground:
    """The ground under the stay's anchor."""
    assert stay.lie is not None
    toward_rad = stay.lie.heading_rad + math.pi
    prior, second = holding(stay.boat.anchor, stay.bay.bottom), None
    if stay.lie.second_anchor_ahead_m is not None and stay.boat.second_anchor is not None:
        second = holding(stay.boat.second_anchor, stay.bay.bottom)
    return Ground(prior, proven, slope_at_anchor(stay, toward_rad), second, gear_basis(stay))


def _anchor(line: Floats, ground: Ground) -> PartUse:
    load_n, uplift = line[..., 0, L_FAR], np.maximum(line[..., 0, L_UPLIFT], 0.0)
    # from the anchor toward the boat: the way the pull comes
    toward = line[..., 0, L_BEARING] + math.pi
    carries = Limit(ground.limit_n(toward, uplift), _anchor_words(ground))
    return part_use("anchor", "anchor", carries, load_n)


def _anchor_words(ground: Ground) -> str:
    """What the anchor's limit is made of, in words."""
    odds = f"what {FRACTILE:.0%} of such anchors would not hold (from memory)"
    if not ground.prior.rated:
        odds = "unknown: nobody can rate an anchor in this bottom"
    said = odds
    if ground.proven is not None:
        proof = "the proof, as far as it counts that way"
        said = f"{proof}, or what {FRACTILE:.0%} would not hold" if ground.prior.rated else proof
    if ground.second is None:
        return said
    adds = kilograms_of(ground.second_adds_n())
    return f"{said}; of two in line the first alone: the second adds between nothing and {adds}"


def _cleats(stay: Stay, rigged: Rigged, line: Floats) -> list[PartUse]:
    """Every cleat with all that pulls at it, whichever way: the sum of the tensions."""
    parts = []
    for cleat in stay.boat.cleats:
        at = [i for i, leg in enumerate(rigged.legs, start=1) if leg.cleat.name == cleat.name]
        if at:
            load_n = line[..., at, L_TENSION].sum(axis=-1)
            parts.append(cleat_part(cleat, stay.boat.hull, load_n))
    return parts


def parts_in_use(stay: Stay, rigged: Rigged, ground: Ground, line: Floats) -> tuple[PartUse, ...]:
    """Every part's load, limit and use.

    Parameters
    ----------
    stay, rigged, ground :
        The stay, its lie rigged, and what holds the anchor.
    line : array, shape (member, time, line, column)
        Pulls at the rests, NaN where none was found.

    Returns
    -------
    parts : tuple of PartUse, arrays (member, time)
        The anchor first. A limit nobody knows is NaN, and so is that use.
    """
    assert stay.lie is not None
    out_m = stay.lie.chain_out_m
    parts = [_anchor(line, ground), *rode_parts(stay.boat, out_m, line[..., 0, L_TENSION])]
    pulls_n = [
        np.fmax(line[..., i, L_TENSION], line[..., i, L_FAR])
        for i in range(1, len(rigged.legs) + 1)
    ]
    parts.extend(shore_parts(rigged.legs, pulls_n))
    parts.extend(sling_parts(stay.boat, rigged.legs, pulls_n))
    parts.extend(_cleats(stay, rigged, line))
    return tuple(parts)
