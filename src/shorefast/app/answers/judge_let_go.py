"""``shorefast judge --let-go``: the patch of water from which the lie still is sound."""

from __future__ import annotations

from typing import Any

import shapely

from shorefast.app.answers.told import Told
from shorefast.app.progress import Progress
from shorefast.stay import Judged, Stay, WhereToLetGo, where_to_let_go
from shorefast.wording import let_go_words


def let_go_told(stay: Stay, judged: Judged, asked: bool, progress: Progress | None = None) -> Told:
    """Keys and text of where to let go."""
    where = where_to_let_go(stay, judged, progress=progress)
    assert stay.lie is not None  # it has been judged
    text = "\n".join(let_go_words(stay.lie, where))
    return Told({"let_go": let_go_keys(stay, where)}, text, where.basis)


def let_go_keys(stay: Stay, where: WhereToLetGo) -> dict[str, Any]:
    """The patch in SI units; its outline as rings of latitude and longitude."""
    ellipse, frame = where.ellipse, stay.bay.frame
    rings = []
    for part in shapely.get_parts(where.patch):
        for ring in (part.exterior, *part.interiors):
            lat, lon = frame.to_earth(*shapely.get_coordinates(ring).T)
            rings.append({"lat_deg": lat, "lon_deg": lon})
    return {
        "until_utc": where.until_utc,
        "area_m2": where.area_m2,
        "area_is_least": where.cut,
        "error_m": where.error_m,
        "hit_share": where.hit_share,
        "along_m": None if ellipse is None else ellipse.along_m,
        "across_m": None if ellipse is None else ellipse.across_m,
        "along_rad": None if ellipse is None else ellipse.along_rad,
        "aim": {"east_m": where.aim_m[0], "north_m": where.aim_m[1], "hit_share": where.aim_share},
        "sides": [
            {"way": one.way, "reach_m": one.reach_m, "ends": one.ends} for one in where.sides
        ],
        "outline": rings,
        "tried": where.tried,
    }
