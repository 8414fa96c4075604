"""Shackles, slings, strong points; and what a tree or a rock would have to carry."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from shorefast.basis import Basis, Finding
from shorefast.boat.shipped import shipped_table
from shorefast.boat.strength import PartLimit
from shorefast.errors import BadInput, OutsideModel
from shorefast.quantities import STANDARD_GRAVITY_MPS2

RULE_OF_THUMB = "rule of thumb, no source"
TREE_LEAST_M = 0.30
BOULDER_FRICTION = 0.5
BOULDER_MARGIN = 2.0
ROCK_KGPM3 = 2600.0
_MARK = re.compile(r"(WLL|SWL|MBL|BL)?\s*([0-9]+(?:[.,][0-9]+)?)\s*(kN|daN|kg|t|T)", re.IGNORECASE)
_UNITS_N = {"kn": 1e3, "dan": 10.0, "kg": STANDARD_GRAVITY_MPS2, "t": 1e3 * STANDARD_GRAVITY_MPS2}


@dataclass(frozen=True)
class Marked:
    """What a shackle or sling is marked with, as loads. [N]

    ``working_n`` as marked, or the marked breaking load over the standard's factor;
    ``breaking_n`` the other way about: then it is what the standard wants, not a test.
    """

    working_n: float
    breaking_n: float
    source: str
    basis: Basis


@dataclass(frozen=True)
class StrongPoints:
    """How many strong points the standard wants at least."""

    forward: int
    aft: int
    each_side: int
    source: str


@dataclass(frozen=True)
class Holdfast:
    """Something ashore to tie to: its load, its unknown limit, and a rule beside it.

    Attributes
    ----------
    load_n : float
        What it would have to carry. [N]
    limit_n : float
        Always NaN: nobody knows what this one carries.
    least_size : float
        By the rule: least trunk [m] for a tree, least mass [kg] for a boulder; NaN
        where there is no rule.
    said : str
        The rule in words.
    source : str
        "rule of thumb, no source", always.
    """

    kind: str
    load_n: float
    limit_n: float
    least_size: float
    said: str
    source: str
    basis: Basis


def marked_load(kind: str, marking: str) -> Marked:
    """Working and breaking load of a shackle or sling from what is marked on it. [N]

    A load without a word, or with WLL or SWL, is a working load; MBL or BL a breaking
    load. Wear, bent pins and pulls askew are left out.

    Parameters
    ----------
    kind : str
        "shackle", "webbing sling", "round sling", "chain sling" or "wire sling".
    marking : str
        As it is read: "WLL 2 t", "3.25 T", "MBL 40 kN".

    Raises
    ------
    OutsideModel
        For a kind that is not known.
    BadInput
        For a marking without a load and its unit.

    Source
    ------
    en-13889, en-1492, en-818-4, en-13414; all from memory.
    """
    factor, source = _factor(kind)
    read = _MARK.fullmatch(marking.strip())
    load_n = _marked_n(read) if read else 0.0
    if read is None or load_n <= 0.0:
        raise BadInput(
            kind.capitalize(),
            f"marked '{marking}'",
            "a load and its unit wanted",
            "Write it as 'WLL 2 t', 'SWL 500 kg' or 'MBL 40 kN'.",
        )
    breaking = (read[1] or "").upper() in ("MBL", "BL")
    said = (
        f"marked with its breaking load; reckoned with 1/{factor:g} of it"
        if breaking
        else f"marked with its working load; the standard wants it to part at {factor:g} times that"
    )
    return Marked(
        working_n=load_n / factor if breaking else load_n,
        breaking_n=load_n if breaking else load_n * factor,
        source=source,
        basis=Basis(sources=(source,), findings=(Finding(kind.capitalize(), said),)),
    )


def shackle_by_size(diameter_m: float) -> Marked | None:
    """What a tested shackle is marked with that is no thicker than this; None if there is none.

    For telling only: what one without a mark carries nobody knows.

    Parameters
    ----------
    diameter_m : float
        Of the bow, or of the chain it joins. [m]

    Source
    ------
    en-13889 (from memory), ordinary quality.
    """
    rows = shipped_table("shorefast.boat", "shackles")
    # a size is read off a caliper to a tenth of a millimetre
    fits = [row for row in rows if float(row["size_mm"]) * 1e-3 <= diameter_m + 1e-4]
    if not fits:
        return None
    return marked_load("shackle", f"WLL {fits[-1]['working_t']} t")


def sling_in_use(marked: Marked, hitch: str) -> PartLimit:
    """What a sling should carry as it goes round the tree or rock. [N]

    Parameters
    ----------
    marked : Marked
    hitch : str
        "straight", "choked", "basket" or "basket at 45 degrees".

    Raises
    ------
    OutsideModel
        For a hitch not in the table.

    Source
    ------
    en-1492 (from memory).
    """
    rows = shipped_table("shorefast.boat", "hitches")
    for row in rows:
        if row["hitch"] == hitch:
            said = f"what it is marked with, {hitch} ({row['source']}, {row['status']})"
            return PartLimit(float(row["share"]) * marked.working_n, said)
    known = ", ".join(row["hitch"] for row in rows)
    raise OutsideModel("Sling", f"'{hitch}'", f"known are {known}", "Take the nearest of these.")


def strong_points_wanted(length_m: float) -> StrongPoints:
    """Least number of strong points for a hull of this length. [m]

    One forward; over 6 m one aft; over 12 m one more forward and aft; over 18 m one
    more on each side.

    Raises
    ------
    BadInput
        For a hull without a length.

    Source
    ------
    iso-15084 (numbers read).
    """
    if not 0.0 < length_m < math.inf:
        raise BadInput("Hull", f"length is {length_m:g} m", "more than 0 wanted", "Correct it.")
    more = int(length_m > 12.0)
    return StrongPoints(1 + more, int(length_m > 6.0) + more, int(length_m > 18.0), "iso-15084")


def tree(load_n: float) -> Holdfast:
    """A tree to tie to: what it would have to carry, beside a rule of thumb. [N]

    Source
    ------
    holdfast-thumb (common practice).
    """
    said = (
        f"a living tree, rooted in soil and not in scree, {TREE_LEAST_M * 100:.0f} cm thick or more"
        f" where the sling lies, close to the ground ({RULE_OF_THUMB})"
    )
    return _holdfast("tree", load_n, TREE_LEAST_M, said)


def boulder(load_n: float) -> Holdfast:
    """A loose boulder: the mass that rubs twice the load on level ground. [N]

    Friction a half, our choice; it rolls or tips sooner if the sling sits high.

    Source
    ------
    holdfast-thumb (common practice).
    """
    _must_pull("boulder", load_n)
    mass_kg = BOULDER_MARGIN * load_n / (BOULDER_FRICTION * STANDARD_GRAVITY_MPS2)
    volume_m3 = mass_kg / ROCK_KGPM3
    said = (
        f"a boulder of {mass_kg / 1e3:.1f} t or more, {volume_m3:.1f} cubic metres,"
        f" with the sling low ({RULE_OF_THUMB})"
    )
    return _holdfast("boulder", load_n, mass_kg, said)


def rock(load_n: float) -> Holdfast:
    """A horn or spike of living rock: there is no rule, only the load. [N]

    Source
    ------
    holdfast-thumb (common practice).
    """
    said = (
        "rock that is one with the hill, without a crack, that rings and does not sound hollow;"
        f" no size can be named ({RULE_OF_THUMB})"
    )
    return _holdfast("rock", load_n, math.nan, said)


def _holdfast(kind: str, load_n: float, least_size: float, said: str) -> Holdfast:
    _must_pull(kind, load_n)
    unknown = f"nobody knows what this {kind} carries; it would have to carry {load_n / 1e3:.1f} kN"
    return Holdfast(
        kind=kind,
        load_n=load_n,
        limit_n=math.nan,
        least_size=least_size,
        said=said,
        source=RULE_OF_THUMB,
        basis=Basis(sources=("holdfast-thumb",), findings=(Finding(kind.capitalize(), unknown),)),
    )


def _must_pull(kind: str, load_n: float) -> None:
    if not load_n >= 0.0:
        raise BadInput(
            kind.capitalize(), f"load is {load_n:g} N", "0 or more wanted", "Give the line's pull."
        )


def _factor(kind: str) -> tuple[float, str]:
    rows = shipped_table("shorefast.boat", "lifting")
    for row in rows:
        if row["kind"] == kind:
            return float(row["factor"]), row["source"]
    known = ", ".join(row["kind"] for row in rows)
    raise OutsideModel("Hardware", f"'{kind}'", f"known are {known}", "Take the nearest of these.")


def _marked_n(read: re.Match[str]) -> float:
    return float(read[2].replace(",", ".")) * _UNITS_N[read[3].lower()]
