"""Caution areas of a chart: what they warn of, in their own words."""

from __future__ import annotations

from pathlib import Path

from shorefast.readers.chart_cell import Cell
from shorefast.readers.chart_codes import Says, words_of
from shorefast.readers.chart_dates import day_told, season_of
from shorefast.readers.chart_zones import dated
from shorefast.readers.depths import Tally
from shorefast.readers.shore_geojson import Feature
from shorefast.wording import position

TEXT_MOST = 400
_FILE_MOST_BYTES = 100_000


def cautions_of(cell: Cell, folder: Path, tally: Tally) -> list[Feature]:
    """Where a caution holds, in longitude and latitude, with the sentence it ``said``.

    What it warns of is told as it stands: the standard gives it words and no rule, and a
    rule is not made here from words. Texts filed beside the cell are told up to 400 signs.

    Source
    ------
    iho-s57, Appendix A (CTNARE; INFORM, TXTDSC and the same in the national language)
    """
    features = []
    for _, one in cell.of("CTNARE"):
        warns = "; ".join(_warns(one.says, folder))
        if one.shape is None or one.shape.is_empty:
            tally.add("CTNARE: no place given", cell.name)
        elif not warns:
            tally.add("CTNARE: it does not say of what it warns", cell.name)
        else:
            at = one.shape.representative_point()
            said = f"caution area at {position(at.y, at.x)}: {warns}"
            source = ", ".join(dated(cell, one.says))
            features.append(Feature(one.shape, {"said": f"{said} ({source})" if source else said}))
    return features


def _warns(says: Says, folder: Path) -> list[str]:
    """Its own words and the text it refers to, then when it holds."""
    inform = words_of(says, "INFORM") or words_of(says, "NINFOM")
    file = words_of(says, "TXTDSC") or words_of(says, "NTXTDS")
    words = [one for one in (inform, None if file is None else _filed(folder, file)) if one]
    begin, end = day_told(words_of(says, "DATSTA")), day_told(words_of(says, "DATEND"))
    told = (begin and f"from {begin}", end and f"until {end}", season_of(says))
    return [*words, *(one for one in told if one)] if words else []


def _filed(folder: Path, file: str) -> str:
    """The words of a text beside the cell, or that it is missing."""
    path = folder / file
    if Path(file).name != file or not path.is_file() or path.stat().st_size > _FILE_MOST_BYTES:
        return f"more in {file}, which is not beside the cell"
    text = " ".join(path.read_bytes().decode("utf-8", errors="replace").split())
    return text if len(text) <= TEXT_MOST else f"{text[: TEXT_MOST - 3].rsplit(' ', 1)[0]}..."
