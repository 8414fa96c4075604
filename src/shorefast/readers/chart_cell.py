"""A chart cell as its objects: what each is, where it lies, what it says of itself."""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from shorefast.errors import Unreadable
from shorefast.readers.chart_codes import code_of, meaning, number_of
from shorefast.readers.chart_updates import laid_out, updates_of

OPTIONS = (
    "RETURN_PRIMITIVES=OFF,LNAM_REFS=ON,SPLIT_MULTIPOINT=ON,ADD_SOUNDG_DEPTH=ON,RECODE_BY_DSSI=ON"
)
_BARE = ("IsolatedNode", "ConnectedNode", "Edge", "Face", "DSID")


@dataclass(frozen=True)
class Charted:
    """One object of a chart; ``shape`` in longitude and latitude. [deg]"""

    shape: BaseGeometry | None
    says: Mapping[str, Any]


@dataclass(frozen=True)
class Cell:
    """A chart cell with its updates applied.

    Attributes
    ----------
    objects : mapping
        Acronym of a class (SOUNDG, DEPARE, ...) to its objects.
    about : mapping
        What the cell says of itself (DSID, DSSI, DSPM).
    notes : tuple of str
        What was noticed on the way.
    """

    name: str
    objects: Mapping[str, tuple[Charted, ...]]
    about: Mapping[str, Any]
    notes: tuple[str, ...]

    def of(self, *classes: str) -> Iterator[tuple[str, Charted]]:
        """Every object of some classes, with its class."""
        for one in classes:
            for found in self.objects.get(one, ()):
                yield one, found

    @property
    def sounding_datum(self) -> str | None:
        """The level its depths count from, in words."""
        return meaning("datum", code_of(self.about, "DSPM_SDAT"))

    @property
    def scale(self) -> float:
        """One to so many, as the chart was compiled; 20 000 where it does not say."""
        told = number_of(self.about, "DSPM_CSCL")
        return told if told is not None and told > 0.0 else 20_000.0


def read_cell(path: Path) -> Cell:
    """Read a cell; updates beside it (.001, .002, ...) that belong to it are applied in order.

    Raises
    ------
    Unreadable
        If it, or one of its updates, is damaged, cut short or encrypted, or holds no object.

    Source
    ------
    iho-s57, Part 3 and Appendix B.1 (ENC product specification)
    """
    updates = updates_of(path)
    with _gdal_told(), laid_out(path, updates.apply) as there:
        try:
            objects, about, notes = _layers(there)
        except (ValueError, OSError, RuntimeError):
            raise Unreadable(
                path.name,
                "GDAL cannot read it as a chart",
                "an S-57 chart cell wanted",
                "Fetch it again.",
            ) from None
    if not objects:
        raise Unreadable(
            path.name, "no object in it", "an S-57 chart cell wanted", "Name another cell."
        )
    _check_units(path.name, about)
    return Cell(path.name, objects, about, (*updates.notes, *notes))


@contextmanager
def _gdal_told() -> Iterator[None]:
    """The options of the S-57 reader, set for this call only."""
    import pyogrio

    before = pyogrio.get_gdal_config_option("OGR_S57_OPTIONS")
    pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": OPTIONS})
    try:
        yield
    finally:
        pyogrio.set_gdal_config_options({"OGR_S57_OPTIONS": before})


def _layers(
    path: Path,
) -> tuple[dict[str, tuple[Charted, ...]], Mapping[str, Any], tuple[str, ...]]:
    import pyogrio

    objects: dict[str, tuple[Charted, ...]] = {}
    about: Mapping[str, Any] = {}
    with warnings.catch_warnings(record=True) as heard:
        warnings.simplefilter("always")
        names = [str(name) for name in pyogrio.list_layers(path)[:, 0]]
        for name in names:
            if name == "DSID":
                about = next((one.says for one in _objects(path, name)), {})
            elif name not in _BARE:
                found = tuple(_objects(path, name))
                objects |= {name: found} if found else {}
    # where it lies is no matter of the chart, and may be a folder for the moment
    told = (str(one.message).replace(f"{path.parent}{os.sep}", "") for one in heard)
    said = dict.fromkeys(one.splitlines()[0] for one in told)
    return objects, about, tuple(f"GDAL warned: {one}" for one in said)


def _objects(path: Path, layer: str) -> Iterator[Charted]:
    import pyogrio.raw

    about, _, wkb, columns = pyogrio.raw.read(path, layer=layer)
    fields = [str(one) for one in about["fields"]]
    count = len(columns[0]) if len(columns) else 0
    shapes = [None] * count if wkb is None else shapely.from_wkb(wkb, on_invalid="ignore")
    for k in range(count):
        says = {
            field: column[k]
            for field, column in zip(fields, columns, strict=True)
            if column[k] is not None
        }
        yield Charted(shapes[k], says)


def _check_units(name: str, about: Mapping[str, Any]) -> None:
    unit = code_of(about, "DSPM_DUNI")
    if unit not in (None, 1):
        raise Unreadable(
            name,
            f"its depths are in {meaning('unit', unit) or f'unit {unit}'}",
            "an electronic chart counts metres",
            "Name a cell in metres.",
        )


def present(objects: Mapping[str, tuple[Charted, ...]]) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Every corner of every shape, longitude and latitude, shape (corner, 2). [deg]"""
    shapes = [one.shape for found in objects.values() for one in found if one.shape is not None]
    return np.asarray(shapely.get_coordinates(shapes), np.float64)
