"""Depth surfaces kept between runs: the same to the bit, and never in the way."""

from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import box

import shorefast.readers.drawn_before as drawn_before
from shorefast.bay import Bounds, Soundings, add_soundings, fit_surface
from shorefast.readers.drawn_before import KEPT, surface_of

BOX = Bounds(-10.0, -10.0, 60.0, 60.0)


def _soundings(seed=1, count=120):
    dice = np.random.default_rng(seed)
    east, north = dice.uniform(-5.0, 55.0, (2, count))
    return Soundings(east, north, -5.0 - 0.2 * north, np.full(count, 0.1))


@pytest.fixture
def kept(tmp_path, monkeypatch):
    monkeypatch.setenv("SHOREFAST_CACHE", str(tmp_path))
    return tmp_path / "surfaces"


def _refuse(*given, **named):
    raise AssertionError("drawn a second time")


def _same(one, other):
    return all(
        np.array_equal(a, b, equal_nan=True)
        for a, b in zip(one.grid[3:], other.grid[3:], strict=True)
    )


def test_the_second_time_nothing_is_drawn_and_all_is_the_same(kept, monkeypatch):
    given = (_soundings(), BOX, box(-10.0, 50.0, 60.0, 60.0), None, None)
    first = surface_of(*given)
    monkeypatch.setattr(drawn_before, "fit_surface", _refuse)
    again = surface_of(*given)
    assert _same(first, again) and first.basis == again.basis
    plain = fit_surface(given[0], bounds=BOX, land=given[2])
    assert _same(plain, again)
    new = _soundings(2, 9)
    assert _same(add_soundings(first, new), add_soundings(again, new))


@pytest.mark.parametrize("changed", ["level", "deviation", "box", "land", "unsounded"])
def test_anything_that_went_in_changes_what_comes_out(kept, changed):
    soundings = _soundings()
    before = surface_of(soundings, BOX, None, None, None)
    level, deviation = soundings.level_m.copy(), soundings.deviation_m.copy()
    level[3] += changed == "level"
    deviation[3] += changed == "deviation"
    other = Soundings(soundings.east_m, soundings.north_m, level, deviation)
    bounds = Bounds(-10.0, -10.0, 60.0, 62.0) if changed == "box" else BOX
    land = box(-10.0, 30.0, 60.0, 60.0) if changed == "land" else None
    unsounded = box(10.0, 10.0, 20.0, 20.0) if changed == "unsounded" else None
    after = surface_of(other, bounds, land, None, unsounded)
    assert len(list(kept.glob("*.pickle"))) == 2
    assert before.grid.level_m.shape != after.grid.level_m.shape or not _same(before, after)


@pytest.mark.parametrize("damage", [b"", b"\x80\x05garbage", b"cos\nnothing\n."])
def test_what_was_kept_and_is_damaged_is_drawn_anew(kept, damage):
    given = (_soundings(), BOX, None, None, None)
    first = surface_of(*given)
    (one,) = kept.glob("*.pickle")
    one.write_bytes(damage)
    assert _same(first, surface_of(*given))
    assert one.stat().st_size > 1000


def test_where_nothing_can_be_kept_it_is_drawn_all_the_same(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("SHOREFAST_CACHE", str(tmp_path / "file"))
    given = (_soundings(), BOX, None, None, None)
    assert _same(surface_of(*given), surface_of(*given))


def test_only_so_many_are_kept(kept):
    for seed in range(KEPT + 3):
        surface_of(_soundings(seed, 8), BOX, None, None, None)
    assert len(list(kept.iterdir())) == KEPT
