"""Boats lying near, from a file: GeoJSON points, or a log of what their AIS said."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from shorefast.basis import Finding
from shorefast.bay import Frame
from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import to_si, units_of, wrap_rad
from shorefast.readers.neighbours_ais import ships_near
from shorefast.readers.shore_geojson import read_shapes
from shorefast.stay import Neighbour, scope_by_rule_m

NEAR_M = 1_000.0
"""Ships of a log farther than this from the bay's origin are no neighbours."""
_WANTED = "GeoJSON points, or a log with AIS sentences (!AIVDM), wanted"


def read_neighbour_file(
    path: Path, frame: Frame, within_m: float = NEAR_M
) -> tuple[tuple[Neighbour, ...], tuple[Finding, ...]]:
    """Every boat of a file, and what had to be taken of her or left out.

    Parameters
    ----------
    within_m : float
        How far from the bay's origin a ship of a log still counts. [m]

    Raises
    ------
    BadInput
        If a feature lacks a size or heading, or has one that cannot be.
    Unreadable
        If the file is empty or neither of the two.
    """
    with path.open("rb") as opened:
        head = opened.read(512).lstrip(b"\xef\xbb\xbf \t\r\n")
    if not head:
        raise Unreadable(path.name, "it is empty", _WANTED, "Name another file.")
    if head.startswith(b"{"):
        return _from_geojson(path, frame)
    boats, findings = ships_near(path, frame, within_m)
    if not boats and not findings:
        raise Unreadable(path.name, "no AIS sentence in it", _WANTED, "Name another file.")
    return boats, findings


def _from_geojson(path: Path, frame: Frame) -> tuple[tuple[Neighbour, ...], tuple[Finding, ...]]:
    shapes = read_shapes(path, frame)
    points = [
        (number, one)
        for number, one in enumerate(shapes.features, start=1)
        if one.shape.geom_type == "Point"
    ]
    boats = tuple(
        _boat(f"{path.name}, feature {number}", one.says, (one.shape.x, one.shape.y))
        for number, one in points
    )
    odd = len(shapes.features) - len(points)
    out = [(f"{odd} left out: not a point", odd), *((f"{n} left out: {w}", n) for w, n in
           shapes.left_out)]  # fmt: skip
    return boats, tuple(Finding(path.name, said) for said, count in out if count)


def _boat(where: str, says: Mapping[str, Any], at: tuple[float, float]) -> Neighbour:
    name = says.get("name")
    if not isinstance(name, str) or not name.strip():
        raise BadInput(where, "no name", "name, length_m, beam_m, heading_deg wanted", "Add it.")
    length_m = _need(where, says, "length", "length", (1.0, 400.0))
    beam_m = _need(where, says, "beam", "length", (0.3, 80.0))
    if beam_m >= length_m:
        raise BadInput(
            where,
            f"{beam_m:g} m beam",
            f"she is {length_m:g} m long",
            "Exchange the two if they are swapped.",
        )
    turn = 2.0 * math.pi
    heading_rad = wrap_rad(_need(where, says, "heading", "angle", (-turn, turn)))
    swing_m = _maybe(where, says, "swing", "length", (0.0, 500.0)) or 0.0
    scope_m = _maybe(where, says, "chain_out", "length", (0.5, 500.0))
    toward_rad = _maybe(where, says, "chain_toward", "angle", (-turn, turn))
    if toward_rad is not None and scope_m is None:
        scope_m = scope_by_rule_m(length_m)
    return Neighbour(
        name.strip(), *at, length_m, beam_m, heading_rad, swing_m, scope_m,
        None if toward_rad is None else wrap_rad(toward_rad),
    )  # fmt: skip


def _need(
    where: str, says: Mapping[str, Any], key: str, kind: str, span: tuple[float, float]
) -> float:
    value = _maybe(where, says, key, kind, span)
    if value is None:
        unit = "deg" if kind == "angle" else "m"
        raise BadInput(
            where,
            f"no {key}_{unit}",
            "name, length_m, beam_m, heading_deg wanted",
            f"Add {key}_{unit} to its properties.",
        )
    return value


def _maybe(
    where: str, says: Mapping[str, Any], key: str, kind: str, span: tuple[float, float]
) -> float | None:
    """A property in whichever unit it is given, in SI; None if absent."""
    for unit in units_of(kind):
        value = says.get(f"{key}_{unit.name}")
        if value is None:
            continue
        known = isinstance(value, int | float) and not isinstance(value, bool)
        si = to_si(float(value), kind, unit.name) if known else math.nan
        if not span[0] <= si <= span[1]:
            low, high = (bound / unit.si for bound in span)
            raise BadInput(
                where,
                f"{key}_{unit.name} = {value!r}",
                f"{low:g} to {high:g} wanted",
                "Correct it.",
            )
        return si
    return None
