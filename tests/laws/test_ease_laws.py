"""Laws of easing and veering: signs, mirrors, slack lines, and the same to the bit."""

from __future__ import annotations

import math
import runpy
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from shorefast.bay import DepthSurface
from shorefast.stay import Ease, Judged, Stay, ease, judge
from shorefast.stay.ease_lengths import adjusted

LAWS = runpy.run_path(str(Path(__file__).with_name("test_stay_laws.py")))


@cache
def on_a_slope() -> tuple[Stay, Judged, Ease]:
    stay = LAWS["stay"]()
    judged = judge(stay)
    return stay, judged, ease(stay, judged)


def _metre(found: Ease, number: int, by_m: float, hour: int):
    return next(
        one for one in found.metres if (one.number, one.by_m, one.at) == (number, by_m, hour)
    )


def test_a_mirrored_lie_is_eased_in_the_mirror():
    stay, _, found = on_a_slope()
    other = LAWS["mirrored"](stay)
    mirrored = ease(other, judge(other))
    # her port line is the other's starboard line, and stands at the same place in the lie
    assert mirrored.least.kind == found.least.kind
    assert mirrored.least.change == found.least.change
    for one, two in zip(found.metres, mirrored.metres, strict=True):
        assert two.use == pytest.approx(one.use, abs=0.01, nan_ok=True)
        assert two.room_m == pytest.approx(one.room_m, abs=0.03, nan_ok=True)


def test_a_lie_turned_a_quarter_is_eased_by_as_much():
    stay, _, found = on_a_slope()
    other = LAWS["quarter_turned"](stay)
    turned = ease(other, judge(other))
    assert turned.least.kind == found.least.kind
    for one, two in zip(found.metres, turned.metres, strict=True):
        assert two.use == pytest.approx(one.use, abs=0.02, nan_ok=True)


def test_what_lets_her_in_takes_water_and_what_hauls_her_out_gives_it():
    _, _, found = on_a_slope()
    rudder = found.rooms.index("water under the rudder")
    for hour in (0, 1):
        # shallower toward the shore: what lets her in takes water, what hauls her out gives it
        assert _metre(found, 0, 1.0, hour).room_m[rudder] <= 1e-3
        assert _metre(found, 0, -1.0, hour).room_m[rudder] >= -1e-3
        assert _metre(found, 1, -1.0, hour).room_m[rudder] <= 1e-3
    assert any(abs(_metre(found, 0, 1.0, hour).room_m[rudder]) > 0.05 for hour in (0, 1))


def test_easing_a_line_that_is_slack_changes_nothing():
    stay, _, _ = on_a_slope()
    # both lines six metres longer, and no wind to bring her back to them
    loose = adjusted(stay, {1: 6.0, 2: 6.0})
    calm = replace(
        loose.wind, gust_mps=0.0 * loose.wind.gust_mps, wind_mps=0.0 * loose.wind.wind_mps
    )
    loose = replace(loose, wind=calm)
    judged = judge(loose)
    slack = [line.tension_n.max() for line in judged.judgement.rest.lines[1:]]
    found = ease(loose, judged)
    for number in (1, 2):
        for hour in (0, 1):
            told = _metre(found, number, 1.0, hour)
            # what hangs on the cleat is its own weight: grams of difference, no more
            assert np.nanmax(np.abs(told.use)) < 2e-3, slack
            assert np.nanmax(np.abs(told.room_m)) < 5e-3


def test_veering_on_a_level_bed_lowers_the_uplift_and_the_anchors_use():
    stay, _, _ = on_a_slope()
    grid = stay.bay.surface.grid
    level = DepthSurface(grid._replace(level_m=np.full_like(grid.level_m, -18.0)), stay.basis)
    flat = replace(stay, bay=replace(stay.bay, surface=level))
    hard = replace(flat.wind, gust_mps=np.full_like(flat.wind.gust_mps, 17.0))
    ahead = np.full_like(hard.gust_mps, math.pi)
    flat = replace(flat, wind=replace(hard, wind_from_rad=ahead), proof=None)
    # chain short enough to be all lifted
    flat = adjusted(replace(flat, lie=replace(flat.lie, chain_out_m=50.0)), {1: 12.0, 2: 12.0})
    uplift = [
        float(judge(adjusted(flat, {0: by_m})).judgement.rest.lines[0].uplift_rad.max())
        for by_m in (0.0, 2.0, 4.0)
    ]
    assert uplift[0] > uplift[1] > uplift[2] >= 0.0
    found = ease(flat, judge(flat))
    anchor = found.parts.index("anchor")
    assert _metre(found, 0, 1.0, 1).use[anchor] < 0.0 < _metre(found, 0, -1.0, 1).use[anchor]


def test_out_and_in_are_nearly_opposite_where_nothing_is_bent():
    _, _, found = on_a_slope()
    anchor = found.parts.index("anchor")
    for hour in (0, 1):
        out, home = (_metre(found, 0, by_m, hour) for by_m in (1.0, -1.0))
        if not (out.bent or home.bent):
            most = max(abs(out.use[anchor]), abs(home.use[anchor]))
            assert abs(out.use[anchor] + home.use[anchor]) <= 0.5 * most + 0.02
