"""Ground swept: how much bed her chain scours, of what kind, and what swinging would."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.wording.numbers import UNKNOWN, metres

if TYPE_CHECKING:
    from shorefast.stay import GroundSwept, Scoured

_MEADOW = "seagrass"
_ROOM = 0.01


def square_metres(area_m2: float) -> str:
    """An area, two digits known: ``40 m²``, ``2800 m²``; below 10 whole square metres."""
    if not math.isfinite(area_m2):
        return UNKNOWN
    step = 1.0 if area_m2 < 10.0 else 10.0 ** (math.floor(math.log10(area_m2)) - 1)
    return f"{math.floor(area_m2 / step + 0.5) * step:.0f} m²"


def ground_words(found: GroundSwept) -> str:
    """Two sentences: lying to lines, and swinging free to the same anchor."""
    lying = lying_words(found)
    if math.isnan(float(found.lying.total_m2.mean())):
        said = f"{lying}, what her chain sweeps is {UNKNOWN}: she has no known rest."
    else:
        said = f"{lying} her chain sweeps {_swept(found, found.lying, found.lost)}."
    if found.swinging is None:
        why = "the bed there, or the wind, is not known"
        return f"{said} What swinging free would sweep is {UNKNOWN}: {why}."
    free = f"Swinging to the same anchor with {metres(found.chain_m)} of chain"
    swept = _swept(found, found.swinging, found.lost_swinging)
    return f"{said} {free} it would be {swept}{_but(found)}."


def lying_words(found: GroundSwept) -> str:
    """What she lies to: lines, or the anchor alone."""
    return "Lying to lines" if found.to_lines else "Lying to her anchor alone"


def ground_rows(found: GroundSwept) -> list[tuple[str, str, str]]:
    """By kind of bottom: lying to lines and swinging free, mean and range over the members."""
    rows = [
        (kind, _spread(found.lying.area_m2[:, k]), _free(found, k))
        for k, kind in enumerate(found.kinds)
    ]
    if len(rows) == 1:
        return rows
    total = "" if found.swinging is None else _spread(found.swinging.total_m2)
    return [*rows, ("all", _spread(found.lying.total_m2), total or UNKNOWN)]


def _free(found: GroundSwept, kind: int) -> str:
    return UNKNOWN if found.swinging is None else _spread(found.swinging.area_m2[:, kind])


def _spread(area_m2: NDArray[np.float64]) -> str:
    """The mean of the members, and their range where there are several."""
    mean = square_metres(float(area_m2.mean()))
    low, high = (square_metres(float(end)).removesuffix(" m²") for end in _ends(area_m2))
    return mean if low == high else f"{mean} ({low} to {high})"


def _ends(area_m2: NDArray[np.float64]) -> tuple[float, float]:
    return float(area_m2.min()), float(area_m2.max())


def _swept(found: GroundSwept, of: Scoured, lost: int) -> str:
    """How much, and of what kind; at least so much where states are unknown."""
    if float(of.total_m2.max()) < 0.5:
        return f"less than 1 m² of bed{' in the states that are known' if lost else ''}"
    return f"{'at least' if lost else 'about'} {_spread(of.total_m2)}, {_kinds(found.kinds, of)}"


def _kinds(kinds: tuple[str, ...], of: Scoured) -> str:
    """Seagrass above all, then what nobody knows; else the one kind there is."""
    mean = dict(zip(kinds, of.area_m2.mean(axis=0).tolist(), strict=True))
    told = []
    if _MEADOW in mean and len(mean) > 1:
        some = _some(of.area_m2[:, kinds.index(_MEADOW)])
        sure = "known to be " if some == "none" and mean.get(UNKNOWN, 0.0) >= 0.5 else ""
        told.append(f"{some} of it {sure}{_MEADOW}")
    if UNKNOWN in mean and mean[UNKNOWN] >= 0.5:
        told.append(f"{square_metres(mean[UNKNOWN])} of bottom that nobody told")
    most = max(mean, key=lambda kind: mean[kind], default=UNKNOWN)
    return " and ".join(told) if told else f"all of it {most}" if len(mean) == 1 else f"most {most}"


def _some(area_m2: NDArray[np.float64]) -> str:
    """How much: none only where no member has any."""
    if float(area_m2.max()) < 0.5:
        return "none"
    mean = float(area_m2.mean())
    return square_metres(mean) if mean >= 0.5 else f"up to {square_metres(float(area_m2.max()))}"


def _but(found: GroundSwept) -> str:
    """What speaks against it besides: not aboard, no water."""
    told = []
    if found.chain_m > found.aboard_m + 0.05:
        told.append(f"she has {metres(found.aboard_m)} aboard")
    if found.aground_share >= _ROOM:
        told.append(f"she would have no water in {found.aground_share:.0%} of all states")
    return f"; {' and '.join(told)}" if told else ""
