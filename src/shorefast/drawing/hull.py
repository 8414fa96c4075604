"""The yacht's own outline, from above and from the side, drawn from her measures alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from shorefast.boat import Hull, Tender, Yacht
    from shorefast.stay import Neighbour

Floats = NDArray[np.float64]
_WIDEST = 0.44
"""Where she is widest, as a share of her length from the stern."""
_TRANSOM = 0.74
"""Width of the stern as a share of the beam."""


def half_beam_share(aft_to_fore: Floats) -> Floats:
    """Half the width of our drawn yacht, as a share of half the beam.

    A fine bow, widest a little abaft the middle, a broad stern: a shape of our own,
    for the eye only; no load is worked out from it.
    """
    aft = np.clip(1.0 - aft_to_fore / _WIDEST, 0.0, 1.0)
    fore = np.clip((aft_to_fore - _WIDEST) / (1.0 - _WIDEST), 0.0, 1.0)
    run = 1.0 - (1.0 - _TRANSOM) * aft**2.2
    entry = (1.0 - fore**2.3) ** 0.86
    return np.where(aft_to_fore < _WIDEST, run, entry)


def outline_m(hull: Hull | Tender | Neighbour, stations: int = 15) -> Floats:
    """Her outline in boat axes, shape (point, 2): x forward of midships, y to starboard. [m]

    Begins at the port corner of the stern, round the bow, to the starboard corner.
    """
    # closer toward the bow, where it bends most
    along = 1.0 - (1.0 - np.linspace(0.0, 1.0, stations)) ** 1.5
    x = (along - 0.5) * hull.length_m
    y = half_beam_share(along) * hull.beam_m / 2
    port = np.column_stack((x, -y))
    starboard = np.column_stack((x[-2::-1], y[-2::-1]))
    return np.vstack((port, starboard))


def deck_m(hull: Hull) -> tuple[Floats, Floats]:
    """Coachroof and cockpit as two closed rows of points in boat axes. [m]"""
    length, beam = hull.length_m, hull.beam_m
    roof = np.array([(-0.10, 0.24), (0.10, 0.22), (0.24, 0.12), (0.29, 0.0)])
    well = np.array([(-0.42, 0.17), (-0.17, 0.21)])
    size = np.array([length, beam])
    mirror = np.array([1.0, -1.0])
    return (
        np.vstack((roof * size, (roof * mirror)[-2::-1] * size)),
        np.vstack((well * size, (well * mirror)[::-1] * size)),
    )


def placed(points_m: Floats, east_m: Floats, north_m: Floats, heading_rad: Floats) -> Floats:
    """Points in boat axes put where she lies.

    Parameters
    ----------
    points_m : array, shape (point, 2)
    east_m, north_m, heading_rad : arrays, shape (place,)
        Midships and the way she points.

    Returns
    -------
    array, shape (place, point, 2)
        Metres east and north.
    """
    sine, cosine = np.sin(heading_rad)[:, None], np.cos(heading_rad)[:, None]
    x, y = points_m[:, 0][None, :], points_m[:, 1][None, :]
    east = np.asarray(east_m)[:, None] + x * sine + y * cosine
    north = np.asarray(north_m)[:, None] + x * cosine - y * sine
    return np.stack((east, north), axis=-1)


def side_m(boat: Yacht) -> Floats:
    """Her hull from the side, closed: x forward of midships, z up from the water. [m]"""
    half, waterline = boat.hull.length_m / 2, boat.hull.waterline_m / 2
    bow = max(boat.roller.z_m, 0.6)
    stern = 0.8 * bow
    body = 0.32 * min(boat.hull.draught_m, bow + 0.6)
    sheer = [(-half, stern), (-0.4 * half, 0.86 * stern), (0.2 * half, 0.92 * stern), (half, bow)]
    below = [
        (half * 0.97, 0.55 * bow), (waterline, 0.0), (0.72 * waterline, -0.6 * body),
        (0.2 * waterline, -body), (-0.3 * waterline, -0.92 * body),
        (-0.72 * waterline, -0.45 * body), (-waterline, 0.0), (-0.985 * half, 0.45 * stern),
    ]  # fmt: skip
    return np.array(sheer + below)


def fins_m(boat: Yacht) -> list[tuple[str, Floats]]:
    """Keel, rudder and whatever else can touch, as closed rows (x, z) with their names. [m]"""
    fins = []
    for part in boat.underwater:
        top = -0.3 * min(boat.hull.draught_m, 0.5 * part.draught_m + 0.6)
        keel = "keel" in part.name.lower()
        long = part.length_m or (0.13 if keel else 0.05) * boat.hull.length_m
        corners = [(0.5, top), (0.3, -part.draught_m), (-0.42, -part.draught_m), (-0.5, top)]
        fins.append((part.name, np.array([(part.x_m + s * long, z) for s, z in corners])))
    return fins
