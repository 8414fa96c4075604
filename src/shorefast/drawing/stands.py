"""What it will stand: limit wind by direction, turned as the plan is, the forecast as dots."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.hull import outline_m
from shorefast.drawing.labels import Board, Wish
from shorefast.drawing.lettering import first_rows
from shorefast.drawing.page import Box, Page, Points, Style
from shorefast.drawing.scene import Scene, short_name
from shorefast.quantities import from_si

if TYPE_CHECKING:
    from shorefast.stay import Judgement, Stands
from shorefast.wording import UNKNOWN

Floats = NDArray[np.float64]
_NAME = Style("sans", "ink", 8.5)
_GIVE = Style("bold", "give", 8.5)
_RING = Style("sans", "soft", 8.0, "middle")
_MOST_KN = 60.0


@dataclass(frozen=True)
class Rose:
    """A polar drawing of winds: where from, how hard."""

    middle: tuple[float, float]
    radius_pt: float
    edge_kn: float
    down_rad: float

    def to_page(self, from_rad: Floats, speed_kn: Floats) -> Points:
        """Winds on the page: a point lies on the side the wind blows from. [pt]"""
        off = np.asarray(from_rad) - self.down_rad
        reach = np.asarray(speed_kn) / self.edge_kn * self.radius_pt
        x = self.middle[0] - reach * np.sin(off)
        y = self.middle[1] + reach * np.cos(off)
        return np.stack((x, y), axis=-1)


@dataclass(frozen=True)
class Edge:
    """The limit at the worst water level, direction by direction.

    ``open`` is True where nothing gives up to the highest wind tried, ``heavy`` where
    the stay's first to give does, ``unknown`` where nobody knows the limit.
    """

    from_rad: Floats
    limit_kn: Floats
    name: tuple[str | None, ...]
    open: NDArray[np.bool_]
    heavy: NDArray[np.bool_]
    unknown: NDArray[np.bool_]


def worst_edge(stands: Stands, first: str | None) -> Edge:
    """The least limit over all water levels, and what gives there first.

    Parameters
    ----------
    first : str or None
        The stay's first to give, whose directions are drawn heavy; if it gives in none
        of them, those of the weakest direction are.
    """
    limit = np.atleast_2d(stands.limit_mps)
    filled = np.where(np.isnan(limit), np.inf, limit)
    level = np.argmin(filled, axis=0)
    least = filled[level, np.arange(limit.shape[1])]
    names = tuple(stands.first_to_give[k][n] for n, k in enumerate(level.tolist()))
    unknown = np.array(
        [any(row[n] == UNKNOWN for row in stands.first_to_give) for n in range(limit.shape[1])]
    ) & ~np.isfinite(least)
    opened = ~np.isfinite(least) & ~unknown
    reach = np.where(opened, stands.sought_to_mps, np.where(unknown, 0.0, least))
    shown = from_si(1.0, "speed", "kn") * reach
    names = tuple(None if lost else name for name, lost in zip(names, unknown, strict=True))
    weakest = None if not np.isfinite(least).any() else names[int(np.argmin(least))]
    heaviest = first if first in names else weakest
    heavy = np.array([name is not None and name == heaviest for name in names]) & ~opened
    return Edge(np.asarray(stands.wind_from_rad), shown, names, opened, heavy, unknown)


def draw_stands(page: Page, frame: Box, scene: Scene, stands: Stands) -> None:
    """Paint rings, shape, dots and names into the frame."""
    page.text(frame.left, frame.top + 11.0, "What it will stand", Style("title", "ink", 13.0))
    page.begin("stands", "Limit wind by direction, the forecast's gusts as dots")
    board = Board(Box(frame.left, frame.top + 16.0, frame.right, frame.bottom - 18.0))
    edge = worst_edge(stands, scene.judgement.first_to_give)
    rose = _rose(frame, scene, edge)
    _rings(page, board, rose)
    _shape(page, board, rose, edge)
    dots, past = _dots(page, rose, scene.judgement, edge)
    _hull(page, board, rose, scene, dots)
    _names(page, board, rose, edge, scene)
    page.end()
    _foot(page, frame, past, edge)


def _rose(frame: Box, scene: Scene, edge: Edge) -> Rose:
    gust = from_si(1.0, "speed", "kn") * _gusts(scene.judgement)
    known = gust[np.isfinite(gust)]
    wanted = [20.0, *(known.tolist()), *edge.limit_kn[~edge.open].tolist()]
    edge_kn = min(10.0 * math.ceil(max(wanted) / 10.0 + 1e-9), _MOST_KN)
    middle = ((frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2)
    radius = min(frame.width / 2 - 25.0, (frame.height - 60.0) / 2)
    return Rose(middle, radius, edge_kn, scene.lie.heading_rad)


def _gusts(judgement: Judgement) -> Floats:
    gust = judgement.gust_mps
    return np.where(np.isfinite(gust), gust, judgement.wind_mps)


def _rings(page: Page, board: Board, rose: Rose) -> None:
    step = 10.0 if rose.edge_kn <= 40.0 else 20.0
    for speed in np.arange(step, rose.edge_kn + 0.1, step).tolist():
        page.ring(rose.middle, rose.radius_pt * speed / rose.edge_kn, "faint-line")
    page.ring(rose.middle, rose.radius_pt, "hair")
    turn = np.linspace(0.0, 2 * math.pi, 60)
    board.take_along(rose.to_page(turn, np.full(60, rose.edge_kn * 0.96)), 2.0)
    board.take(Box(*(np.array(rose.middle) - rose.radius_pt * 0.7).tolist(),
                   *(np.array(rose.middle) + rose.radius_pt * 0.7).tolist()))  # fmt: skip
    for name, bearing in zip("NESW", np.arange(4) * math.pi / 2, strict=True):
        reach = rose.edge_kn * (1.0 + 8.0 / rose.radius_pt)
        x, y = rose.to_page(np.array(bearing), np.array(reach)).tolist()
        board.take(page.text(x, y + 3.0, name, Style("medium", "ink", 9.0, "middle")))


def _shape(page: Page, board: Board, rose: Rose, edge: Edge) -> None:
    """The limit all round: heavy where the first to give gives, open beyond the last ring."""
    order = np.argsort(edge.from_rad)
    ring = rose.to_page(edge.from_rad, np.minimum(edge.limit_kn, rose.edge_kn))[order]
    page.rows(ring, "tint", closed=True)
    pieces = np.hstack((ring, np.roll(ring, -1, axis=0)))
    heavy = _both(edge.heavy[order])
    open_ended = _both((edge.limit_kn > rose.edge_kn + 1e-9)[order]) & ~heavy
    kinds = {"curve": ~heavy & ~open_ended, "open-curve": open_ended, "give-arc": heavy}
    for kind, chosen in kinds.items():
        rows = pieces[chosen]
        page.path("M%.1f %.1fL%.1f %.1f" * len(rows) % tuple(rows.ravel().tolist()), kind)
    board.ink(ring, 1.0)


def _both(ends: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Pieces of a ring both of whose ends are so."""
    return ends & np.roll(ends, -1)


def _dots(page: Page, rose: Rose, judgement: Judgement, edge: Edge) -> tuple[Points, bool]:
    """Every member's every hour, once where many fall together; those past as rings."""
    gust = from_si(1.0, "speed", "kn") * _gusts(judgement).ravel()
    turn = judgement.wind_from_rad.ravel()
    known = np.isfinite(gust) & np.isfinite(turn)
    gust, turn = np.minimum(gust[known], rose.edge_kn), turn[known]
    order = np.argsort(edge.from_rad)
    # no gust is past a limit that nobody knows
    limit = np.where(edge.open | edge.unknown, np.inf, edge.limit_kn)[order]
    past = gust > np.interp(turn, edge.from_rad[order], limit, period=2 * math.pi)
    points = rose.to_page(turn, gust)
    inside, outside = _apart(points[~past], 1.2), _apart(points[past], 2.0)
    page.path("M%.1f %.1fh0" * len(inside) % tuple(inside.ravel().tolist()), "dots")
    ring = "M%.1f %.1fa.9 .9 0 1 0 1.8 0a.9 .9 0 1 0 -1.8 0"
    page.path(ring * len(outside) % tuple((outside - (0.9, 0.0)).ravel().tolist()), "dots-past")
    return points, bool(past.any())


def _apart(points: Points, apart_pt: float) -> Points:
    """One of all that fall on the same spot."""
    spot = np.round(points / apart_pt).astype(np.int64)
    kept: Points = points[
        np.sort(np.unique(spot[:, 0] * 65_537 + spot[:, 1], return_index=True)[1])
    ]
    return kept


def _hull(page: Page, board: Board, rose: Rose, scene: Scene, dots: Points) -> None:
    hull = outline_m(scene.stay.boat.hull, 10)
    size = 0.13 * rose.radius_pt / (scene.stay.boat.hull.length_m / 2)
    on_page = np.column_stack((-hull[:, 1], hull[:, 0])) * size + np.array(rose.middle)
    page.rows(on_page, "hull", closed=True)
    page.rows(on_page, "ghost", closed=True)
    step = 10.0 if rose.edge_kn <= 40.0 else 20.0
    turn = _emptiest(rose, dots)
    for speed in np.arange(step, rose.edge_kn + 0.1, step).tolist():
        x, y = rose.to_page(np.array(turn), np.array(speed)).tolist()
        said = f"{speed:g}" + ("+" if speed >= _MOST_KN else "")
        board.take(page.text(x, y + 2.6, said, _RING))


def _emptiest(rose: Rose, dots: Points) -> float:
    """The bearing along which the fewest dots lie, between the letters of the compass."""
    dots = dots[:: 1 + len(dots) // 500]
    off = np.arctan2(rose.middle[0] - dots[:, 0], dots[:, 1] - rose.middle[1]) + rose.down_rad
    turns = np.arange(8) * math.pi / 4 + math.pi / 8
    near = np.abs(np.angle(np.exp(1j * (off[:, None] - turns)))) < 0.35
    return float(turns[np.argmin(near.sum(axis=0))])


def _names(page: Page, board: Board, rose: Rose, edge: Edge, scene: Scene) -> None:
    """First to give by sector, the widest sectors named first."""
    named: set[str] = set()
    for name, middle, wide in sorted(_sectors(edge), key=lambda row: -row[2]):
        if wide < math.radians(8.0) or (name in named and wide < math.radians(40.0)):
            continue
        weakest = bool(edge.heavy[middle])
        style = _GIVE if weakest else _NAME
        said = short_name(scene, name)
        rows = tuple(first_rows(said, style.face, style.size_pt, 54.0, 3))
        at = rose.to_page(edge.from_rad[middle], np.array(rose.edge_kn)).tolist()
        wish = Wish(rows, (at[0], at[1]), style, clear_pt=4.0, must=weakest)
        if board.set(page, wish) is not None:
            named.add(name)


def _sectors(edge: Edge) -> list[tuple[str, int, float]]:
    """Runs of directions with one first to give: its name, middle entry and width."""
    order = np.argsort(edge.from_rad).tolist()
    names = [edge.name[k] for k in order]
    count = len(order)
    breaks = [n for n in range(count) if names[n] != names[n - 1]]
    if not breaks:
        return [(names[0], order[0], 2 * math.pi)] if names and names[0] else []
    found = []
    for begin, end in zip(breaks, [*breaks[1:], breaks[0] + count], strict=True):
        name = names[begin]
        if name is not None:
            middle = order[((begin + end - 1) // 2) % count]
            found.append((name, middle, (end - begin) * 2 * math.pi / count))
    return found


def _foot(page: Page, frame: Box, past: bool, edge: Edge) -> None:
    style = Style("italic", "soft", 8.5)
    rows = ["knots, by where it blows from, turned as the plan"]
    rows.append("dots: gusts of every member, hour by hour" + (", rings: past it" if past else ""))
    if edge.unknown.any():
        where = "all round" if edge.unknown.all() else "where the shape closes in"
        rows[0] = f"what it will stand is unknown {where}"
    y = frame.bottom - 10.0
    page.text_rows(frame.left, y, rows, style)
