"""The highest bed under an outline, held against thousands of places inside it."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate, translate

from shorefast.basis import Basis
from shorefast.bay import DepthSurface, SurfaceGrid, highest_under

HULL = np.array([(6, 0), (3, 1.6), (-2, 2), (-6, 1.4), (-6, -1.4), (-2, -2), (3, -1.6)], float)


def rough(seed: int, step_m: float = 1.3) -> DepthSurface:
    """A bed of pure noise: nothing between two nodes can be guessed from a slope."""
    draw = np.random.default_rng(seed)
    level = draw.normal(-8.0, 2.0, (40, 46))
    grid = SurfaceGrid(-30.0, -25.0, step_m, level, np.full_like(level, 0.1))
    return DepthSurface(grid, Basis())


def at_place(corners: np.ndarray, pose: np.ndarray) -> shapely.Polygon:
    """An outline in its place, by a turn and a shift of another library."""
    shape = shapely.Polygon(corners[:, ::-1])
    return translate(rotate(shape, -np.degrees(pose[2]), origin=(0, 0)), pose[0], pose[1])


def places_in(shape: shapely.Polygon, count: int, seed: int) -> np.ndarray:
    """Places inside a shape and along its edge, its corners among them."""
    draw = np.random.default_rng(seed)
    west, south, east, north = shape.bounds
    spread = draw.uniform((west, south), (east, north), (count, 2))
    inside = spread[shapely.contains_xy(shape, spread)]
    edge = shape.exterior
    along = shapely.line_interpolate_point(edge, np.linspace(0.0, edge.length, count))
    return np.vstack([inside, shapely.get_coordinates(along), shapely.get_coordinates(shape)])


@pytest.mark.parametrize("seed", range(12))
def test_no_place_under_the_hull_is_higher_and_one_is_as_high(seed):
    bed = rough(seed)
    draw = np.random.default_rng(100 + seed)
    q = np.column_stack(
        [draw.uniform(-20, 18, 6), draw.uniform(-15, 16, 6), draw.uniform(-4, 4, 6)]
    )
    found = highest_under(bed.grid, bed.grid.level_m, HULL, q)
    for pose, (high_m, east_m, north_m, unknown) in zip(q, found, strict=True):
        shape = at_place(HULL, pose)
        here = places_in(shape, 20_000, seed)
        sampled_m = bed.level_at(here[:, 0], here[:, 1]).max()
        assert unknown == 0.0
        assert high_m >= sampled_m - 1e-9
        # and it is no more than is there: the place told lies under her and is as high
        assert shape.distance(shapely.Point(east_m, north_m)) < 1e-9
        assert float(bed.level_at(east_m, north_m)) == pytest.approx(high_m, abs=1e-9)


def test_a_single_point_reads_the_bed_as_the_surface_does():
    bed = rough(3)
    q = np.column_stack([np.linspace(-29.0, 25.0, 50), np.linspace(-20.0, 20.0, 50), np.ones(50)])
    found = highest_under(bed.grid, bed.grid.level_m, np.zeros((1, 2)), q)
    assert found[:, 0] == pytest.approx(bed.level_at(q[:, 0], q[:, 1]), abs=1e-12)


def test_a_lone_rock_is_seen_wherever_under_her_it_stands():
    level = np.full((40, 40), -9.0)
    level[20, 20] = -1.0
    grid = SurfaceGrid(-20.0, -20.0, 1.0, level, level)
    for turn in np.linspace(0.0, 6.2, 9):
        (found,) = highest_under(grid, level, HULL, np.array([(0.6, 0.4, turn)]))
        assert found[:3] == pytest.approx((-1.0, 0.0, 0.0))


def test_any_unknown_cell_under_her_is_told_and_none_beside_her():
    bed = rough(5, 1.0)
    level = bed.grid.level_m.copy()
    draw = np.random.default_rng(6)
    level[draw.uniform(size=level.shape) < 0.015] = np.nan
    rows, columns = np.nonzero(np.isnan(level))
    holes = shapely.union_all(
        [shapely.box(-31.0 + j, -26.0 + i, -29.0 + j, -24.0 + i)
         for i, j in zip(rows, columns, strict=True)]
    )  # fmt: skip
    q = np.column_stack(
        [draw.uniform(-22, 7, 80), draw.uniform(-18, 7, 80), draw.uniform(0, 6, 80)]
    )
    found = highest_under(bed.grid, level, HULL, q)
    told = [bool(holes.intersects(at_place(HULL, pose))) for pose in q]
    assert found[:, 3].astype(bool).tolist() == told
    assert 5 < sum(told) < 75


@pytest.mark.parametrize("pose", [(-28.0, 0.0, 0.5), (0.0, 90.0, 0.0), (np.nan, 0.0, 0.0)])
def test_beyond_the_soundings_nothing_is_known(pose):
    bed = rough(1)
    (found,) = highest_under(bed.grid, bed.grid.level_m, HULL, np.array([pose]))
    assert found[3] == 1.0


def test_no_pose_at_all_is_no_answer_at_all():
    bed = rough(1)
    assert highest_under(bed.grid, bed.grid.level_m, HULL, np.empty((0, 3))).shape == (0, 4)


AS_WRITTEN = """
import json, numpy as np
from shorefast.bay import SurfaceGrid, highest_under
draw = np.random.default_rng(2)
level = draw.normal(-8.0, 2.0, (30, 30))
level[3, 4] = np.nan
grid = SurfaceGrid(-15.0, -15.0, 1.0, level, level)
hull = np.array([(4, 0), (1, 1.5), (-4, 1), (-4, -1), (1, -1.5)], float)
q = np.column_stack([draw.uniform(-14, 12, 40), draw.uniform(-14, 12, 40), draw.uniform(0, 6, 40)])
found = [highest_under(grid, level, one, q).tolist() for one in (hull, hull[:1], hull[:2])]
print(json.dumps(found))
"""


def test_compiled_is_as_written():
    runs = []
    for off in ("0", "1"):
        told = {**os.environ, "NUMBA_DISABLE_JIT": off}
        run = subprocess.run(
            [sys.executable, "-c", AS_WRITTEN], env=told, capture_output=True, text=True, check=True
        )
        runs.append(np.array(json.loads(run.stdout)))
    # sums of products may be joined by the machine: the last bits differ
    assert np.allclose(runs[0], runs[1], atol=1e-12, equal_nan=True)
