"""Soundings of a run taken into a stay's bed: what counts, what changes, what is told."""

from dataclasses import replace
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from shorefast.bay import Soundings
from shorefast.errors import BadInput
from shorefast.readers import read_stay
from shorefast.stay import Run, take_in


@pytest.fixture(scope="module")
def stay():
    return read_stay(Path(str(resources.files("shorefast") / "demo" / "grey_notch" / "stay.toml")))


def _track(stay, up_m, count=40):
    """Soundings along a line out from the notch, some way above the bed as drawn."""
    along = np.linspace(30.0, 70.0, count)
    level = stay.bay.surface.level_at(along, along) + up_m
    return Soundings(along, along, level, np.full(count, 0.2))


def test_new_soundings_are_counted_and_the_bed_near_them_moves(stay):
    found = take_in(stay, [Run("run", _track(stay, 0.4))])
    assert (found.taken, found.known_before, found.outside) == (40, 0, 0)
    assert found.nodes_changed > 0 and 0.1 < found.rose_m < 0.6
    assert found.above_bed_m == pytest.approx(0.4) and not found.alike
    assert found.stay.bay.soundings.east_m.size == stay.bay.soundings.east_m.size + 40
    assert [one.value for one in found.stay.basis.inputs if "run" in one.name] == ["40 from run"]


def test_known_soundings_and_none_at_all_give_the_same_stay(stay):
    once = take_in(stay, [Run("run", _track(stay, 0.4))]).stay
    again = take_in(once, [Run("run", _track(stay, 0.4))])
    assert again.stay is once and (again.taken, again.known_before) == (0, 40)
    assert (again.nodes_changed, again.rose_m, again.fell_m) == (0, 0.0, 0.0)
    none = take_in(stay, [Run("run", Soundings(*np.empty((4, 0))))])
    assert none.stay is stay and none.taken == 0 and np.isnan(none.above_bed_m)


@pytest.mark.parametrize(("up_m", "way"), [(1.2, "under"), (-0.8, "over")])
def test_a_common_error_is_told_with_its_way(stay, up_m, way):
    found = take_in(stay, [Run("run", _track(stay, up_m))])
    said = [one.said for one in found.stay.basis.findings if one.where == "run"]
    assert said == [
        f"the run's depths lie {abs(up_m):.1f} m {way} the bed's all along (40 soundings):"
        " check tide, datum and the sounder's offset"
    ]


def _sideways(track, off_m):
    return replace(track, east_m=track.east_m + off_m)


def test_a_run_that_is_off_is_told_by_name_beside_a_good_one(stay):
    good, off = _track(stay, 0.0), _track(stay, 1.2)
    found = take_in(stay, [Run("good.log", _sideways(good, 1e-6)), Run("off.log", off)])
    said = [(one.where, one.said) for one in found.stay.basis.findings if ".log" in one.where]
    assert said == [
        (
            "off.log",
            "the run's depths lie 1.2 m under the bed's all along (40 soundings):"
            " check tide, datum and the sounder's offset",
        )
    ]
    assert found.alike and [one.alike for one in found.runs] == [False, True]
    assert [one.above_bed_m for one in found.runs] == pytest.approx([0.0, 1.2], abs=1e-3)
    values = {one.value for one in found.stay.basis.inputs if "run" in one.name}
    assert values == {"40 from good.log", "40 from off.log"}


def test_a_run_copied_under_another_name_counts_once(stay):
    track = _track(stay, 0.4)
    found = take_in(stay, [Run("one.log", track), Run("two.log", track)])
    assert [(one.taken, one.known_before) for one in found.runs] == [(40, 0), (0, 40)]


def test_a_run_outside_is_told_beside_one_inside(stay):
    grid = stay.bay.surface.grid
    east_m = grid.west_m + (grid.level_m.shape[1] - 1) * grid.step_m + 250.0
    inside = _track(stay, 0.4)
    outside = replace(inside, east_m=np.full(40, east_m))
    found = take_in(stay, [Run("in.log", inside), Run("out.log", outside)])
    assert (found.taken, found.outside) == (40, 40)
    said = [one.said for one in found.stay.basis.findings if one.where == "out.log"]
    assert said == ["all 40 soundings lie outside the bay, the nearest 250 m off"]
    with pytest.raises(BadInput) as refused:
        take_in(stay, [Run("a.log", outside), Run("b.log", outside)])
    assert refused.value.where == "a.log and b.log"


def test_where_the_bed_came_up_most_and_what_is_newly_known_is_told(stay):
    hump = Soundings(*(np.array([x]) for x in (50.0, 50.0, 0.0, 0.2)))
    hump = replace(hump, level_m=stay.bay.surface.level_at(hump.east_m, hump.north_m) + 3.0)
    found = take_in(stay, [Run("run", hump)])
    assert found.rose_m > 1.0
    assert np.hypot(found.rose_at_m[0] - 50.0, found.rose_at_m[1] - 50.0) < 3.0
    assert found.newly_known_m2 == 0.0
    grid = stay.bay.surface.grid
    row, column = np.argwhere(np.isnan(grid.level_m))[0]
    blind = (grid.west_m + column * grid.step_m, grid.south_m + row * grid.step_m)
    new = Soundings(*(np.array([x]) for x in (*blind, -6.0, 0.2)))
    known = take_in(stay, [Run("run", new)])
    after = known.stay.bay.surface.grid
    assert known.newly_known_m2 > 0.0 and np.isfinite(after.level_m[row, column])


def test_a_hump_or_a_few_soundings_are_no_common_error(stay):
    hump = _track(stay, np.where(np.arange(40) < 20, 3.0, 0.0))
    assert not take_in(stay, [Run("run", hump)]).alike
    assert not take_in(stay, [Run("run", _track(stay, 1.2, count=12))]).alike


def test_those_outside_are_counted_and_all_of_them_refused(stay):
    some = _track(stay, 0.4)
    some = replace(some, east_m=np.where(np.arange(40) < 10, 5_000.0, some.east_m))
    found = take_in(stay, [Run("run", some)])
    assert (found.taken, found.outside) == (30, 10)
    grid = stay.bay.surface.grid
    east_m = grid.west_m + (grid.level_m.shape[1] - 1) * grid.step_m + 250.0
    with pytest.raises(BadInput) as refused:
        take_in(stay, [Run("run.log", replace(some, east_m=np.full(40, east_m)))])
    assert refused.value.sentence == (
        "run.log: all 40 soundings lie outside the bay, the nearest 250 m off, a run in this bay"
        " wanted. Name another log, or check the bay's lat_deg and lon_deg."
    )


def test_what_was_said_of_the_old_bed_makes_room(stay):
    spike = Soundings(*(np.array([x]) for x in (60.0, 60.0, -3.0, 0.2)))
    found = take_in(stay, [Run("run", spike)]).stay
    rocks = [one.said for one in found.basis.findings if "kept as a rock" in one.said]
    assert len(rocks) == 1
    assert rocks != [one.said for one in stay.basis.findings if "kept as a rock" in one.said]
