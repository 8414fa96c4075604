"""What is out: the pieces of the rode from the anchor, and the lines ashore, as they stretch."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.bay import ShorePoint
from shorefast.boat import (
    Cleat,
    LongLine,
    RodePiece,
    StretchCurve,
    Yacht,
    chain,
    rope,
    stretch,
)
from shorefast.errors import BadInput
from shorefast.mooring import LineSegments, ShoreLine
from shorefast.stay.plan import LieLine

# a rope that floats is let lie on the bed all the same: it cannot lift the chain
_LEAST_WEIGHT_NPM = 0.05

Bound = Literal["nominal", "soft", "stiff"]


@dataclass(frozen=True)
class Ropes:
    """How ropes are taken to stretch: which curve of each fibre, and whether all are new."""

    bound: Bound = "nominal"
    new: bool = False

    def curve(self, fibre: str, diameter_m: float) -> StretchCurve:
        """The curve of one rope."""
        found = stretch(fibre, diameter_m, new=self.new)
        return {"nominal": found.nominal, "soft": found.soft, "stiff": found.stiff}[self.bound]


@dataclass(frozen=True)
class Tail:
    """The snubber as it is set: its length before it is pulled [m], and its curve."""

    length_m: float
    curve: StretchCurve

    def loop_m(self, tension_n: ArrayLike) -> NDArray[np.float64]:
        """Chain that the idle loop beside it takes up at a pull: its stretched length. [m]

        tension_n : at the roller, any shape. NaN past what parts it.
        """
        return np.asarray(self.length_m * (1.0 + self.curve.extension_at(tension_n)))


@dataclass(frozen=True)
class ShoreLeg:
    """One shore line of the lie with what it is made of and tied to."""

    name: str
    plan: LieLine
    line: LongLine
    cleat: Cleat
    point: ShorePoint

    @property
    def parts(self) -> int:
        """How many parts share the pull."""
        return 2 if self.plan.doubled else 1


def rounded_down_m(length_m: float) -> float:
    """A length a hand can give without passing what is there: tenths, rounded down. [m]"""
    return math.floor(length_m * 10.0 + 1e-9) / 10.0


def _piece(piece: RodePiece, length_m: float, ropes: Ropes, roller_m: float) -> LineSegments:
    """A length of one piece of the rode, as a line by itself."""
    if piece.kind == "chain":
        links = chain(piece.diameter_m, piece.grade or 30)
        wet_npm, dry_npm = links.wet_weight_npm, links.air_weight_npm
        stiffness_n, curve = links.axial_stiffness_n, None
    else:
        laid = rope(piece.fibre or "nylon", piece.diameter_m)
        wet_npm, dry_npm = max(_LEAST_WEIGHT_NPM, laid.wet_weight_npm), laid.air_weight_npm
        curve = ropes.curve(laid.fibre, piece.diameter_m).knots_n()
        stiffness_n = float(curve[2, 0])
    return LineSegments(
        np.array([length_m]), np.array([wet_npm]), np.array([stiffness_n]),
        np.array([dry_npm]), roller_m, (curve,),
    )  # fmt: skip


def _joined(parts: list[LineSegments]) -> LineSegments:
    """Pieces end to end."""
    return LineSegments(
        np.concatenate([part.length_m for part in parts]),
        np.concatenate([part.weight_npm for part in parts]),
        np.concatenate([part.axial_stiffness_n for part in parts]),
        np.concatenate([part.air_npm for part in parts if part.air_npm is not None]),
        parts[0].roller_m,
        tuple(curve for part in parts for curve in part.curves or (None,)),
    )


def tail_set(boat: Yacht, chain_out_m: float, ropes: Ropes | None = None) -> Tail | None:
    """The snubber where it can be set: its hook on chain, outside the roller; else None."""
    tail = boat.snubber
    if tail is None:
        return None
    hook_m, end_m = chain_out_m - tail.length_m, 0.0
    for piece in boat.rode:
        end_m += piece.length_m
        if hook_m <= end_m:
            break
    if hook_m <= 0.0 or piece.kind != "chain":
        return None
    return Tail(tail.length_m, (ropes or Ropes()).curve(tail.fibre, tail.diameter_m))


def rode_segments(boat: Yacht, chain_out_m: float, ropes: Ropes | None = None) -> LineSegments:
    """The pieces of rode that are out, from the anchor, in sea water and above it.

    The last of them is the snubber where it is set; the chain from its hook inboard
    hangs idle beside it and is left out.

    Raises
    ------
    BadInput
        If more is asked than is aboard.
    """
    if not chain_out_m <= boat.rode_aboard_m:
        raise BadInput(
            "Rode",
            f"{round(chain_out_m, 1):g} m asked",
            f"{round(boat.rode_aboard_m, 1):g} m aboard",
            f"Give {rounded_down_m(boat.rode_aboard_m):g} m or less,"
            " or add the missing length to the gear list.",
        )
    parts: list[LineSegments] = []
    ropes = ropes or Ropes()
    tail = boat.snubber if tail_set(boat, chain_out_m, ropes) is not None else None
    left_m = chain_out_m - (tail.length_m if tail is not None else 0.0)
    for piece in boat.rode:
        if left_m <= 0.0:
            break
        length_m = min(left_m, piece.length_m)
        parts.append(_piece(piece, length_m, ropes, boat.roller.z_m))
        left_m -= length_m
    if tail is not None:
        rope_of_it = RodePiece("rope", tail.diameter_m, tail.length_m, fibre=tail.fibre)
        parts.append(_piece(rope_of_it, tail.length_m, ropes, boat.roller.z_m))
    return _joined(parts)


def shore_line(leg: ShoreLeg, ropes: Ropes) -> ShoreLine:
    """A leg as the solver takes it; of a doubled one both parts as one rope twice as strong."""
    laid = rope(leg.line.fibre, leg.line.diameter_m)
    curve = ropes.curve(leg.line.fibre, leg.line.diameter_m).knots_n(leg.parts)
    spot = leg.cleat.spot
    return ShoreLine(
        leg.name, spot.x_m, spot.y_m, spot.z_m,
        leg.point.east_m, leg.point.north_m, leg.point.height_m,
        leg.plan.length_m, leg.parts * laid.air_weight_npm, float(curve[2, 0]),
        leg.parts * laid.wet_weight_npm, curve,
    )  # fmt: skip
