"""Files of the HDF5 kind on which the library breaks or comes to no end."""

from __future__ import annotations

from pathlib import Path

import pytest

from shorefast.errors import Unreadable
from shorefast.readers import hdf5_whole
from shorefast.readers.hdf5_whole import check_hdf5

FILES = Path(__file__).parents[2] / "files" / "bay"
WANTED = "a NetCDF grid of depths wanted"


def test_a_good_file_and_one_of_another_kind_pass(tmp_path):
    check_hdf5(FILES / "howe_sound_curved.nc", WANTED)
    other = tmp_path / "a.nc"
    other.write_bytes(b"CDF\x01")
    check_hdf5(other, WANTED)


def test_a_file_without_end_is_given_up(monkeypatch):
    monkeypatch.setattr(hdf5_whole, "_LONGEST_S", 1.0)
    with pytest.raises(Unreadable) as said:
        check_hdf5(FILES / "hdf5_without_end.nc", WANTED)
    assert str(said.value) == (
        "hdf5_without_end.nc: it is damaged: the HDF5 library comes to no end with it, "
        "a NetCDF grid of depths wanted. Fetch the file again."
    )


def test_a_file_that_breaks_the_library_breaks_nothing_else(monkeypatch):
    monkeypatch.setattr(hdf5_whole, "_TRY", "import os\nos.abort()")
    with pytest.raises(Unreadable) as said:
        check_hdf5(FILES / "howe_sound_curved.nc", WANTED)
    assert str(said.value) == (
        "howe_sound_curved.nc: it is damaged: the HDF5 library breaks on it, "
        "a NetCDF grid of depths wanted. Fetch the file again."
    )


def test_what_the_library_can_name_itself_is_left_to_it(tmp_path):
    cut = tmp_path / "cut.nc"
    cut.write_bytes((FILES / "howe_sound_curved.nc").read_bytes()[:3000])
    check_hdf5(cut, WANTED)
