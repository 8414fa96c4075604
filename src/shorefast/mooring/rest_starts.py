"""Where a search for every rest begins: places over all she can reach, bows all round."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from shorefast.mooring.scene import GridBed, PlaneBed, RodeLine, Scene, ShoreLine
from shorefast.mooring.shapes import Floats

_ROUNDS = 40
_TURNS = 600
_FITS_M = 0.02
_SHORT_OF_REACH = 0.985


def _bed_level_m(line: RodeLine) -> float:
    """Level of the bed at the anchor; NaN where it is not known."""
    bed = line.bed
    if isinstance(bed, PlaneBed):
        return bed.level_at_anchor_m
    assert isinstance(bed, GridBed)
    row = round((line.north_m - bed.south_m) / bed.step_m)
    column = round((line.east_m - bed.west_m) / bed.step_m)
    rows, columns = bed.level_m.shape
    inside = 0 <= row < rows and 0 <= column < columns
    return float(bed.level_m[row, column]) if inside else math.nan


def _reach_m(line: RodeLine | ShoreLine, water_level_m: float) -> float:
    """How far a line reaches on the level when it is straight, a little short of it. [m]"""
    if isinstance(line, ShoreLine):
        length_m = line.length_m
        rise_m = line.z_m - max(0.0, line.level_m - water_level_m)
    else:
        length_m = float(np.sum(line.segments.length_m))
        rise_m = water_level_m + line.z_m - np.nan_to_num(_bed_level_m(line))
    return _SHORT_OF_REACH * math.sqrt(max(0.01, length_m**2 - float(rise_m) ** 2))


def _discs(scene: Scene, active: Floats, heading_rad: Floats, water_level_m: float) -> Floats:
    """East, north, radius of where each set line lets her be, by heading: (heading, line, 3)."""
    sine, cosine = np.sin(heading_rad), np.cos(heading_rad)
    rows = [
        np.stack(
            [
                line.east_m - line.x_m * sine - line.y_m * cosine,
                line.north_m - line.x_m * cosine + line.y_m * sine,
                np.full(heading_rad.shape, _reach_m(line, water_level_m)),
            ],
            axis=-1,
        )
        for line, on in zip(scene.lines, active, strict=True)
        if on
    ]
    return np.stack(rows, axis=1) if rows else np.empty((heading_rad.size, 0, 3))


def _box(scene: Scene, discs: Floats) -> tuple[Floats, Floats]:
    """The least and greatest place for each heading: (heading, 2), shut where none is."""
    d = scene.domain
    low, high = np.array([d.west_m, d.south_m]), np.array([d.east_m, d.north_m])
    least = np.maximum(low, (discs[..., :2] - discs[..., 2:]).max(axis=1, initial=-np.inf))
    most = np.minimum(high, (discs[..., :2] + discs[..., 2:]).min(axis=1, initial=np.inf))
    # lines too short for this heading leave nothing: begin between what each allows
    return np.minimum(least, most), np.maximum(least, most)


class Starts(NamedTuple):
    """Where to begin (start, 3), and for each bow asked where she fits best (heading, 3)."""

    q: Floats
    best: Floats


def starts_over(
    scene: Scene, active: Floats, water_level_m: float, headings: int, across: int
) -> Starts:
    """Starts over all places her lines and the domain leave her, all round.

    For each of ``headings`` bows a grid of ``across`` by ``across`` places over the
    box that holds her, each drawn in until no line is longer than it is; where that
    cannot be with the bow so, she is turned till it is, or as nearly as it can be.
    """
    turn = np.linspace(0.0, 2.0 * math.pi, headings, endpoint=False)
    discs = _discs(scene, active, turn, water_level_m)
    least, most = _box(scene, discs)
    share = (np.arange(across) + 0.5) / across
    grid = np.stack(np.meshgrid(share, share), axis=-1).reshape(-1, 2)
    place = least[:, None] + grid * (most - least)[:, None]
    d = scene.domain
    low, high = np.array([d.west_m, d.south_m]), np.array([d.east_m, d.north_m])
    for _ in range(_ROUNDS):
        for k in range(discs.shape[1]):
            off = place - discs[:, None, k, :2]
            far_m = np.hypot(off[..., 0], off[..., 1])[..., None]
            place -= off * np.maximum(0.0, 1.0 - discs[:, None, k, 2:] / np.maximum(far_m, 1e-9))
        place = np.clip(place, low, high)
    bow = np.broadcast_to(turn[:, None, None], (*place.shape[:2], 1))
    q = np.ascontiguousarray(np.concatenate([place, bow], axis=-1).reshape(-1, 3))
    over = _Over.of(scene, active, water_level_m)
    fits = over.most(q) < _FITS_M
    best = over.eased(q[:: across * across], turns=False)
    q[~fits] = over.eased(q[~fits], turns=True)
    return Starts(q, best)


class _Over(NamedTuple):
    """The set lines' body points, far ends, reach and stiffness, arrays (line,)."""

    x_m: Floats
    y_m: Floats
    east_m: Floats
    north_m: Floats
    reach_m: Floats
    stiff_npm: Floats

    @classmethod
    def of(cls, scene: Scene, active: Floats, water_level_m: float) -> _Over:
        """From the lines of a scene that are set."""
        rows = [
            (line.x_m, line.y_m, line.east_m, line.north_m,
             _reach_m(line, water_level_m) / _SHORT_OF_REACH, _stiffness_npm(line))
            for line, on in zip(scene.lines, active, strict=True)
            if on
        ]  # fmt: skip
        return cls(*np.array(rows).reshape(-1, 6).T)

    def _toward(self, q: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
        """Offsets of the body points, and the vectors to the far ends, with their lengths."""
        sine, cosine = np.sin(q[:, 2:]), np.cos(q[:, 2:])
        off_e, off_n = self.x_m * sine + self.y_m * cosine, self.x_m * cosine - self.y_m * sine
        de, dn = self.east_m - q[:, :1] - off_e, self.north_m - q[:, 1:2] - off_n
        return off_e, off_n, de, dn, np.hypot(de, dn)

    def most(self, q: Floats) -> Floats:
        """How far the worst line falls short at each place (place,). [m]"""
        far_m = self._toward(q)[4]
        return np.asarray(np.max(far_m - self.reach_m, axis=1, initial=-np.inf))

    def eased(self, q: Floats, *, turns: bool) -> Floats:
        """Places shifted (and turned) until the lines that fall short stretch the least."""
        q = q.copy()
        weight = self.stiff_npm / self.stiff_npm.sum()
        arm2_m2 = 1.0 + float(np.max(self.x_m**2 + self.y_m**2, initial=0.0))
        for _ in range(_TURNS):
            off_e, off_n, de, dn, far_m = self._toward(q)
            share = np.maximum(0.0, 1.0 - self.reach_m / np.maximum(far_m, 1e-9)) * weight
            q[:, 0] += (share * de).sum(axis=1)
            q[:, 1] += (share * dn).sum(axis=1)
            if turns:
                q[:, 2] += (share * (de * off_n - dn * off_e)).sum(axis=1) / arm2_m2
        return q


def _stiffness_npm(line: RodeLine | ShoreLine) -> float:
    """Pull gained a metre by a straight line. [N/m]"""
    if isinstance(line, ShoreLine):
        return line.axial_stiffness_n / line.length_m
    return 1.0 / float(np.sum(line.segments.length_m / line.segments.axial_stiffness_n))
