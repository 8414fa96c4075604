"""Several files of depths over one bay: the finer one is believed where both speak."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from shorefast.basis import Finding
from shorefast.bay import REACH_M, Soundings, joined

COARSER = 4.0


def finest(parts: Sequence[Soundings]) -> tuple[Soundings, tuple[Finding, ...]]:
    """All soundings together, less those of a far coarser file near a finer one's.

    A node of a coarse grid stands for its whole cell and is often tens of metres out;
    among close soundings it would make a hill or a hole. [m]
    """
    from scipy.spatial import cKDTree

    order = sorted(range(len(parts)), key=lambda one: _spacing_m(parts[one]))
    kept = [parts[order[0]]]
    dropped = 0
    for one in order[1:]:
        spacing = _spacing_m(parts[one])
        finer = [part for part in kept if _spacing_m(part) * COARSER < spacing]
        part = parts[one]
        if finer:
            near = _places(joined(finer))
            reach = max(spacing, REACH_M)
            far = ~np.isfinite(cKDTree(near).query(_places(part), distance_upper_bound=reach)[0])
            dropped += int(np.sum(~far))
            part = part.only(far)
        kept.append(part)
    said = f"{dropped} depths of a coarser file left out near those of a finer one"
    return joined(kept), ((Finding("bay.toml, [[depths]]", said),) if dropped else ())


def _places(soundings: Soundings) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    return np.column_stack((soundings.east_m, soundings.north_m))


def _spacing_m(soundings: Soundings) -> float:
    from scipy.spatial import cKDTree

    places = np.unique(_places(soundings), axis=0)
    if len(places) < 2:
        return float("inf")
    some = places[np.unique(np.linspace(0, len(places) - 1, 2000).astype(int))]
    return float(np.median(cKDTree(places).query(some, k=2)[0][:, 1]))
