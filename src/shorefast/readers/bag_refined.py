"""The refined nodes of a BAG of variable resolution: depths where its coarse cells hold more."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shorefast.bay import Frame
from shorefast.errors import Unreadable
from shorefast.readers.depths import DepthsRead, Tally, Told, check_places, east_of_greenwich
from shorefast.readers.grid_values import CELLS_MOST, meant_levels
from shorefast.readers.hdf5_whole import check_hdf5
from shorefast.readers.soundings_csv import to_earth

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]

# The bay's points lie within 5 km of its origin, and the bed is drawn 300 m round them.
NEAR_M = 6_000.0
_NO_DEPTH = 1e6
_AT_ONCE = 1_000_000
_WANTED = "a BAG grid of depths wanted"


class Cells(NamedTuple):
    """The coarse cells with finer nodes under them, in the order of these nodes.

    Attributes
    ----------
    first : array, shape (cell,)
        Place of a cell's first node, its south-western one, in the row of all nodes.
    columns, rows : arrays, shape (cell,)
    x, y : arrays, shape (cell,)
        Of that first node, in the file's coordinates.
    across, up : arrays, shape (cell,)
        From node to node.
    """

    first: Counts
    columns: Counts
    rows: Counts
    x: Floats
    y: Floats
    across: Floats
    up: Floats

    @property
    def nodes(self) -> Counts:
        """How many nodes each has."""
        return self.columns * self.rows

    def only(self, kept: Any) -> Cells:
        """Those that are kept, in the order given."""
        return Cells(*(part[kept] for part in self))


def read_refined(
    path: Path, told: Told, about: dict[str, Any], frame: Frame | None = None
) -> DepthsRead:
    """Read every refined node as a depth of its own, with its uncertainty.

    Of a bay's file only cells within 6 km of the bay's origin are read, or the nearest
    one. A coarse node with nothing finer under it is an overview and left out.

    Parameters
    ----------
    about : dict
        What the file says of its coarse grid: ``crs``, ``transform``, ``bounds``, and
        ``coarse``, its depths, shape (row, column), north first.

    Raises
    ------
    Unreadable
        If it is damaged, too large, or none of its nodes holds a depth.
    BadInput
        If its places cannot be, or all its depths would stand dry.

    Source
    ------
    bag-format (nodes row by row from the south-western one, its place counted from the
    south-western corner of the coarse cell).
    """
    import netCDF4

    name, tally = path.name, Tally()
    check_hdf5(path, _WANTED)
    try:
        with netCDF4.Dataset(path) as opened:
            opened.set_auto_maskandscale(False)
            nodes = opened["BAG_root"]["varres_refinements"]
            table = np.asarray(opened["BAG_root"]["varres_metadata"][:])
            cells = _near(name, _cells(name, table, nodes.size, about, tally), about, frame, tally)
            x, y, number, doubt = _read(name, nodes, cells, tally)
    except (OSError, RuntimeError, IndexError, KeyError, ValueError, TypeError) as trouble:
        raise damaged(name, "HDF5 cannot read its refined nodes") from trouble
    level, notes = meant_levels(name, number, told, "up", tally)
    kept = np.isfinite(level)
    lat, lon = to_earth(name, x[kept], y[kept], about["crs"])
    check_places(name, lat, lon)
    deviation = doubt[kept]
    if told.deviation_m is not None:
        deviation = np.full(lat.size, told.deviation_m)
    return DepthsRead(
        name, "BAG grid of variable resolution", lat, east_of_greenwich(lon), level[kept],
        deviation, tally.rows(), about["crs"], told.datum, None, notes,
    )  # fmt: skip


def damaged(name: str, why: str) -> Unreadable:
    """What is said of a file whose refined nodes cannot be so."""
    return Unreadable(name, f"{why}: it is damaged", _WANTED, "Fetch the file again.")


def _cells(name: str, table: Any, size: int, about: dict[str, Any], tally: Tally) -> Cells:
    """The cells that have nodes, checked against how many there are in all."""
    if table.shape != about["coarse"].shape:
        raise damaged(name, "its coarse and refined grids have different shapes")
    columns, rows = (table[f"dimensions_{axis}"].astype(np.int64) for axis in "xy")
    refined = (columns > 0) & (rows > 0)
    # the refined table begins in the south, the coarse grid as GDAL gives it in the north
    alone = np.isfinite(about["coarse"])[::-1] & ~refined
    tally.add("coarse nodes with nothing finer under them", name, int(alone.sum()))
    row, column = np.nonzero(refined)
    at, west, south = table[refined], about["bounds"][0], about["bounds"][1]
    transform = about["transform"]
    cells = Cells(
        at["index"].astype(np.int64), columns[refined], rows[refined],
        west + column * transform.a + at["sw_corner_x"].astype(np.float64),
        south - row * transform.e + at["sw_corner_y"].astype(np.float64),
        at["resolution_x"].astype(np.float64), at["resolution_y"].astype(np.float64),
    )  # fmt: skip
    cells = cells.only(np.argsort(cells.first, kind="stable"))
    _check(name, cells, size)
    return cells


def _check(name: str, cells: Cells, size: int) -> None:
    if not cells.first.size:
        raise Unreadable(name, "no cell of it has refined nodes", _WANTED, "Name another grid.")
    # first of all each way alone: a product of nonsense could pass for a small number
    odd = (cells.columns > size) | (cells.rows > size) | (cells.nodes > size - cells.first)
    if odd.any():
        raise damaged(name, f"a cell names more nodes than the {size} there are")
    if np.any(cells.first[1:] < (cells.first + cells.nodes)[:-1]):
        raise damaged(name, "two of its cells name the same nodes")
    steps = np.concatenate((cells.across, cells.up))
    if not (np.all(steps > 0.0) and np.isfinite([*steps, *cells.x, *cells.y]).all()):
        raise damaged(name, "the nodes of a cell have no place")


def _near(
    name: str, cells: Cells, about: dict[str, Any], frame: Frame | None, tally: Tally
) -> Cells:
    """The cells round the bay's origin, all of them where there is no bay."""
    if frame is not None:
        x = cells.x + 0.5 * cells.across * (cells.columns - 1)
        y = cells.y + 0.5 * cells.up * (cells.rows - 1)
        east, north = frame.to_plane(*to_earth(name, x, y, about["crs"]))
        apart = np.hypot(east, north)
        near = apart <= max(NEAR_M, float(apart.min()))
        far = int(cells.nodes[~near].sum())
        tally.add(f"nodes farther than {NEAR_M / 1000:.0f} km from the bay's origin", name, far)
        cells = cells.only(near)
    total = int(cells.nodes.sum())
    if total > CELLS_MOST:
        raise Unreadable(
            name,
            f"{total} refined nodes",
            "at most 30 million are read",
            "Cut the grid to the waters asked about.",
        )
    return cells


def _read(name: str, nodes: Any, cells: Cells, tally: Tally) -> tuple[Floats, ...]:
    """x, y, number and uncertainty of every node that holds a depth, shape (node,) each."""
    kept = []
    for run in _runs(cells):
        first, count = int(run.first[0]), int(run.nodes.sum())
        values = nodes[..., first : first + count].reshape(-1)
        number = values["depth"].astype(np.float64)
        known = np.isfinite(number) & (number != _NO_DEPTH)
        doubt = values["depth_uncrt"].astype(np.float64)
        doubt[~((doubt >= 0.0) & (doubt < _NO_DEPTH))] = np.nan
        kept.append([part[known] for part in (*_places(run), number, doubt)])
    total = int(cells.nodes.sum())
    found = tuple(np.concatenate(parts) for parts in zip(*kept, strict=True))
    if not found[0].size:
        raise Unreadable(
            name, f"none of its {total} refined nodes holds a depth", "", "Name another grid."
        )
    tally.add("no data", name, total - found[0].size)
    return found


def _runs(cells: Cells) -> Iterator[Cells]:
    """Cells whose nodes follow one another, about a million nodes at a time."""
    after = cells.first + cells.nodes
    apart = cells.first[1:] != after[:-1]
    full = np.diff(np.cumsum(cells.nodes) // _AT_ONCE) > 0
    for some in np.split(np.arange(cells.first.size), np.flatnonzero(apart | full) + 1):
        yield cells.only(some)


def _places(cells: Cells) -> tuple[Floats, Floats]:
    """Where each node of some cells lies, in the order of the nodes."""
    count = cells.nodes
    cell = np.repeat(np.arange(count.size), count)
    within = np.arange(cell.size) - np.repeat(np.cumsum(count) - count, count)
    row, column = np.divmod(within, cells.columns[cell])
    x = cells.x[cell] + column * cells.across[cell]
    return x, cells.y[cell] + row * cells.up[cell]
