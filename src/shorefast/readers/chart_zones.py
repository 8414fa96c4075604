"""The zones of a chart: rules, cables, farms, anchorages, dangers, what is built, bottoms."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry.base import BaseGeometry

from shorefast.bay import Frame
from shorefast.readers.chart_built import (
    BUILT,
    built_words,
    near_land,
    off_land,
    round_built_m,
    top_unknown,
)
from shorefast.readers.chart_cell import Cell, Charted
from shorefast.readers.chart_codes import (
    Says,
    code_of,
    codes_of,
    meaning,
    meanings,
    words_of,
)
from shorefast.readers.chart_dates import day_told, force_of, season_of
from shorefast.readers.chart_depths import DANGERS, in_plane, on_earth, spaced_m, top_m
from shorefast.readers.depths import Tally
from shorefast.readers.shore_geojson import Feature

BESIDE_CABLE_M = 50.0
ROUND_DANGER_M = 5.0
NAME_MOST = 80
_LAID = {"CBLARE": "cable", "CBLSUB": "cable", "PIPARE": "pipeline", "PIPSOL": "pipeline"}
_AREAS = {
    "MARCUL": "marine farm",
    "ACHARE": "anchorage",
    "ACHBRT": "anchorage",
    "FAIRWY": "fairway",
    "DMPGRD": "foul",
}
_CALLED = {
    "CBLARE": "cable area",
    "CBLSUB": "submarine cable",
    "PIPARE": "pipeline area",
    "PIPSOL": "pipeline",
    "MARCUL": "marine farm",
    "ACHARE": "anchorage",
    "ACHBRT": "anchor berth",
    "FAIRWY": "fairway",
    "DMPGRD": "dumping ground",
    "UWTROC": "rock",
    "WRECKS": "wreck",
    "OBSTRN": "obstruction",
    "WEDKLP": "weed",
}
_DANGER = {"UWTROC": "charted rock", "WRECKS": "wreck", "OBSTRN": "obstruction"}
_NO_ANCHORING, _NO_ENTRY = (1, 2), (7, 8, 14)
_RESERVES = (4, 5, 6, 7, 20, 22, 23, 27, 28)
_NO_ENTRY_AREAS = (9, 14)
_BATHING = 18
_FOUL = (6, 7)
_SOFT, _MUD, _CLAY = 6, 1, 2
_ZONED = (*_LAID, *_AREAS, *_DANGER, "RESARE", "SBDARE", "WEDKLP")
USED = (*_ZONED, *BUILT)


def zones_of_chart(cell: Cell, plane: Frame, tally: Tally) -> Iterator[tuple[str, Feature]]:
    """Class and shape of every zone, in longitude and latitude, with what is said of it.

    What the chart has as a line or a point is given a width of our own choice: 50 m on
    either hand of a cable or pipe, 5 m round a danger, a pile or a dolphin, 3 m on either
    hand of a pier or wall drawn as a line, two millimetres of the paper round a note of
    the bottom.

    Source
    ------
    iho-s57, Appendix A (object and attribute catalogue)
    """
    for acronym, one in cell.of(*_ZONED):
        kind = _kind(acronym, one)
        if one.shape is None or one.shape.is_empty:
            tally.add(f"{acronym}: no place given", cell.name)
        elif kind is None:
            tally.add(f"{acronym}: a bottom no kind here stands for", cell.name)
        else:
            drawn = _as_area(one.shape, _round_m(acronym, cell), plane)
            yield acronym, Feature(drawn, _says(cell, acronym, kind, one))
    yield from _built(cell, plane, tally)
    yield from _ruled(cell, plane)


def _built(cell: Cell, plane: Frame, tally: Tally) -> Iterator[tuple[str, Feature]]:
    """What is built in the water, as obstructions; what edges charted land is its shore."""
    near = near_land(cell, plane)
    for acronym, one in cell.of(*BUILT):
        if one.shape is None or one.shape.is_empty:
            tally.add(f"{acronym}: no place given", cell.name)
            continue
        clear = off_land(one.shape, near, plane)
        if clear is None:
            tally.add(f"{acronym}: on charted land or its edge, which stands for it", cell.name)
            continue
        area = clear if clear.area else clear.buffer(round_built_m(clear), quad_segs=4)
        yield acronym, Feature(on_earth(area, plane), _says(cell, acronym, "obstruction", one))


def _ruled(cell: Cell, plane: Frame) -> Iterator[tuple[str, Feature]]:
    """Areas of any other class that carry a rule on anchoring or entry."""
    for acronym in cell.objects:
        if acronym in USED or acronym.startswith(("M_", "C_")):
            continue
        for _, one in cell.of(acronym):
            kind = _by_rule(codes_of(one.says, "RESTRN"))
            if kind is not None and one.shape is not None and "Polygon" in one.shape.geom_type:
                yield acronym, Feature(one.shape, _says(cell, acronym, kind, one))


def _kind(acronym: str, one: Charted) -> str | None:
    if acronym in _LAID:
        return _LAID[acronym]
    if acronym in ("SBDARE", "WEDKLP"):
        return _bottom(acronym, one.says)
    rule = _by_rule(codes_of(one.says, "RESTRN"))
    if acronym == "OBSTRN" and code_of(one.says, "CATOBS") in _FOUL:
        return "foul"
    if acronym == "RESARE":
        return rule or _by_area(codes_of(one.says, "CATREA"))
    return _DANGER.get(acronym) or rule or _AREAS[acronym]


def _by_rule(restrictions: tuple[int, ...]) -> str | None:
    if any(one in _NO_ANCHORING for one in restrictions):
        return "no anchoring"
    return "no entry" if any(one in _NO_ENTRY for one in restrictions) else None


def _by_area(categories: tuple[int, ...]) -> str:
    if any(one in _NO_ENTRY_AREAS for one in categories):
        return "no entry"
    if any(one in _RESERVES for one in categories):
        return "reserve"
    return "bathing" if _BATHING in categories else "restricted area"


def _bottom(acronym: str, says: Says) -> str | None:
    """The bay's own kind of bottom: what is named first, or mud over clay."""
    if acronym == "WEDKLP":
        return meaning("weed", code_of(says, "CATWED")) or "weed"
    natures = codes_of(says, "NATSUR")
    if natures[:2] == (_MUD, _CLAY) and _layered(says):
        return "mud over clay"
    if natures[:1] == (_MUD,) and code_of(says, "NATQUA") == _SOFT:
        return "soft mud"
    known = (meaning("bottom", one) for one in natures)
    return next((one for one in known if one is not None), None)


def _layered(says: Says) -> bool:
    told = says.get("NATSUR")
    return "/" in (told if isinstance(told, str) else ",".join(str(one) for one in told or ()))


def _round_m(acronym: str, cell: Cell) -> float:
    if acronym in _LAID:
        return BESIDE_CABLE_M
    return ROUND_DANGER_M if acronym in DANGERS else spaced_m(cell)


def _as_area(shape: BaseGeometry, round_m: float, plane: Frame) -> BaseGeometry:
    if "Polygon" in shape.geom_type:
        return shape
    return on_earth(in_plane(shape, plane).buffer(round_m, quad_segs=4), plane)


def _says(cell: Cell, acronym: str, kind: str, one: Charted) -> Says:
    begin, end = force_of(one.says)
    return {
        "kind": kind,
        "name": _name(acronym, one),
        "source": _source(cell, one.says),
        "from_utc": begin,
        "until_utc": end,
        "unsounded": top_unknown(acronym, one.says) or (acronym in DANGERS and top_m(one) is None),
    }


def _name(acronym: str, one: Charted) -> str:
    """Its own name or remark, then what it is and what is forbidden, then its season."""
    says = one.says
    called = words_of(says, "OBJNAM") or words_of(says, "INFORM")
    if called is not None and len(called) > NAME_MOST:
        called = f"{called[: NAME_MOST - 3].rstrip()}..."
    what = _danger_words(acronym, one) if acronym in DANGERS else _area_words(acronym, says)
    parts = (called, what, ", ".join(meanings("restriction", codes_of(says, "RESTRN"))))
    return ", ".join(part for part in (*parts, season_of(says)) if part)


def _area_words(acronym: str, says: Says) -> str:
    if acronym in BUILT:
        return built_words(acronym, says)
    if acronym == "RESARE":
        areas = ", ".join(meanings("area", codes_of(says, "CATREA")))
        return areas or "restricted area"
    if acronym == "SBDARE":
        return ", ".join(meanings("ground", codes_of(says, "NATSUR")))
    return _CALLED.get(acronym, f"charted area ({acronym})")


# partly above high water, always dry, covering and uncovering
_MAY_DRY = (1, 2, 4)


def _danger_words(acronym: str, one: Charted) -> str:
    says, top = one.says, top_m(one)
    water = meaning("water", code_of(says, "WATLEV"))
    if top is None:
        dry = code_of(says, "WATLEV") in _MAY_DRY
        depth = "height unknown" if dry else "depth unknown"
    elif "VALSOU" in says and says["VALSOU"] == says["VALSOU"]:
        depth = f"dries {top:.1f} m" if top > 0.0 else f"{0.0 - top:.1f} m at chart datum"
    else:
        depth = "height unknown"
    return ", ".join(part for part in (_CALLED[acronym], water, depth) if part)


def _source(cell: Cell, says: Says) -> str:
    """The cell, where it has this from, and of what day that is (else the cell's own)."""
    return ", ".join((cell.name, *dated(cell, says)))


def dated(cell: Cell, says: Says) -> tuple[str, ...]:
    """Where a cell has an object from, and of what day that is (else the cell's own)."""
    day = day_told(words_of(says, "SORDAT"))
    issued = day_told(words_of(cell.about, "DSID_ISDT"))
    of_day = day or (f"chart issued {issued}" if issued else None)
    return tuple(part for part in (words_of(says, "SORIND"), of_day) if part)
