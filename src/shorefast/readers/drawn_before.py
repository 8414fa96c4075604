"""Depth surfaces kept from one run to the next: the same soundings need no second drawing.

Kept beside the machine code, under a name made of all that went in and of the code that
draws. What cannot be read or written is drawn anew, and nobody need know.
"""

from __future__ import annotations

import hashlib
import os
import pickle
from contextlib import suppress
from pathlib import Path

import numpy as np
import scipy
import shapely
from shapely.geometry.base import BaseGeometry

import shorefast.bay
from shorefast.basis import VERSION
from shorefast.bay import Bounds, DepthSurface, Soundings, fit_surface
from shorefast.compiled import cache_root

KEPT = 24
LARGEST = 200_000


def surface_of(
    soundings: Soundings,
    bounds: Bounds,
    land: BaseGeometry | None,
    dangers: Soundings | None,
    unsounded: BaseGeometry | None,
) -> DepthSurface:
    """As ``bay.fit_surface``, and to the bit the same, from what was kept where it can be.

    Raises
    ------
    BadInput
        As ``fit_surface``.
    """
    name = _named(soundings, bounds, land, dangers, unsounded)
    kept = cache_root() / "surfaces" / f"{name}.pickle"
    before = _read(kept)
    if before is not None:
        return before
    drawn = fit_surface(soundings, bounds=bounds, land=land, dangers=dangers, unsounded=unsounded)
    if soundings.level_m.size <= LARGEST:
        _keep(kept, drawn)
    return drawn


def _named(*given: Soundings | Bounds | BaseGeometry | None) -> str:
    """A name that changes with anything that went in, and with the code."""
    told = hashlib.sha256(f"{VERSION} {np.__version__} {scipy.__version__}".encode())
    for path in sorted(Path(shorefast.bay.__file__).parent.glob("*.py")):
        told.update(path.read_bytes())
    for one in given:
        told.update(type(one).__name__.encode())
        if isinstance(one, Soundings):
            for part in vars(one).values():
                told.update(np.ascontiguousarray(part, float).tobytes() + b";")
        elif isinstance(one, BaseGeometry):
            told.update(shapely.to_wkb(one))
        else:
            told.update(repr(one).encode())
    return told.hexdigest()[:40]


def _read(kept: Path) -> DepthSurface | None:
    try:
        with kept.open("rb") as opened:
            found = pickle.load(opened)
        os.utime(kept)
    except Exception:  # noqa: BLE001 (whatever is wrong with it, it is drawn anew)
        return None
    return found if isinstance(found, DepthSurface) else None


def _keep(kept: Path, drawn: DepthSurface) -> None:
    """Written whole or not at all; of those kept the longest unused go."""
    half = kept.with_suffix(f".{os.getpid()}")
    try:
        kept.parent.mkdir(parents=True, exist_ok=True)
        half.write_bytes(pickle.dumps(drawn, protocol=5))
        half.replace(kept)
        every = sorted(kept.parent.glob("*.pickle"), key=lambda path: -path.stat().st_mtime)
        for old in every[KEPT:]:
            old.unlink(missing_ok=True)
    except OSError:
        with suppress(OSError):
            half.unlink(missing_ok=True)
