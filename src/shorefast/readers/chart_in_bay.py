"""Charts of a bay folder: the ``[[chart]]`` tables, placed in the bay's plane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Finding
from shorefast.bay import Bounds, Frame, Landmark, Soundings, Zone
from shorefast.readers.bay_parts import zones_of
from shorefast.readers.chart_depths import in_plane
from shorefast.readers.chart_file import ChartRead, read_chart
from shorefast.readers.depth_file import check_there
from shorefast.readers.depths import Told
from shorefast.readers.shore_geojson import Feature, Shapes
from shorefast.readers.toml_file import TomlTable

ROUND_M = 600.0
MARKS_M = 2_000.0


@dataclass(frozen=True)
class Charts:
    """The charts of a bay."""

    read: tuple[ChartRead, ...]
    frame: Frame

    def beds(self) -> list[Soundings]:
        """Soundings and contours of each, in the bay's plane; those that have none left out."""
        return [one.bed.in_frame(self.frame) for one in self.read if one.bed.level_m.size]

    def dangers(self) -> list[Soundings]:
        """Dangers of each, which no finer file pushes aside."""
        return [one.dangers.in_frame(self.frame) for one in self.read if one.dangers.level_m.size]

    def unsounded(self) -> BaseGeometry | None:
        """Round dangers of unknown depth or height, in the bay's plane; None: there are none."""
        round_them = [
            each.shape
            for one in self.read
            for each in _placed(one.zones, self.frame).features
            if each.says.get("unsounded")
        ]
        return shapely.union_all(round_them) if round_them else None

    def land(self) -> list[Shapes]:
        """Land of each, in the bay's plane."""
        return [_placed(one.land, self.frame) for one in self.read if one.land.features]

    def zones(self, bounds: Bounds) -> tuple[Zone, ...]:
        """Zones that come within 600 m of the bay's box."""
        found = []
        for one in self.read:
            placed = _placed(one.zones, self.frame)
            here = _near(placed, bounds)
            found += zones_of(Shapes(placed.name, placed.crs, here, ()), {})
        return tuple(found)

    def landmarks(self, bounds: Bounds) -> tuple[Landmark, ...]:
        """Marks within 2 km of the bay's box, their heights unknown; one of a name and place."""
        found = {}
        for one in self.read:
            for each in _near(_placed(one.marks, self.frame), bounds, MARKS_M):
                east_m, north_m = float(each.shape.x), float(each.shape.y)
                key = (each.says["name"], round(east_m), round(north_m))
                found[key] = Landmark(each.says["name"], east_m, north_m, None, each.says["lit"])
        return tuple(found.values())

    def findings(self, chart_datum: str, bounds: Bounds | None = None) -> tuple[Finding, ...]:
        """What each left out and noticed, and a datum that differs from the bay's in words.

        Of cautions only those that come within 600 m of the bay's box, where one is given.
        """
        said = []
        for one in self.read:
            said += [
                Finding(one.name, f"{count} left out: {why}") for why, count in one.depths.left_out
            ]
            cautions = _placed(one.cautions, self.frame)
            elsewhere = {each.says["said"] for each in cautions.features}
            elsewhere -= {each.says["said"] for each in _near(cautions, bounds)}
            said += [Finding(one.name, note) for note in one.depths.notes if note not in elsewhere]
            datum = one.depths.datum
            if datum is not None and datum.casefold() != chart_datum.casefold():
                said.append(
                    Finding(
                        one.name,
                        f"its depths count from {datum}, the bay's from {chart_datum}: "
                        "datum_offset_m says how far the one lies above the other",
                    )
                )
        return tuple(said)


def read_charts(table: TomlTable, folder: Path, frame: Frame) -> Charts:
    """The ``[[chart]]`` tables of bay.toml.

    Raises
    ------
    BadInput, Unreadable
        As ``read_chart`` does, or where a file is missing.
    """
    return Charts(tuple(_read(one, folder) for one in table.tables("chart")), frame)


def _read(table: TomlTable, folder: Path) -> ChartRead:
    path = folder / table.need_text("file")
    told = Told(
        datum_offset_m=table.quantity("datum_offset", "length", least=-30.0, most=30.0) or 0.0,
        deviation_m=table.quantity("deviation", "length", least=0.0, most=100.0),
    )
    check_there(path, f"the chart of {table.where('file')}")
    return read_chart(path, told)


def _placed(shapes: Shapes, frame: Frame) -> Shapes:
    features = tuple(Feature(in_plane(one.shape, frame), one.says) for one in shapes.features)
    return Shapes(shapes.name, shapes.crs, _whole(features), shapes.left_out)


def _near(placed: Shapes, bounds: Bounds | None, round_m: float = ROUND_M) -> tuple[Feature, ...]:
    if bounds is None:
        return placed.features
    near = box(*bounds).buffer(round_m, join_style="mitre")
    return tuple(each for each in placed.features if near.intersects(each.shape))


def _whole(features: Sequence[Feature]) -> tuple[Feature, ...]:
    return tuple(
        one if one.shape.is_valid else Feature(shapely.make_valid(one.shape), one.says)
        for one in features
    )
