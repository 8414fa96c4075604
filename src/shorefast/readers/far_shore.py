"""Shores far round a bay: legs in the bay's plane, and on which side of them the water is.

Areas are land, whichever way round their rings run, and their holes are water. Lines
are joined end to end; a closed one has its sides from what lies inside what, an open one
only where the person says on which hand the water is.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from shorefast.basis import Basis, Finding, Input
from shorefast.bay import Bounds, Coast, FarShore, Frame
from shorefast.errors import BadInput
from shorefast.readers.depth_file import check_there
from shorefast.readers.depths import east_of_greenwich
from shorefast.readers.shore_geojson import Shapes, on_earth, read_as_filed
from shorefast.readers.toml_file import TomlTable
from shorefast.weather import OPEN_M, crossings

Floats = NDArray[np.float64]

FAR_M = 100_000.0
# a straight leg in degrees bends in the plane: 5 km by less than a metre below 60 degrees
_PIECE_M = 5_000.0
_LONG_M = 1_000.0
_ON_EDGE_M = 5.0
_A_DEGREE_M = 111_000.0
_NEAR_EDGE_LEGS = 2.0


class FarFile(NamedTuple):
    """One file of shores.

    Attributes
    ----------
    areas, lines : int
        Shapes it holds, wherever on earth they lie.
    open_sea : bool
        Whether the skipper says that what it does not close is open sea.
    """

    name: str
    crs: str
    areas: int
    lines: int
    left_out: tuple[tuple[str, int], ...]
    coast: Coast
    open_sea: bool = False


class FarRead(NamedTuple):
    """The shores round a bay, None where no file reaches there, and what was read."""

    far: FarShore | None
    basis: Basis
    files: tuple[FarFile, ...] = ()


def read_far_shores(
    table: TomlTable, folder: Path, frame: Frame, own: Sequence[Shapes], near: Bounds
) -> FarRead:
    """The ``[[far_shore]]`` tables, and the bay's own shores where they leave its box.

    Parameters
    ----------
    own : sequence of Shapes
        The bay's own, in its plane; lines walked with the water on the left.
    near : Bounds
        The box they count in already.

    Raises
    ------
    BadInput, Unreadable
        As ``read_far_file``.
    """
    coasts = [coast for one in own if (coast := _own_coast(one, near)) is not None]
    files = tuple(_read_table(one, folder, frame) for one in table.tables("far_shore"))
    inputs, findings = [], []
    for name, coast in ((one.name, one.coast) for one in files):
        coasts.append(coast)
        inputs.append(Input("far shore", _said(coast), name))
        findings += [*_coarse(name, coast), *_swallowed(name, coast)]
    if not coasts:
        return FarRead(None, Basis())
    coasts.sort(key=lambda coast: coast.spacing_m)
    basis = Basis(inputs=tuple(inputs), findings=tuple(findings))
    open_sea = any(one.open_sea for one in files)
    return FarRead(FarShore(near if own else None, tuple(coasts), open_sea), basis, files)


def _read_table(table: TomlTable, folder: Path, frame: Frame) -> FarFile:
    path = folder / table.need_text("file")
    check_there(path, f"the shore of {table.where('file')}")
    read = read_far_file(path, frame, table.choice("water", ("left", "right")))
    return read._replace(open_sea=table.flag("open_sea", False))


def read_coast(path: Path, frame: Frame, water: str | None = None) -> Coast:
    """The coast of one file; parameters and errors as of ``read_far_file``."""
    return read_far_file(path, frame, water).coast


def read_far_file(path: Path, frame: Frame, water: str | None = None) -> FarFile:
    """One file of shores: land as areas, or lines.

    Parameters
    ----------
    water : "left", "right" or None
        On which hand the water is along its open lines; None: nobody knows.

    Raises
    ------
    Unreadable
        If it cannot be read, or holds no shape.
    BadInput
        If it holds neither lines nor areas, none of it is near the bay, or a shape goes
        round the earth.
    """
    filed = read_as_filed(path)
    origin = np.array([float(east_of_greenwich(np.array(frame.lon_deg))), frame.lat_deg])
    degrees = filed.crs == "EPSG:4326"
    if degrees:
        shapes = np.array([one.shape for one in filed.features], dtype=object)
        on_earth(path.name, shapely.get_coordinates(shapes), filed.crs)
    areas = _round_about(filed.of("Polygon"), origin, degrees)
    lines = _round_about(filed.of("LineString"), origin, degrees)
    if not filed.of("Polygon", "LineString"):
        raise BadInput(
            path.name,
            "neither a line nor a polygon in it",
            "a shore is a line or an area of land",
            "Draw it so, or take [[far_shore]] out.",
        )
    rings, open_lines = _joined(lines, directed=water is not None)
    if degrees:
        _check_turn(path.name, [*areas, *rings, *open_lines])
    walked = [shapely.orient_polygons(one, exterior_cw=True) for one in areas]
    closed, known = _sides_found(rings, _here(frame, filed.crs, origin))
    told = [shapely.reverse(one) if water == "right" else one for one in open_lines]
    sided = [True] * len(walked) + known + [water is not None] * len(told)
    coast = _coast(path.name, frame, filed.crs, [*walked, *closed, *told], sided)
    counts = (len(filed.of("Polygon")), len(filed.of("LineString")))
    return FarFile(path.name, filed.crs, *counts, filed.left_out, coast)


def _own_coast(shapes: Shapes, near: Bounds) -> Coast | None:
    """The coast of shapes that are in the bay's plane already; None if all in its box."""
    areas = [shapely.orient_polygons(one, exterior_cw=True) for one in shapes.of("Polygon")]
    legs, _ = _legs([*areas, *shapes.of("LineString")])
    east, north = legs.reshape(-1, 2).T
    out = (east < near.west_m) | (east > near.east_m)
    out |= (north < near.south_m) | (north > near.north_m)
    if not out.any():
        return None
    return Coast(legs, np.ones(len(legs), dtype=np.bool_), _hull(legs), _middle_m(legs))


def _round_about(
    shapes: Sequence[BaseGeometry], origin: Floats, degrees: bool
) -> list[BaseGeometry]:
    """Shapes with longitudes counted from the bay's, less those far from it in degrees."""
    if not degrees or not shapes:
        return list(shapes)
    turned = shapely.transform(
        np.array(shapes, dtype=object),
        lambda at: np.column_stack((_from(at[:, 0], origin[0]), at[:, 1])),
    )
    west, south, east, north = shapely.bounds(turned).T
    tall = 1.2 * OPEN_M / _A_DEGREE_M
    wide = tall / max(np.cos(np.radians(min(abs(origin[1]) + tall, 89.0))), 1e-2)
    kept = (south < origin[1] + tall) & (north > origin[1] - tall)
    kept &= (west < origin[0] + wide) & (east > origin[0] - wide)
    return [one for one, keep in zip(turned, kept, strict=True) if keep]


def _from(lon_deg: Floats, origin_deg: float) -> Floats:
    return np.asarray(origin_deg + (lon_deg - origin_deg + 180.0) % 360.0 - 180.0)


def _joined(
    lines: Sequence[BaseGeometry], *, directed: bool
) -> tuple[list[BaseGeometry], list[BaseGeometry]]:
    """Lines joined end to end: the closed ones as areas, and the open ones.

    directed : only as they are walked, so that none of them is turned round.
    """
    if not lines:
        return [], []
    parts = [one for one in lines if one.length > 0.0]
    merged = shapely.get_parts(
        shapely.line_merge(shapely.multilinestrings(parts), directed=directed)
    )
    closed = [one for one in merged if shapely.is_ring(one)]
    return [shapely.Polygon(one) for one in closed], [
        one for one in merged if not shapely.is_ring(one)
    ]


def _sides_found(
    rings: list[BaseGeometry], here: BaseGeometry
) -> tuple[list[BaseGeometry], list[bool]]:
    """Closed lines turned so that the water is on the left, and whether that is known.

    Here is water; each ring between here and a place changes water to land or back. A
    ring round here that runs so near that it may have swallowed the bay tells nothing.
    """
    if not rings:
        return [], []
    tree = shapely.STRtree(rings)
    round_here = np.zeros(len(rings), dtype=np.bool_)
    round_here[tree.query(here, predicate="within")] = True
    doubtful = round_here & np.array([_may_swallow(one, here) for one in rings])
    round_here &= ~doubtful
    # a place on the ring itself; what is just inside it lies one ring farther
    corner = shapely.points([one.exterior.coords[0] for one in rings])
    point, ring = tree.query(corner, predicate="within")
    between = int(round_here.sum()) + np.where(round_here, -1, 1)
    np.add.at(between, point, np.where(round_here[ring], -1, np.where(doubtful[ring], 0, 1)))
    walked = [
        shapely.orient_polygons(one, exterior_cw=bool(crossed % 2))
        for one, crossed in zip(rings, between, strict=True)
    ]
    return walked, [bool(known) for known in ~doubtful]


def _may_swallow(ring: BaseGeometry, here: BaseGeometry) -> bool:
    edge = shapely.boundary(ring)
    legs, _ = _legs([edge])
    return bool(edge.distance(here) <= _NEAR_EDGE_LEGS * _middle_m(legs))


def _here(frame: Frame, crs: str, origin: Floats) -> BaseGeometry:
    """The bay's origin in a file's own coordinates."""
    if crs == "bay metres":
        return shapely.Point(0.0, 0.0)
    if crs == "EPSG:4326":
        return shapely.Point(origin)
    from pyproj import Transformer

    turn = Transformer.from_crs("EPSG:4326", crs, always_xy=True)
    return shapely.Point(turn.transform(frame.lon_deg, frame.lat_deg))


def _check_turn(name: str, shapes: Sequence[BaseGeometry]) -> None:
    legs, _ = _legs(shapes)
    if len(legs) and np.abs(legs[:, 1, 0] - legs[:, 0, 0]).max() > 180.0:
        raise BadInput(
            name,
            "a shape that goes round to the far side of the earth",
            "shores within some hundred kilometres wanted",
            "Cut the file to the waters round the bay.",
        )


def _legs(shapes: Sequence[BaseGeometry]) -> tuple[Floats, NDArray[np.int64]]:
    """Legs of all shapes, shape (leg, end, 2), and the number of the shape of each."""
    if not len(shapes):
        return np.zeros((0, 2, 2)), np.zeros(0, dtype=np.int64)
    array = np.array(shapes, dtype=object)
    edges, of_shape = array.copy(), np.arange(len(array))
    flat = shapely.get_type_id(edges) == 3
    edges[flat] = shapely.boundary(edges[flat])
    parts, part_of = shapely.get_parts(edges, return_index=True)
    places, place_of = shapely.get_coordinates(parts, return_index=True)
    same = (place_of[1:] == place_of[:-1]) & (places[1:] != places[:-1]).any(axis=1)
    same &= np.isfinite(places[1:] + places[:-1]).all(axis=1)
    legs = np.stack((places[:-1][same], places[1:][same]), axis=1)
    return legs, of_shape[part_of[place_of[1:][same]]]


def _coast(
    name: str, frame: Frame, crs: str, shapes: Sequence[BaseGeometry], sided: Sequence[bool]
) -> Coast:
    filed, of_shape = _legs(shapes)
    if not len(filed):
        raise _not_here(name, "none of it")
    of_shape = np.repeat(of_shape, _pieces(filed, crs))
    plane = _in_plane(name, frame, crs, _cut_up(filed, _pieces(filed, crs)))
    off_m = np.hypot(plane[..., 0], plane[..., 1]).min(axis=1)
    if not off_m.min() <= FAR_M:
        raise _not_here(name, f"its nearest shore {off_m.min() / 1000:.0f} km off")
    kept = off_m <= OPEN_M
    whole = _in_plane(name, frame, crs, filed)
    whole = whole[np.hypot(whole[..., 0], whole[..., 1]).min(axis=1) <= OPEN_M]
    known = np.asarray(sided, dtype=np.bool_)[of_shape[kept]]
    return Coast(plane[kept], known, _hull(plane[kept]), _middle_m(whole if len(whole) else plane))


def _not_here(name: str, got: str) -> BadInput:
    return BadInput(
        name,
        f"{got} lies round the bay",
        "a shore within 100 km of the bay's origin wanted",
        "Correct lat_deg and lon_deg, or name the file of these waters.",
    )


def _pieces(legs: Floats, crs: str) -> NDArray[np.int64]:
    """Into how many pieces each leg is cut, in the file's own coordinates."""
    scale = _A_DEGREE_M if crs == "EPSG:4326" else 1.0
    length_m = scale * np.hypot(*(legs[:, 1] - legs[:, 0]).T)
    pieces: NDArray[np.int64] = np.maximum(np.ceil(length_m / _PIECE_M), 1).astype(np.int64)
    return pieces


def _cut_up(legs: Floats, pieces: NDArray[np.int64]) -> Floats:
    begin = np.repeat(legs[:, 0], pieces, axis=0)
    along = np.repeat(legs[:, 1] - legs[:, 0], pieces, axis=0)
    count = np.repeat(pieces, pieces)
    step = np.arange(count.size) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    ends = [begin + along * ((step + more) / count)[:, np.newaxis] for more in (0, 1)]
    return np.stack(ends, axis=1)


def _in_plane(name: str, frame: Frame, crs: str, legs: Floats) -> Floats:
    if crs == "bay metres":
        return legs
    at = on_earth(name, legs.reshape(-1, 2), crs)
    return np.column_stack(frame.to_plane(at[:, 1], at[:, 0])).reshape(legs.shape)


def _hull(legs: Floats) -> Floats:
    hull = shapely.convex_hull(shapely.multipoints(legs.reshape(-1, 2)))
    return shapely.get_coordinates(hull) if hull.geom_type == "Polygon" else np.zeros((0, 2))


def _lengths_m(legs: Floats) -> Floats:
    return np.asarray(np.hypot(*(legs[:, 1] - legs[:, 0]).T))


def _middle_m(legs: Floats) -> float:
    return float(np.median(_lengths_m(legs)))


def _swallowed(name: str, coast: Coast) -> list[Finding]:
    """Says so where the bay's origin stands deep on a file's land."""
    met = crossings(coast.legs_m[coast.sided], 0.0, 0.0, 1)
    if not met.ray.size or met.inward[met.off_m.argmin()]:
        return []
    edge = shapely.multilinestrings(shapely.linestrings(coast.legs_m))
    off_m = float(edge.distance(shapely.Point(0.0, 0.0)))
    if off_m <= _NEAR_EDGE_LEGS * coast.spacing_m:
        return []
    said = (
        f"the bay's origin lies {off_m:.0f} m inside its land: too coarse for this bay, or its"
        " areas are the water; where the bay's own shore ends inside them the fetch is unknown"
    )
    return [Finding(name, said)]


def _said(coast: Coast) -> str:
    """What a file spans, in words."""
    reach_m = np.hypot(*coast.legs_m.reshape(-1, 2).T).max()
    return (
        f"{len(coast.legs_m)} legs, {coast.spacing_m:.0f} m long in the middle, out to"
        f" {reach_m / 1000:.0f} km"
    )


def _coarse(name: str, coast: Coast) -> list[Finding]:
    """Says so where a file draws straight on for long; not of the edge it was cut along."""
    inside = np.ones(len(coast.legs_m), dtype=np.bool_)
    if len(coast.hull_m):
        edge = shapely.LinearRing(coast.hull_m)
        middle = shapely.points(coast.legs_m.mean(axis=1))
        inside = shapely.distance(middle, edge) > _ON_EDGE_M
    longest_m = _lengths_m(coast.legs_m[inside]).max(initial=0.0)
    if longest_m <= _LONG_M:
        return []
    said = f"its longest straight leg is {longest_m / 1000:.1f} km: what lies behind it, or cuts"
    return [Finding(name, f"{said} into it, is not known")]
