"""Zones with a rule or a hazard on them: ruled over, and told in words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from shorefast.drawing import marks
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import first_rows
from shorefast.drawing.page import Page, Style, path_of
from shorefast.drawing.view import View
from shorefast.wording import CardWords, card_words

if TYPE_CHECKING:
    from shorefast.bay import Bay, Zone

_WORDS = Style("italic", "ink", 8.5)
_ROCK_SPAN_M = 12.0
_BAND_PT = 9.0
"""How far in from its edge a zone is ruled. [pt]"""


@dataclass(frozen=True)
class ZoneDrawn:
    """Where a zone's words belong on the page, and what they are."""

    at: tuple[float, float]
    words: str
    rock: bool


def draw_zones(
    page: Page, board: Board, view: View, bay: Bay, words: CardWords | None = None
) -> list[ZoneDrawn]:
    """Paint every zone that is in the frame; small rocks get the chart's own sign."""
    words = words or card_words("en")
    drawn = []
    for zone in bay.zones:
        seen = view.shape(zone.shape)
        if seen.is_empty:
            continue
        inner = seen.representative_point()
        at = (float(inner.x), float(inner.y))
        rock = _is_rock(zone)
        if rock:
            marks.rock(page, at)
        else:
            _ruled(page, board, seen)
        drawn.append(ZoneDrawn(at, _zone_words(zone, bay, rock, words), rock))
    return drawn


def name_zones(page: Page, board: Board, zones: list[ZoneDrawn]) -> None:
    """Write what each zone is, rocks first."""
    for zone in sorted(zones, key=lambda zone: not zone.rock):
        if zone.rock:
            x, y = zone.at
            board.take_along(np.array([(x - 5.0, y), (x + 5.0, y)]), 5.5)
    for zone in sorted(zones, key=lambda zone: not zone.rock):
        rows = first_rows(zone.words, _WORDS.face, _WORDS.size_pt, 96.0, 3)
        clear = 7.0 if zone.rock else 0.0
        board.set(
            page,
            Wish(tuple(rows), zone.at, _WORDS, clear_pt=clear, must=True, backed=not zone.rock),
        )


def _is_rock(zone: Zone) -> bool:
    left, low, right, high = zone.shape.bounds
    return "rock" in zone.kind.lower() and max(right - left, high - low) <= _ROCK_SPAN_M


def _ruled(page: Page, board: Board, seen: BaseGeometry) -> None:
    inner = seen.simplify(0.5).buffer(-_BAND_PT, quad_segs=2)
    page.path(_rings(seen if inner.is_empty else seen.difference(inner)), "hatched")
    page.path(_rings(seen), "zone-edge")
    for part in shapely.get_parts(shapely.boundary(seen)):
        board.ink(shapely.get_coordinates(part), 1.5)


def _rings(shape: BaseGeometry) -> str:
    return "".join(
        path_of(shapely.get_coordinates(ring)[:-1], closed=True)
        for part in shapely.get_parts(shape)
        if isinstance(part, shapely.Polygon)
        for ring in (part.exterior, *part.interiors)
    )


def _zone_words(zone: Zone, bay: Bay, rock: bool, said: CardWords) -> str:
    same = zone.name.lower() in {"", zone.kind.lower()}
    kind = said.zone(zone.kind)
    words = kind if same else f"{kind}: {zone.name}"
    if not rock:
        return words
    middle = zone.shape.representative_point()
    level = np.asarray(bay.surface.level_at(np.array([middle.x]), np.array([middle.y])))
    depth_m = -float(level.ravel()[0])
    if not math.isfinite(depth_m):
        return said.say("plan.depth_unknown", what=words)
    if depth_m < 0.0:
        return said.say("plan.dries", what=words, metres=said.metres(-depth_m))
    return said.say("plan.over_it", what=words, metres=said.metres(depth_m))
