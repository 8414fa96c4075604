"""The chain in side view: in the calm, and in the worst hour."""

from __future__ import annotations

import math

import numpy as np

from shorefast.mooring import FOUND, L_BEARING, L_DISTANCE, L_DOWN, L_PULL, Rests, rests, rode_trace
from shorefast.stay.answer import ChainShape
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.rigging import bed_under_rode


def _shape(
    stay: Stay, judged: Judged, solved: Rests, level_m: float, said: str
) -> ChainShape | None:
    """The chain in the last state of one member's rests; None where she has no rest."""
    if solved.code[0, -1] != FOUND:
        return None
    line = solved.line[0, -1, 0]
    rode = judged.rigged.rode
    bed = bed_under_rode(stay, float(line[L_BEARING]) + math.pi)
    if bed is None:
        return None
    along_m, height_m, lying = rode_trace(
        rode.segments, bed, rode.friction, level_m + rode.z_m, float(line[L_DISTANCE])
    )
    if along_m.size == 0:
        return None
    angle = math.atan2(line[L_DOWN], line[L_PULL]) if line[L_PULL] > 0.0 else 0.5 * math.pi
    return ChainShape(said, along_m, height_m, lying, level_m, float(line[L_PULL]), angle)


def chain_shapes(stay: Stay, judged: Judged) -> tuple[ChainShape, ...]:
    """The chain in a calm at the stay's first water, and where it pulls hardest.

    Empty where the rests or the bed are unknown.
    """
    answer = judged.judgement
    ready = judged.ready
    first_m = float(answer.water_level_m[0, 0])
    if not math.isfinite(first_m):
        return ()
    one = np.full((1, 1), first_m)
    calm = rests(ready, one, np.zeros((1, 1)), np.zeros((1, 1)), ready.all_set)
    shapes = [_shape(stay, judged, calm, first_m, "in the calm")]
    pull = answer.rest.lines[0].pull_n
    if np.isfinite(pull).any():
        m, t = divmod(int(np.nanargmax(pull)), pull.shape[1])
        level, wind, blow = (
            array[m : m + 1, : t + 1]
            for array in (answer.water_level_m, answer.gust_mps, answer.wind_from_rad)
        )
        share = judged.rigged.height_share
        hard = rests(ready, level, wind * share, blow, ready.all_set, judged.extra)
        shapes.append(_shape(stay, judged, hard, float(level[0, t]), "pulling hardest"))
    return tuple(shape for shape in shapes if shape is not None)
