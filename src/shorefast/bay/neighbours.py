"""Which soundings have a say at a place: the nearest, and beyond them ever sparser ones.

Soundings lie close along a boat's track and far from the next. The nearest alone may
all be of one track, and the bed beside it would hang on the slope along it. So the
soundings are thinned again and again, each time to cells four times as wide, and of each
thinning the nearest few count too wherever the nearest leave a side of the place open.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from shorefast.bay.kriging import ALWAYS, NO_SAY_LEFT, Texture, krige, turned_away

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Place = tuple[Floats, Floats, Floats, Floats, Floats]

NEAREST = 16
OF_EACH = 9
ROUND = 32
WIDER = 4.0
LEFT_OUT_BESIDE = 20
THREADS = 2
WORTH_THREADS = 3000


class Thinned(NamedTuple):
    """Soundings no two of which share a cell: their tree, which they are, the cell. [m]"""

    tree: cKDTree
    which: Ints
    cell_m: float


Neighbours = tuple[Thinned, ...]
"""All soundings first, then ever sparser."""


def _one_a_cell(places: Floats, which: Ints, cell_m: float) -> Ints:
    """The sounding nearest the middle of each cell; cells do not move with the data."""
    cell = np.floor(places[which] / cell_m)
    off = np.hypot(*(places[which] - (cell + 0.5) * cell_m).T)
    order = np.lexsort((off, cell[:, 1], cell[:, 0]))
    new = np.any(np.diff(cell[order], axis=0, prepend=np.nan) != 0.0, axis=1)
    return np.sort(which[order[new]])


def thin_out(places: Floats, spacing_m: float) -> Neighbours:
    """All soundings and their thinnings, until less than a score are left."""
    sets = [Thinned(cKDTree(places), np.arange(len(places)), 0.0)]
    cell_m = max(spacing_m, 1e-3)
    while sets[-1].which.size > NEAREST:
        cell_m *= WIDER
        which = _one_a_cell(places, sets[-1].which, cell_m)
        if which.size < sets[-1].which.size:
            sets.append(Thinned(cKDTree(places[which]), which, cell_m))
    return tuple(sets)


def nearest(one: Thinned, asked: Floats, count: int) -> tuple[Floats, Ints]:
    """How far the nearest few of a set are [m], and which; shape (place, k)."""
    wanted = np.arange(1, min(count, one.which.size) + 1)
    apart, index = one.tree.query(asked, k=wanted, workers=-1)
    return apart, one.which[index]


def set_after_set(parts: list[Ints]) -> tuple[Ints, Ints]:
    """Sets beside each other, and the column after each one's last."""
    ends = np.cumsum([part.shape[1] for part in parts])
    return np.ascontiguousarray(np.concatenate(parts, axis=1)), ends


def draw(
    place: Place, sets: Neighbours, asked: Floats, near: Ints, texture: Texture
) -> tuple[Floats, Floats]:
    """Mean level [m] and variance (in sills) at places, ``near`` being their nearest."""
    mean, variance = np.empty(len(asked)), np.empty(len(asked))
    if len(sets) == 1:
        far_noise = np.full(len(asked), 1e12)
    else:
        far_noise = _turned_away_all(place, asked, near)
    closed = far_noise >= NO_SAY_LEFT
    for those in (np.flatnonzero(closed), np.flatnonzero(~closed)):
        if not those.size:
            continue
        parts = [near[those]]
        some = sets[1 : ALWAYS + 1] if closed[those[0]] else sets[1:]
        parts += [nearest(one, asked[those], OF_EACH)[1] for one in some]
        index, ends = set_after_set(parts)
        at = (asked[those, 0], asked[those, 1], far_noise[those])
        mean[those], variance[those] = krige_all(place, at, index, ends, texture)
    return mean, variance


def _turned_away_all(place: Place, asked: Floats, near: Ints) -> Floats:
    """As ``turned_away``, on two cores."""

    def some(part: tuple[Floats, Ints]) -> Floats:
        return turned_away(place, (part[0][:, 0].copy(), part[0][:, 1].copy()), part[1])

    lots = 2 * THREADS if len(asked) > WORTH_THREADS else 1
    parts = zip(np.array_split(asked, lots), np.array_split(near, lots), strict=True)
    with ThreadPoolExecutor(THREADS) as pool:
        return np.concatenate(list(pool.map(some, parts)))


def krige_all(
    place: Place, at: tuple[Floats, Floats, Floats], index: Ints, ends: Ints, texture: Texture
) -> tuple[Floats, Floats]:
    """As ``krige``, on two cores where it pays; the same to the bit."""
    if len(index) < WORTH_THREADS:
        return krige(place, at, index, ends, texture)
    cuts = np.array_split(np.arange(len(index)), 2 * THREADS)

    def some(cut: Ints) -> tuple[Floats, Floats]:
        part = slice(int(cut[0]), int(cut[-1]) + 1)
        few = (at[0][part], at[1][part], at[2][part])
        return krige(place, few, index[part], ends, texture)

    with ThreadPoolExecutor(THREADS) as pool:
        done = list(pool.map(some, cuts))
    return np.concatenate([one[0] for one in done]), np.concatenate([one[1] for one in done])


def fine_enough(sets: Neighbours, gap_m: float) -> int:
    """The first set worth hearing past a gap: finer ones add nothing so far off."""
    return max(k for k, one in enumerate(sets) if k == 0 or one.cell_m <= 0.5 * gap_m)


def beyond(sets: Neighbours, asked: Floats, gap_m: float) -> tuple[Ints, Ints]:
    """Neighbours of places as if nothing nearer than the gap had been sounded.

    Sets finer than half the gap add nothing at such a distance and are passed over.
    """
    parts = []
    for k, one in enumerate(sets[fine_enough(sets, gap_m) :]):
        count = NEAREST if k == 0 else OF_EACH
        apart, index = nearest(one, asked, count + LEFT_OUT_BESIDE)
        far = apart > gap_m
        parts.append(np.where(far & (np.cumsum(far, axis=1) <= count), index, -1))
    return set_after_set(parts)


def settled(place: Place, sets: Neighbours, some: Ints, texture: Texture) -> tuple[Floats, Floats]:
    """Level of the bed right under soundings [m] and its variance, in sills, all round heard."""
    asked = np.column_stack((place[0][some], place[1][some]))
    return draw(place, sets, asked, nearest(sets[0], asked, ROUND)[1], texture)
