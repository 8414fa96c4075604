"""The snubber as a spring in the rode: set where its hook holds on chain, told where not."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest

from shorefast.boat import RodePiece, rope, stretch
from shorefast.mooring import BedLine, rode_at_pull
from shorefast.readers import read_stay
from shorefast.stay.lines_out import Ropes, rode_segments, tail_set
from shorefast.stay.rigging import rig

DEMO = Path(__file__).parents[3] / "src" / "shorefast" / "demo"
LEVEL = BedLine(np.array([-300.0, 300.0]), np.array([0.0, 0.0]))


@pytest.fixture(scope="module")
def stay():
    """80 m of 10 mm chain, a snubber of 8 m of 16 mm nylon."""
    return read_stay(DEMO / "grey_notch" / "stay_d.toml")


def without(boat, **changes):
    return dataclasses.replace(boat, snubber=None, **changes)


def test_the_last_metres_out_are_the_snubber(stay):
    line = rode_segments(stay.boat, 45.0)
    nylon = rope("nylon", 0.016)
    assert line.length_m.tolist() == [37.0, 8.0]
    assert line.weight_npm[1] == nylon.wet_weight_npm
    assert line.air_npm[1] == nylon.air_weight_npm
    assert np.array_equal(line.curves[1], stretch("nylon", 0.016).nominal.knots_n())
    assert line.curves[0] is None
    assert line.roller_m == stay.boat.roller.z_m


@pytest.mark.parametrize("pull_n", [300.0, 1500.0, 5000.0])
def test_with_a_snubber_she_lies_farther_off_by_about_its_stretch(stay, pull_n):
    far_m = [
        rode_at_pull(rode_segments(boat, 45.0), LEVEL, 0.6, 10.5, pull_n)
        for boat in (stay.boat, without(stay.boat))
    ]
    more_m = far_m[0].distance_m - far_m[1].distance_m
    pulled_m = float(tail_set(stay.boat, 45.0).loop_m(far_m[0].tension_n)) - 8.0
    # beside its stretch, 8 m of chain less hang from the bow
    assert pulled_m < more_m < pulled_m + 2.5


def test_the_loop_must_be_as_long_as_the_snubber_pulled(stay):
    tail = tail_set(stay.boat, 45.0)
    curve = stretch("nylon", 0.016).nominal
    asked_n = np.array([[0.0, 0.1], [0.3, 2.0]]) * curve.breaking_n
    # three-strand nylon, handbook: 7 % at a tenth of its strength, 16 % at three tenths
    assert tail.loop_m(asked_n)[0].tolist() == pytest.approx([8.0, 8.0 * 1.07])
    assert tail.loop_m(asked_n)[1, 0] == pytest.approx(8.0 * 1.16)
    assert math.isnan(tail.loop_m(asked_n)[1, 1])


def test_a_rode_not_longer_than_the_snubber_is_chain_alone(stay):
    for out_m in (3.0, 8.0):
        assert tail_set(stay.boat, out_m) is None
        assert rode_segments(stay.boat, out_m).length_m.tolist() == [out_m]
    assert rode_segments(stay.boat, 8.1).length_m.tolist() == pytest.approx([0.1, 8.0])


def test_its_hook_holds_on_chain_only(stay):
    pieces = (RodePiece("chain", 0.01, 30.0, 30), RodePiece("rope", 0.018, 40.0, fibre="nylon"))
    boat = dataclasses.replace(stay.boat, rode=pieces)
    # 36 m out: the hook at 28 m, on chain; 2 m of chain and the rope's first 6 m hang idle
    assert rode_segments(boat, 36.0).length_m.tolist() == [28.0, 8.0]
    assert tail_set(boat, 45.0) is None
    assert rode_segments(boat, 45.0).length_m.tolist() == [30.0, 15.0]


def test_the_answer_says_whether_it_is_set(stay):
    set_so, bare = rig(stay, 2.0), rig(dataclasses.replace(stay, boat=without(stay.boat)), 2.0)
    short = rig(dataclasses.replace(stay, lie=dataclasses.replace(stay.lie, chain_out_m=7.0)), 2.0)
    assert set_so.tail.length_m == 8.0
    assert bare.tail is None
    told = [rigged.basis.assumptions[-1].said for rigged in (set_so, short)]
    assert told == [
        "The last 8 m of what is out are the snubber; the chain from its hook inboard hangs idle"
        " and is left out",
        "The snubber is not set: what is out is not longer than it, or its hook would have to hold"
        " on rope",
    ]
    assert len(bare.basis.assumptions) == len(set_so.basis.assumptions) - 1


def test_it_follows_the_curve_asked_for(stay):
    soft = rode_segments(stay.boat, 45.0, Ropes("soft"))
    assert np.array_equal(soft.curves[1], stretch("nylon", 0.016).soft.knots_n())


def test_veering_gives_chain_not_snubber(stay):
    rode = rig(stay, 2.0).rode
    plain = rig(dataclasses.replace(stay, boat=without(stay.boat)), 2.0).rode
    assert rode.tail_m == 8.0
    assert np.diff([rode.segments.length_m, rode.veered(3.0).segments.length_m], axis=0)[
        0
    ].tolist() == [3.0, 0.0]
    assert plain.veered(3.0).segments.length_m[-1] == plain.segments.length_m[-1] + 3.0
