"""The wind she is held in going astern: what is told agrees with itself, and with a thruster."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from shorefast.manoeuvre.arrival import arrival
from shorefast.manoeuvre.coming_in import ON_WAY_M, come_in, keeps_her_way
from shorefast.manoeuvre.crosswind import crosswind, in_wind, steady, swinging
from shorefast.manoeuvre.start import started
from shorefast.manoeuvre.steering import Steering
from shorefast.manoeuvre.way_in import way_in
from shorefast.mooring import Lying

BAYS = ("grey_notch", "stone_spur", "tres_sombras")
TO_WINDWARD = 0.5 * math.pi


@pytest.fixture(scope="module", params=BAYS)
def way(cut, request):
    return started(way_in(arrival(cut(f"{request.param}/stay", 3))))


@pytest.fixture(scope="module")
def cross(way):
    return crosswind(way)


@pytest.fixture(scope="module")
def sombras(cut):
    return way_in(arrival(cut("tres_sombras/stay", 3)))


def test_the_limit_from_where_it_blows_agrees_with_whether_she_is_kept_in_the_hours_wind(
    way, cross
):
    wind = way.arrival.wind
    felt = way.arrival.felt_mps(wind.mean_mps)
    assert (cross.most_there_mps >= wind.mean_mps) is keeps_her_way(
        way, swinging(way, felt, wind.from_rad)
    )


def test_with_a_thruster_she_is_held_in_no_less_wind(way, cross):
    if way.driven.thruster_n > 0.0:
        assert cross.most_thruster_mps >= cross.most_mps > 1.0
    else:
        assert math.isnan(cross.most_thruster_mps)


@pytest.mark.parametrize("off_deg", [4.0, 40.0, 90.0, -90.0, 140.0])
def test_a_thruster_never_lowers_the_wind_from_where_it_blows(sombras, off_deg):
    from_rad = sombras.arrival.way_in_rad + math.radians(off_deg)
    with_it = in_wind(sombras, 3.0, from_rad)
    alone = replace(with_it, driven=with_it.driven._replace(thruster_n=0.0))
    assert crosswind(with_it).most_there_mps >= 0.97 * crosswind(alone).most_there_mps


@pytest.mark.parametrize("bay", BAYS)
def test_a_mirrored_wind_is_met_as_well_by_a_boat_whose_stern_does_not_walk(cut, bay):
    stay = cut(f"{bay}/stay", 3)
    engine = replace(stay.boat.engine, walks_astern="no")
    hers = way_in(arrival(replace(stay, boat=replace(stay.boat, engine=engine, thruster=None))))
    found = []
    for side in (TO_WINDWARD, -TO_WINDWARD):
        one = crosswind(in_wind(hers, 3.0, hers.arrival.way_in_rad + side))
        assert one.from_right is (side > 0.0)
        found.append(one.most_mps)
    # the bed is not mirrored, and each limit is brought within six in a hundred
    assert found[0] == pytest.approx(found[1], rel=0.08)


@pytest.mark.parametrize("off_deg", [0.0, 180.0])
def test_a_wind_along_her_way_is_answered_too(way, off_deg):
    from_rad = way.arrival.way_in_rad + math.radians(off_deg)
    one = crosswind(in_wind(way, 4.0, from_rad))
    assert one.now_mps == pytest.approx(0.0, abs=1e-9)
    assert 0.0 < one.most_there_mps <= 20.0 and one.gives in ("helm", "angle")


def test_in_no_wind_at_all_she_is_held_and_the_limits_are_told(way):
    one = crosswind(in_wind(way, 0.0, way.arrival.way_in_rad + 0.3))
    assert one.now_mps == 0.0 and one.most_mps > 1.0 and one.most_there_mps > 1.0


# What goes on for minutes at metres to either side is weaving, whatever the wind: she once did.
def test_a_perfect_crew_does_not_weave_in_the_wind_of_the_hour(way):
    felt, from_rad = way.arrival.felt_mps(way.arrival.wind.mean_mps), way.arrival.wind.from_rad
    came = come_in(way, steady(felt, from_rad), ())
    assert came.most_across_m < 0.5 * ON_WAY_M
    marks = dict(came.marks)
    at = came.track[:, 0]
    laid = (at > marks["lay"]) & (at < marks["hold"])
    heads = np.unwrap(came.track[laid, 3])
    turned = np.diff(np.sign(np.diff(heads[:: 2 * 10])))
    assert np.ptp(heads) < math.radians(20.0) or np.count_nonzero(turned) <= 2


# Going astern helm to starboard takes her stern to starboard: as every handbook has it.
def test_the_helm_is_put_to_the_side_the_stern_is_to_go(way):
    calm = in_wind(way, 0.0, way.arrival.way_in_rad)
    calm = replace(calm, driven=calm.driven._replace(walk=0.0, thruster_n=0.0))
    steering = Steering(calm)
    head = calm.arrival.way_in_rad + math.pi + steering.off
    for turned in (0.05, -0.05):
        now = lying(calm, head + turned)
        helm = steering.orders(now, 0.0, 0.0, calm.speed_mps).helm_rad - steering.helm
        # her bow too far to starboard: stern to starboard brings it back
        assert math.copysign(1.0, helm) == math.copysign(1.0, turned)


def lying(way, heading_rad):
    """She goes astern along her way, bow as told, the roller on the line."""
    return Lying(
        0.0, 0.0, heading_rad, -way.speed_mps, 0.0, 0.0, 0.0, -0.2, 0.0, "stowed", (0.0, 0.0),
        0.0, 0.0, 0.0, 0.0, 0.0, (),
    )  # fmt: skip
