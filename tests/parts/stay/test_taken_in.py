"""Soundings of a run taken into a stay's bed: what counts, what changes, what is told."""

from dataclasses import replace
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from shorefast.bay import Soundings
from shorefast.errors import BadInput
from shorefast.readers import read_stay
from shorefast.stay import take_in


@pytest.fixture(scope="module")
def stay():
    return read_stay(Path(str(resources.files("shorefast") / "demo" / "grey_notch" / "stay.toml")))


def _track(stay, up_m, count=40):
    """Soundings along a line out from the notch, some way above the bed as drawn."""
    along = np.linspace(30.0, 70.0, count)
    level = stay.bay.surface.level_at(along, along) + up_m
    return Soundings(along, along, level, np.full(count, 0.2))


def test_new_soundings_are_counted_and_the_bed_near_them_moves(stay):
    found = take_in(stay, _track(stay, 0.4), "run")
    assert (found.taken, found.known_before, found.outside) == (40, 0, 0)
    assert found.nodes_changed > 0 and 0.1 < found.rose_m < 0.6
    assert found.above_bed_m == pytest.approx(0.4) and not found.alike
    assert found.stay.bay.soundings.east_m.size == stay.bay.soundings.east_m.size + 40
    assert [one.value for one in found.stay.basis.inputs if "run" in one.name] == ["40 from run"]


def test_known_soundings_and_none_at_all_give_the_same_stay(stay):
    once = take_in(stay, _track(stay, 0.4), "run").stay
    again = take_in(once, _track(stay, 0.4), "run")
    assert again.stay is once and (again.taken, again.known_before) == (0, 40)
    assert (again.nodes_changed, again.rose_m, again.fell_m) == (0, 0.0, 0.0)
    none = take_in(stay, Soundings(*np.empty((4, 0))), "run")
    assert none.stay is stay and none.taken == 0 and np.isnan(none.above_bed_m)


@pytest.mark.parametrize(("up_m", "way"), [(1.2, "under"), (-0.8, "over")])
def test_a_common_error_is_told_with_its_way(stay, up_m, way):
    found = take_in(stay, _track(stay, up_m), "run")
    said = [one.said for one in found.stay.basis.findings if one.where == "run"]
    assert said == [
        f"the run's depths lie {abs(up_m):.1f} m {way} the bed's all along (40 soundings):"
        " check tide, datum and the sounder's offset"
    ]


def test_a_hump_or_a_few_soundings_are_no_common_error(stay):
    hump = _track(stay, np.where(np.arange(40) < 20, 3.0, 0.0))
    assert not take_in(stay, hump, "run").alike
    assert not take_in(stay, _track(stay, 1.2, count=12), "run").alike


def test_those_outside_are_counted_and_all_of_them_refused(stay):
    some = _track(stay, 0.4)
    some = replace(some, east_m=np.where(np.arange(40) < 10, 5_000.0, some.east_m))
    found = take_in(stay, some, "run")
    assert (found.taken, found.outside) == (30, 10)
    grid = stay.bay.surface.grid
    east_m = grid.west_m + (grid.level_m.shape[1] - 1) * grid.step_m + 250.0
    with pytest.raises(BadInput) as refused:
        take_in(stay, replace(some, east_m=np.full(40, east_m)), "run.log")
    assert refused.value.sentence == (
        "run.log: all 40 soundings lie outside the bay, the nearest 250 m off, a run in this bay"
        " wanted. Name another log, or check the bay's lat_deg and lon_deg."
    )


def test_what_was_said_of_the_old_bed_makes_room(stay):
    spike = Soundings(*(np.array([x]) for x in (60.0, 60.0, -3.0, 0.2)))
    found = take_in(stay, spike, "run").stay
    rocks = [one.said for one in found.basis.findings if "kept as a rock" in one.said]
    assert len(rocks) == 1
    assert rocks != [one.said for one in stay.basis.findings if "kept as a rock" in one.said]
