"""Zones of the demonstration bays: rules and hazards, in the bay's plane."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from demo.bed import land, shoreline

Table = Mapping[str, Any]
Zones = list[tuple[dict[str, str], BaseGeometry]]

_SOURCE = "local notice (invented)"


def _zone(kind: str, name: str, shape: BaseGeometry) -> tuple[dict[str, str], BaseGeometry]:
    return {"kind": kind, "name": name, "source": _SOURCE}, shape


def grey_notch(table: Table) -> Zones:
    """A cable at the mouth of the inlet."""
    return [_zone("cable", "power cable", box(120, -60, 420, 300).difference(land(table)))]


def stone_spur(table: Table) -> Zones:
    """Grass with a tongue of sand in it, bathers, and trees nobody may use."""
    line = shoreline(table)
    tongue = Polygon([(-24.0, 11.3), (-11.3, 24.0), (-53.7, 66.5), (-66.5, 53.7)])
    grass = line.buffer(67).difference(line.buffer(8)).difference(land(table)).difference(tongue)
    trees = line.buffer(40).difference(line.buffer(4)).intersection(land(table))
    return [
        _zone("neighbour", "Teal Wake", _neighbour()),
        _zone("seagrass", "grass meadow", grass.simplify(0.1)),
        _zone("bathing", "bathing zone", Polygon([(20, 40), (33, 50), (30, 72), (14, 66)])),
        _zone("no lines", "protected trees", trees.simplify(0.1)),
    ]


def _neighbour() -> Polygon:
    """Teal Wake, 10.0 by 3.3 m, bow 315: her stern a taut 18.4 m off the ring at (-12.0, -13.4)."""
    ahead, beam = math.sqrt(0.5), 3.3 / 2
    outline = [(18.4, -beam), (25.4, -beam), (28.4, 0.0), (25.4, beam), (18.4, beam)]
    return Polygon([(-12.0 - ahead * (x - y), -13.4 + ahead * (x + y)) for x, y in outline])


def tres_sombras(table: Table) -> Zones:
    """Kelp along the south side."""
    return [_zone("foul", "kelp", box(20, -29, 80, -18))]


ZONES = {"grey_notch": grey_notch, "stone_spur": stone_spur, "tres_sombras": tres_sombras}
