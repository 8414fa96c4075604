"""A text file that is none."""

import pytest

from shorefast.errors import BadInput, Unreadable
from shorefast.readers.text_file import read_text


def _said(path):
    with pytest.raises((BadInput, Unreadable)) as told:
        read_text(path, "a stay file")
    return told.value.sentence


def test_a_mark_of_byte_order_is_passed_over(tmp_path):
    (tmp_path / "stay.toml").write_bytes(b"\xef\xbb\xbfboat = 1")
    assert read_text(tmp_path / "stay.toml", "a stay file") == "boat = 1"


def test_a_file_that_is_not_there_is_answered(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    path = (tmp_path / "stay.toml").relative_to(tmp_path)
    assert _said(path) == "stay.toml: no such file, a stay file wanted. Correct the path."


def test_a_folder_is_answered(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "cove").mkdir()
    path = (tmp_path / "cove").relative_to(tmp_path)
    assert _said(path) == "cove: a folder, a stay file wanted. Name the file in it."


def test_a_picture_is_answered(tmp_path):
    (tmp_path / "stay.toml").write_bytes(b"\x89PNG\r\n")
    assert _said(tmp_path / "stay.toml") == (
        "stay.toml: no UTF-8 text at byte 0, a stay file wanted. "
        "Save it as UTF-8, or name the right file."
    )


def test_a_film_is_answered(tmp_path):
    with (tmp_path / "stay.toml").open("wb") as film:
        film.truncate(700_000_000)
    assert _said(tmp_path / "stay.toml") == (
        "stay.toml: 700 MB, a stay file wanted. Name the right file."
    )
