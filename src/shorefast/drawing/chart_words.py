"""What a chart-like plan says in words: datum, doubt, and where each zone comes from."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np
import shapely

from shorefast.drawing.view import View
from shorefast.wording import UNKNOWN, metres

if TYPE_CHECKING:
    from shorefast.bay import Bay, Zone

_LEAST_SHOWN_M = 0.05


def datum_words(bay: Bay) -> str:
    """What depths and heights count from, the bottom, and how many depths there are."""
    datum = bay.chart_datum or UNKNOWN
    said = f"Depths in metres below, drying heights (underlined) above chart datum: {datum}"
    count = bay.soundings.level_m.size
    bottom = f" · bottom {bay.bottom}" if bay.bottom else ""
    return f"{said}{bottom} · {count} depths"


def unknown_share(bay: Bay, view: View) -> float:
    """Share of the water in the frame where the bed is unknown; NaN where all is land."""
    frame = view.frame
    x = np.linspace(frame.left, frame.right, 121)[1:-1]
    y = np.linspace(frame.top, frame.bottom, 121)[1:-1]
    east, north = view.from_page(np.stack(np.meshgrid(x, y), axis=-1))
    wet = np.ones(east.shape, bool)
    if bay.land is not None:
        shapely.prepare(bay.land)
        wet = ~shapely.contains_xy(bay.land, east, north)
    if not wet.any():
        return math.nan
    return float(np.mean(~np.isfinite(bay.surface.level_at(east[wet], north[wet]))))


def doubt_words(bay: Bay, share: float) -> str:
    """How well the drawn bed is known, in sentences.

    Parameters
    ----------
    share : float
        Of the water in the frame, how much is unknown.
    """
    deviation = bay.surface.grid.deviation_m[np.isfinite(bay.surface.grid.level_m)]
    deviation = deviation[np.isfinite(deviation)]
    if not deviation.size:
        return "The bed is unknown all over this plan: nothing was sounded closely enough."
    half, most = _said(float(np.median(deviation))), _said(float(deviation.max()))
    tenth = _said(float(np.quantile(deviation, 0.9)))
    known = (
        f"Doubt of the drawn bed, one standard deviation: {half} or less in half of it, "
        f"{tenth} in nine tenths, {most} at most. A rock between two soundings is in no figure. "
        "Points stand as high above chart datum as is written beside them."
    )
    if not share > 0.0:
        return known
    part = "less than 1 %" if share < 0.01 else f"{100 * share:.0f} %"
    return f"{known} Of the water in this frame {part} is unknown."


def _said(deviation_m: float) -> str:
    return metres(max(deviation_m, _LEAST_SHOWN_M))


def zone_words(zone: Zone) -> str:
    """Kind, name, who says so and when it is in force."""
    same = zone.name.lower() in {"", zone.kind.lower()}
    words = zone.kind if same else f"{zone.kind}, {zone.name}"
    said = f"{words[:1].upper()}{words[1:]}: says {zone.source}"
    since = "" if zone.from_utc is None else f", from {_day(zone.from_utc)}"
    # what ends at midnight is told with its last day
    last = None if zone.until_utc is None else zone.until_utc - timedelta(seconds=1)
    until = "" if last is None else f", until {_day(last)}"
    return f"{said}{since}{until}."


def _day(moment: datetime) -> str:
    return f"{moment.astimezone(UTC):%Y-%m-%d %H:%M} UTC"
