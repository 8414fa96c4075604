"""How far a rope stretches under a pull, and how stiff it is there.

Extension is stretch over unstretched length. Up to half its strength a curve goes
through the printed points, convex, with a slope that nowhere jumps; from there on
straight to the breaking load, since nothing is printed but the stretch at break.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.boat.rope import rope
from shorefast.boat.shipped import shipped_table
from shorefast.errors import BadInput, OutsideModel

Floats = NDArray[np.float64]

NEW_LEAST, NEW_MOST = 1.3, 2.0
READ_AT = 0.2
_POINTS = {"at_10": 0.1, "at_20": 0.2, "at_30": 0.3, "at_50": 0.5}
_PACKAGE = "shorefast.boat"


@dataclass(frozen=True, eq=False)
class StretchCurve:
    """Pull against extension of one rope: a convex curve in pieces, exact both ways.

    Attributes
    ----------
    breaking_n : float
        Least breaking load, new and dry. [N]
    extension, share, slope : arrays, shape (knot,)
        Stretch over length, pull over ``breaking_n``, and the slope of the second
        over the first; between knots the slope goes straight.
    """

    breaking_n: float
    extension: Floats
    share: Floats
    slope: Floats

    def tension_at(self, extension: ArrayLike) -> Floats:
        """Pull at an extension: 0 where slack, NaN past the break (it has parted). [N]"""
        at = np.maximum(np.asarray(extension, float), 0.0)
        piece = _piece(self.extension, at)
        past = at - self.extension[piece]
        share = self.share[piece] + past * (self.slope[piece] + 0.5 * self._bend(piece) * past)
        parted = at > self.extension[-1] * (1.0 + 1e-12)
        return np.where(parted, np.nan, share * self.breaking_n)

    def extension_at(self, tension_n: ArrayLike) -> Floats:
        """Extension under a pull [N]: 0 where slack, NaN past the breaking load."""
        share = np.maximum(np.asarray(tension_n, float), 0.0) / self.breaking_n
        piece = _piece(self.share, share)
        over = share - self.share[piece]
        slope = self.slope[piece]
        root = np.sqrt(np.maximum(slope**2 + 2.0 * self._bend(piece) * over, 0.0))
        # this form of the quadratic's root also holds where the piece is straight
        extension = self.extension[piece] + 2.0 * over / (slope + root)
        return np.where(share > 1.0 + 1e-12, np.nan, extension)

    def secant_stiffness_n(self, tension_n: ArrayLike) -> Floats:
        """EA from slack to a pull: the pull over its extension. [N]

        At no pull it is the tangent there; NaN past the breaking load.
        """
        pull_n = np.asarray(tension_n, float)
        with np.errstate(divide="ignore", invalid="ignore"):
            secant_n = pull_n / self.extension_at(pull_n)
        return np.where(pull_n <= 0.0, self.slope[0] * self.breaking_n, secant_n)

    def tangent_stiffness_n(self, tension_n: ArrayLike) -> Floats:
        """EA about a pull: what a little more stretch adds; NaN past the break. [N]"""
        at = self.extension_at(tension_n)
        piece = _piece(self.extension, at)
        slope = self.slope[piece] + self._bend(piece) * (at - self.extension[piece])
        return np.asarray(slope * self.breaking_n, float)

    def knots_n(self, parts: int = 1) -> Floats:
        """The curve as an array (3, knot): pull [N], extension, slope [N].

        parts : of a rope laid in so many parts that share the pull.
        """
        strength_n = parts * self.breaking_n
        return np.stack([self.share * strength_n, self.extension, self.slope * strength_n])

    def stretched(self, times: float) -> StretchCurve:
        """The curve of a rope that stretches so many times as much at every pull.

        Raises
        ------
        BadInput
            For a multiple that is not more than 0.
        """
        if not 0.0 < times < math.inf:
            raise BadInput(
                "Rope", f"stretches {times:g} times as much", "more than 0 wanted", "Correct it."
            )
        return StretchCurve(self.breaking_n, self.extension * times, self.share, self.slope / times)

    def _bend(self, piece: NDArray[np.intp]) -> Floats:
        run = self.extension[piece + 1] - self.extension[piece]
        return np.asarray((self.slope[piece + 1] - self.slope[piece]) / run, float)


@dataclass(frozen=True)
class Stretch:
    """A rope's stretch with its doubt: at every pull soft >= nominal >= stiff extension.

    ``break_low``, ``break_high``: the printed span of extension at break, used rope.
    """

    fibre: str
    construction: str
    soft: StretchCurve
    nominal: StretchCurve
    stiff: StretchCurve
    break_low: float
    break_high: float
    status: str
    basis: Basis


@dataclass(frozen=True)
class Stiffness:
    """EA for a pull that stands, and for one that comes and goes about it. [N]"""

    quasi_static_n: Floats
    short_term_n: Floats
    basis: Basis


def constructions(fibre: str) -> tuple[str, ...]:
    """How ropes of a fibre are made, as far as their stretch is known; the first is taken."""
    rows = shipped_table(_PACKAGE, "stretch")
    return tuple(row["construction"] for row in rows if row["fibre"] == fibre)


@cache
def stretch(fibre: str, diameter_m: float, construction: str = "", *, new: bool = False) -> Stretch:
    """How a rope stretches: the curve to reckon with, a soft one and a stiff one.

    Used rope: the printed curve; soft, 1.3 times its extension, as after its first
    loadings. New rope: the middle of 1.3 to 2 times; soft, twice. Stiff, both: the
    printed curve drawn in until at a fifth of the strength it has the stiffest EA
    read. Creep, wet, heat and a splice's own stretch are left out.

    Parameters
    ----------
    fibre : str
        One of FIBRES.
    diameter_m : float
        As the rope is sold. [m]
    construction : str
        One of ``constructions(fibre)``; empty: the first of them.
    new : bool
        Before its first loadings.

    Raises
    ------
    OutsideModel
        For a fibre, diameter or construction that is not known.

    Source
    ------
    rope-elongation (from memory); mooring-line-properties for the stiff bound (read).
    """
    made_of = rope(fibre, diameter_m)
    row = _row(fibre, construction)
    used = _curve(row, made_of.breaking_n)
    read = made_of.stiffness_stiff * made_of.breaking_n
    drawn_in = float(used.secant_stiffness_n(READ_AT * made_of.breaking_n)) / read
    middle = math.sqrt(NEW_LEAST * NEW_MOST)
    return Stretch(
        fibre=fibre,
        construction=row["construction"],
        soft=used.stretched(NEW_MOST if new else NEW_LEAST),
        nominal=used.stretched(middle) if new else used,
        stiff=used.stretched(min(1.0, drawn_in)),
        break_low=0.01 * float(row["break_low"]),
        break_high=0.01 * float(row["break_high"]),
        status=row["status"],
        basis=made_of.basis | _basis(row, used, new),
    )


def stiffness_about(fibre: str, diameter_m: float, mean_tension_n: ArrayLike) -> Stiffness:
    """EA of a used rope under a mean pull: for slow change, and for waves and gusts. [N]

    Quasi-static: the secant of the printed curve. Short-term: breaking load times
    (a + b mean / breaking load). Past the breaking load both are NaN.

    Parameters
    ----------
    fibre, diameter_m :
        As for ``stretch``.
    mean_tension_n : array
        [N]

    Raises
    ------
    OutsideModel
        For a fibre whose short-term stiffness has not been read.

    Source
    ------
    mooring-line-properties, EAd (read); rope-elongation (from memory).
    """
    rows = {row["fibre"]: row for row in shipped_table(_PACKAGE, "short_term")}
    if fibre not in rows:
        raise OutsideModel(
            "Rope",
            f"short-term stiffness of {fibre}",
            f"read for {', '.join(rows)}",
            "Reckon with the soft and the stiff curve of its stretch instead.",
        )
    curves = stretch(fibre, diameter_m)
    breaking_n = curves.nominal.breaking_n
    share = np.maximum(np.asarray(mean_tension_n, float), 0.0) / breaking_n
    times = float(rows[fibre]["constant"]) + float(rows[fibre]["per_mean"]) * share
    return Stiffness(
        quasi_static_n=curves.nominal.secant_stiffness_n(mean_tension_n),
        short_term_n=np.where(share > 1.0, np.nan, times * breaking_n),
        basis=curves.basis | _offshore(fibre, rows[fibre]["source"]),
    )


def _piece(knots: Floats, at: Floats) -> NDArray[np.intp]:
    """Which piece a value lies on; the last for one past the end."""
    return np.clip(np.searchsorted(knots, at, side="right") - 1, 0, knots.size - 2)


def _row(fibre: str, construction: str) -> Mapping[str, str]:
    rows = [row for row in shipped_table(_PACKAGE, "stretch") if row["fibre"] == fibre]
    for row in rows:
        if construction in ("", row["construction"]):
            return row
    raise OutsideModel(
        "Rope",
        f"{construction} {fibre}",
        f"its stretch is known as {', '.join(constructions(fibre))}",
        "Take the nearest of these.",
    )


def _curve(row: Mapping[str, str], breaking_n: float) -> StretchCurve:
    """A convex curve through the printed points, straight from the last to the breaking load."""
    extension = np.array([0.0, *(0.01 * float(row[name]) for name in _POINTS)])
    share = np.array([0.0, *_POINTS.values()])
    chord = np.diff(share) / np.diff(extension)
    node = _node_slopes(chord)
    at, slope = _between(extension, chord, node)
    carried = np.append(0.0, np.cumsum(0.5 * (slope[1:] + slope[:-1]) * np.diff(at)))
    end = at[-1] + (1.0 - carried[-1]) / slope[-1]
    return StretchCurve(
        breaking_n, np.append(at, end), np.append(carried, 1.0), np.append(slope, slope[-1])
    )


def _node_slopes(chord: Floats) -> Floats:
    """Slopes at the points: between those of the chords that meet there (harmonic mean)."""
    node = np.empty(chord.size + 1)
    node[1:-1] = 2.0 * chord[1:] * chord[:-1] / (chord[1:] + chord[:-1])
    # two chords in line: a convex curve can only be straight along both
    for i in np.flatnonzero(np.isclose(chord[1:], chord[:-1], rtol=1e-6)):
        node[i : i + 3] = chord[i]
    straight_last = bool(np.isclose(chord[-1], chord[-2], rtol=1e-6))
    node[0] = max(0.5 * chord[0], 2.0 * chord[0] - node[1])
    node[-1] = chord[-1] if straight_last else 2.0 * chord[-1] - node[-2]
    return node


def _between(extension: Floats, chord: Floats, node: Floats) -> tuple[Floats, Floats]:
    """Add to each span the knot where its end tangents cross: the slope there is the chord's."""
    rise = node[1:] - node[:-1]
    bent = rise > 1e-6 * chord
    part = np.where(bent, (node[1:] - chord) / np.where(bent, rise, 1.0), 0.5)
    crossing = extension[:-1] + part * np.diff(extension)
    at = np.append(np.stack([extension[:-1], crossing], -1).ravel(), extension[-1])
    slope = np.append(np.stack([node[:-1], chord], -1).ravel(), node[-1])
    return at, slope


def _basis(row: Mapping[str, str], used: StretchCurve, new: bool) -> Basis:
    where = f"Stretch of {row['construction']} {row['fibre']}"
    end, low, high = 100.0 * used.extension[-1], float(row["break_low"]), float(row["break_high"])
    findings = [
        Finding(
            where,
            "above half its strength only the stretch at break is printed"
            f" ({low:g} to {high:g} %); the curve goes on straight and ends at {end:.1f} %",
        )
    ]
    if new:
        findings.append(
            Finding(where, "new rope stretches 1.3 to 2 times as much on its first loadings")
        )
    doubt = Assumption(
        "A used rope stretches by a handbook's curve, from memory; up to 1.3 times as much is"
        " its soft bound, the stiffest figure read its stiff one (our choice)",
        "Both bounds should be reckoned with: the stiff one for loads, the soft one for room",
    )
    return Basis(
        assumptions=(doubt,),
        sources=(row["source"], "mooring-line-properties"),
        findings=tuple(findings),
    )


def _offshore(fibre: str, source: str) -> Basis:
    said = "the short-term stiffness was read for large offshore ropes, not for yachts' ropes"
    return Basis(sources=(source,), findings=(Finding(f"Stiffness of {fibre}", said),))
