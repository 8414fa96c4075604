"""What every part carries at a rest, what it should carry, and so its use."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis
from shorefast.boat import chain, cleat_limit, line_strength, rope, snubber_properties
from shorefast.mooring import (
    L_BEARING,
    L_FAR,
    L_TENSION,
    L_UPLIFT,
    Holding,
    chosen_fractile,
    holding,
    proof_here_n,
    slope_note,
    uplift_share,
)
from shorefast.stay.answer import PartUse
from shorefast.stay.lines_out import ShoreLeg
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import Rigged

Floats = NDArray[np.float64]
# the anchor's need must stay below the pull that one in ten so let go would not hold
FRACTILE = 0.10


@dataclass(frozen=True)
class Proven:
    """A proof at the shank: its pull [N], where it pulled to and its uplift [rad]."""

    pull_n: float
    toward_rad: float
    uplift_rad: float


@dataclass(frozen=True)
class Ground:
    """What holds the anchor: the odds before a proof, the proof, the slope there [rad]."""

    prior: Holding
    proven: Proven | None
    slope_rad: float

    @property
    def basis(self) -> Basis:
        """What the holding rests on, the slope's remark included."""
        note = slope_note(self.slope_rad)
        return self.prior.basis | (Basis(findings=(note,)) if note else Basis())

    def limit_n(self, toward_rad: Floats, uplift_rad: Floats) -> Floats:
        """What the anchor is trusted with, by direction and uplift of the pull. [N]

        The larger of the proof, as far as it counts in that direction, and of the
        chosen low end of the odds; both less as the pull lifts the shank.
        """
        low_n = chosen_fractile(self.prior, FRACTILE, uplift_rad, self.slope_rad)
        if self.proven is None:
            return low_n
        share = uplift_share(uplift_rad) / float(uplift_share(self.proven.uplift_rad))
        here_n = proof_here_n(self.proven.pull_n, self.proven.toward_rad, toward_rad)
        return np.fmax(here_n * np.minimum(1.0, share), low_n)


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
    prior = holding(stay.boat.anchor, stay.bay.bottom)
    return Ground(prior, proven, slope_at_anchor(stay, toward_rad))


_TOLD = {
    "iso-4565": "ISO 4565",
    "chain-trade": "trade values, from memory",
    "us-3-strand": "US 3-strand table",
    "iso-15084": "ISO 15084",
}


def _told(source: str) -> str:
    """A source in the words people know it by."""
    for key, words in _TOLD.items():
        source = source.replace(key, words)
    return source


def _half(source: str) -> str:
    return f"half of what parts it (common practice; {_told(source)})"


class _Limit(NamedTuple):
    """What a part should carry, who says so, and what parts it. [N]"""

    limit_n: Floats | float
    source: str
    breaks_n: float = math.nan


def _part(name: str, kind: str, carries: _Limit, load_n: Floats) -> PartUse:
    limit = np.broadcast_to(np.asarray(carries.limit_n, float), load_n.shape)
    with np.errstate(divide="ignore", invalid="ignore"):
        use = np.where(load_n == 0.0, 0.0 * limit, load_n / limit)
    return PartUse(name, kind, limit, carries.source, load_n, use, carries.breaks_n)


def _anchor(line: Floats, ground: Ground) -> PartUse:
    load_n, uplift = line[..., 0, L_FAR], np.maximum(line[..., 0, L_UPLIFT], 0.0)
    # from the anchor toward the boat: the way the pull comes
    toward = line[..., 0, L_BEARING] + math.pi
    source = f"the proof, as far as it counts that way, or what {FRACTILE:.0%} would not hold"
    if ground.proven is None:
        source = f"what {FRACTILE:.0%} of such anchors would not hold (from memory)"
    return _part("anchor", "anchor", _Limit(ground.limit_n(toward, uplift), source), load_n)


def _rode(stay: Stay, tension_n: Floats) -> list[PartUse]:
    parts = []
    grades = {(p.diameter_m, p.grade or 30) for p in stay.boat.rode if p.kind == "chain"}
    if grades:
        links = min((chain(d, g) for d, g in grades), key=lambda c: c.working_n)
        parts.append(
            _part(
                "chain",
                "chain",
                _Limit(links.working_n, f"working load by {_told(links.source)}", links.breaking_n),
                tension_n,
            )
        )
    ropes = [(p.diameter_m, p.fibre or "nylon") for p in stay.boat.rode if p.kind == "rope"]
    for diameter_m, fibre in ropes:
        laid = rope(fibre, diameter_m)
        usable_n = laid.breaking_n * 0.95 * laid.wet_share
        parts.append(
            _part(
                "rode rope",
                "line",
                _Limit(0.5 * usable_n, f"half of what parts it ({_told(laid.source)})", usable_n),
                tension_n,
            )
        )
    if stay.boat.snubber is not None:
        tail = snubber_properties(stay.boat.snubber).strength
        parts.append(
            _part(
                "snubber",
                "snubber",
                _Limit(
                    tail.limit_n, f"half of what parts it ({_told(tail.source)})", tail.usable_n
                ),
                tension_n,
            )
        )
    return parts


def _leg(leg: ShoreLeg, tension_n: Floats) -> tuple[PartUse, PartUse]:
    strength = line_strength(leg.line)
    source = f"half of what parts it as it is used (common practice; {_told(strength.source)})"
    carries = _Limit(strength.limit_n, source, strength.usable_n)
    line = _part(leg.name, "line", carries, tension_n / leg.parts)
    known = leg.point.strength_n
    holds = _Limit(math.nan, "unknown: this is what it has to carry")
    if known is not None:
        holds = _Limit(known, "bay file")
    point = _part(f"{leg.point.name} ashore", "point", holds, tension_n)
    return line, point


def _cleats(stay: Stay, rigged: Rigged, line: Floats) -> list[PartUse]:
    """Every cleat with all that pulls at it, whichever way: the sum of the tensions."""
    parts = []
    for cleat in stay.boat.cleats:
        at = [i for i, leg in enumerate(rigged.legs, start=1) if leg.cleat.name == cleat.name]
        if at:
            limit_n, source = cleat_limit(cleat, stay.boat.hull)
            load_n = line[..., at, L_TENSION].sum(axis=-1)
            parts.append(
                _part(f"{cleat.name} cleat", "cleat", _Limit(limit_n, _told(source)), load_n)
            )
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
    parts = [_anchor(line, ground), *_rode(stay, line[..., 0, L_TENSION])]
    for i, leg in enumerate(rigged.legs, start=1):
        far_n = np.fmax(line[..., i, L_TENSION], line[..., i, L_FAR])
        parts.extend(_leg(leg, far_n))
    parts.extend(_cleats(stay, rigged, line))
    return tuple(parts)
