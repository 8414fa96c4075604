"""A chart cell read whole: depths, land, dangers, rules and bottoms, and what was left out."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from shorefast.bay import Frame
from shorefast.errors import Unreadable
from shorefast.readers.chart_cautions import cautions_of
from shorefast.readers.chart_cell import Cell, present, read_cell
from shorefast.readers.chart_codes import code_of, meaning, number_of, words_of
from shorefast.readers.chart_dates import day_told
from shorefast.readers.chart_depths import (
    DANGERS,
    ChartDepths,
    contours_of,
    dangers_of,
    in_plane,
    on_earth,
    soundings_of,
)
from shorefast.readers.chart_marks import marks_of_chart
from shorefast.readers.chart_quality import confidence_at, told_quality
from shorefast.readers.chart_zones import USED, zones_of_chart
from shorefast.readers.depths import DepthsRead, Tally, Told
from shorefast.readers.shore_geojson import Feature, Shapes

KIND = "S-57 chart"
ISLET_M = 3.0
_SILENT = "nothing said of depth, shore, danger, rule, bottom or mark"
_WHY = {
    "COALNE": "without land areas nobody knows on which side its land is",
    "DRGARE": "the depth an area is dredged to is no sounding",
}
# what each of these was left out for is told one by one
_COUNTED = ("SOUNDG", "LNDARE", "CTNARE", *USED)
_WGS84 = 2


@dataclass(frozen=True)
class ChartRead:
    """What one cell gave.

    Attributes
    ----------
    depths : DepthsRead
        Soundings, then places along contours, then dangers whose top is known.
    soundings, contours : int
        How many of ``depths`` are soundings, and how many lie along contours.
    land, zones, cautions, marks : Shapes
        In longitude and latitude; a caution has the sentence it ``said``, which is among
        the notes of ``depths`` too; a mark its ``name`` and whether it is ``lit``. [deg]
    taken : mapping
        How many objects of each class were used.
    shapes : mapping
        How many of those that are no soundings are areas, lines, points.
    about : mapping
        Edition, updates applied, day of issue, scale, datums, in words.
    """

    name: str
    depths: DepthsRead
    soundings: int
    contours: int
    land: Shapes
    zones: Shapes
    cautions: Shapes
    taken: dict[str, int]
    shapes: dict[str, int]
    about: dict[str, Any]
    marks: Shapes

    def part(self, begin: int, end: int | None) -> DepthsRead:
        """Some of the depths, in their order."""
        read = self.depths
        piece = slice(begin, end)
        return DepthsRead(
            read.name, read.kind, read.lat_deg[piece], read.lon_deg[piece],
            read.level_m[piece], read.deviation_m[piece], (), read.crs, read.datum,
        )  # fmt: skip

    @property
    def bed(self) -> DepthsRead:
        """Soundings and contours."""
        return self.part(0, self.soundings + self.contours)

    @property
    def dangers(self) -> DepthsRead:
        """Dangers whose top is known, or known to reach datum."""
        return self.part(self.soundings + self.contours, None)


def read_chart(path: Path, told: Told) -> ChartRead:
    """Read a chart cell with its updates.

    Levels are up from the cell's own sounding datum, raised by ``told.datum_offset_m``.

    Raises
    ------
    Unreadable
        If it is damaged, cut short, encrypted, no chart cell, counts no metres or has
        neither depth nor land nor zone.
    """
    _refuse_update(path)
    cell, tally = read_cell(path), Tally()
    plane = _plane(cell)
    parts = (soundings_of(cell, tally), contours_of(cell, plane), dangers_of(cell, plane))
    zones = list(zones_of_chart(cell, plane, tally))
    land, cautions = _land(cell, plane, tally), cautions_of(cell, path.parent, tally)
    depths = _depths(cell, parts, told)
    made = {"SOUNDG": parts[0].level_m.size, "LNDARE": len(land), "CTNARE": len(cautions)}
    taken = _taken(cell, [acronym for acronym, _ in zones], made)
    if not taken:
        raise Unreadable(
            path.name, "neither depth, land nor zone in it", "a chart of the bay wanted",
            "Name another cell.",
        )  # fmt: skip
    marks = marks_of_chart(cell, plane, tally)
    taken = dict(sorted({**taken, **Counter(acronym for acronym, _ in marks)}.items()))
    _leave_out(cell, taken, tally)
    return ChartRead(
        cell.name, _with_left_out(depths, tally, (*_notes(cell, parts[0]), *_said(cautions))),
        parts[0].level_m.size, parts[1].level_m.size,
        Shapes(cell.name, "EPSG:4326", tuple(land), ()),
        Shapes(cell.name, "EPSG:4326", tuple(feature for _, feature in zones), ()),
        Shapes(cell.name, "EPSG:4326", tuple(cautions), ()),
        taken, _shape_counts(cell, taken), _about(cell),
        Shapes(cell.name, "EPSG:4326", tuple(one for _, one in marks if "name" in one.says), ()),
    )  # fmt: skip


def _refuse_update(path: Path) -> None:
    if path.suffix not in (".000", ".031"):
        raise Unreadable(
            path.name,
            "an update of a chart",
            "it changes a cell and is none",
            f"Name the cell, {path.stem}.000, with its updates beside it.",
        )


def _plane(cell: Cell) -> Frame:
    """A plane touching the middle of the cell."""
    at = present(cell.objects)
    if not len(at):
        raise Unreadable(
            cell.name, "none of its objects has a place", "an S-57 chart cell wanted",
            "Name another cell.",
        )  # fmt: skip
    off = (np.abs(at) > (360.0, 90.0)).any(axis=1) | ~np.isfinite(at).all(axis=1)
    wrong = at[off]
    if len(wrong):
        raise Unreadable(
            cell.name,
            f"a place at latitude {wrong[0, 1]:g}, longitude {wrong[0, 0]:g}",
            "no such place on earth: it is damaged",
            "Fetch it again.",
        )
    lon, lat = 0.5 * (at.min(axis=0) + at.max(axis=0))
    return Frame(float(lat), float(lon))


def _land(cell: Cell, plane: Frame, tally: Tally) -> list[Feature]:
    """Land as areas; an islet charted as a point or a line counts 3 m each way (our choice)."""
    features = []
    for _, one in cell.of("LNDARE"):
        if one.shape is None or one.shape.is_empty:
            tally.add("LNDARE: no place given", cell.name)
            continue
        shape = one.shape
        if "Polygon" not in shape.geom_type:
            shape = on_earth(in_plane(shape, plane).buffer(ISLET_M, quad_segs=4), plane)
        features.append(Feature(shape, {"kind": "land"}))
    return features


def _depths(cell: Cell, parts: tuple[ChartDepths, ...], told: Told) -> DepthsRead:
    lat, lon, level, deviation = (np.concatenate(column) for column in zip(*parts, strict=True))
    if told.deviation_m is not None:
        deviation = np.full(lat.size, told.deviation_m)
    return DepthsRead(
        cell.name, KIND, lat, lon, level + told.datum_offset_m, deviation, (),
        "EPSG:4326", told.datum or cell.sounding_datum,
    )  # fmt: skip


def _with_left_out(depths: DepthsRead, tally: Tally, notes: tuple[str, ...]) -> DepthsRead:
    return DepthsRead(
        depths.name, depths.kind, depths.lat_deg, depths.lon_deg, depths.level_m,
        depths.deviation_m, tally.rows(), depths.crs, depths.datum, None, notes,
    )  # fmt: skip


def _said(cautions: list[Feature]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(one.says["said"]) for one in cautions))


def _taken(cell: Cell, zoned: list[str], made: dict[str, int]) -> dict[str, int]:
    """How many objects of each class something was made of."""
    counts = {**Counter(zoned), **made}
    for acronym in ("DEPCNT", "DEPARE", "M_QUAL"):
        counts[acronym] = len(cell.objects.get(acronym, ()))
    if made["LNDARE"]:
        counts["COALNE"] = len(cell.objects.get("COALNE", ()))
    return {acronym: count for acronym, count in sorted(counts.items()) if count}


def _leave_out(cell: Cell, taken: dict[str, int], tally: Tally) -> None:
    """Count what nothing was made of: classes with a reason of their own, then all others."""
    silent = {}
    for acronym, found in cell.objects.items():
        left = 0 if acronym in _COUNTED else len(found) - taken.get(acronym, 0)
        if acronym in _WHY:
            tally.add(f"{acronym}: {_WHY[acronym]}", cell.name, left)
        elif left:
            silent[acronym] = left
    if silent:
        classes = ", ".join(f"{acronym} {count}" for acronym, count in sorted(silent.items()))
        tally.add(f"{_SILENT} ({classes})", cell.name, sum(silent.values()))


def _shape_counts(cell: Cell, taken: dict[str, int]) -> dict[str, int]:
    counts = {"areas": 0, "lines": 0, "points": 0}
    for acronym, one in cell.of(*taken):
        if acronym == "SOUNDG" or one.shape is None:
            continue
        kind = one.shape.geom_type
        counts["areas" if "Polygon" in kind else "lines" if "Line" in kind else "points"] += 1
    return counts


def _about(cell: Cell) -> dict[str, Any]:
    about = cell.about
    return {
        "edition": words_of(about, "DSID_EDTN"),
        "updates_applied": int(number_of(about, "DSID_UPDN") or 0),
        "issued": day_told(words_of(about, "DSID_ISDT")),
        "scale": number_of(about, "DSPM_CSCL"),
        "sounding_datum": cell.sounding_datum,
        "height_datum": meaning("datum", code_of(about, "DSPM_VDAT")),
    }


def _notes(cell: Cell, soundings: ChartDepths) -> tuple[str, ...]:
    notes = list(cell.notes)
    if soundings.level_m.size:
        notes += told_quality(confidence_at(cell, soundings.lat_deg, soundings.lon_deg))
    if cell.sounding_datum is None:
        notes.append("it does not say from which level its depths count")
    horizontal = code_of(cell.about, "DSPM_HDAT")
    if horizontal not in (None, _WGS84):
        notes.append(f"its places are not on WGS 84 (datum {horizontal}) and are taken as if so")
    other = sorted(
        {str(meaning("datum", code_of(one.says, "VERDAT"))) for _, one in cell.of("M_SDAT")}
    )
    if other:
        notes.append(f"parts of it count depths from another level: {', '.join(other)}")
    unknown = sum(1 for _ in cell.of(*DANGERS)) - _dangers_known(cell)
    if unknown:
        notes.append(f"{unknown} charted dangers of unknown depth or height")
    return tuple(notes)


def _dangers_known(cell: Cell) -> int:
    return sum(number_of(one.says, "VALSOU") is not None for _, one in cell.of(*DANGERS))
