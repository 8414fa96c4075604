"""What is kept between two runs."""

import numpy as np

from shorefast.app.cache import kept


class Maker:
    """Makes an array and counts how often."""

    def __init__(self):
        self.times = 0

    def __call__(self):
        self.times += 1
        return {"level_m": np.linspace(-3.0, 1.0, 7) / 3.0}


def test_cold_and_warm_give_the_same_to_the_bit(tmp_path):
    make = Maker()
    cold = kept(tmp_path / "new", "surface", ("cove", 2.5), make)
    warm = kept(tmp_path / "new", "surface", ("cove", 2.5), make)
    assert make.times == 1
    assert cold["level_m"].tobytes() == warm["level_m"].tobytes()
    assert cold["level_m"].dtype == warm["level_m"].dtype


def test_another_input_is_another_answer(tmp_path):
    make = Maker()
    soundings = np.array([1.0, 2.0])
    for inputs in [("a", "bc"), ("ab", "c"), (soundings,), (soundings + 1.0,), (b"a", "bc")]:
        kept(tmp_path, "surface", inputs, make)
    assert make.times == 5


def test_a_damaged_file_is_made_anew(tmp_path):
    make = Maker()
    kept(tmp_path, "surface", ("cove",), make)
    (file,) = tmp_path.iterdir()
    file.write_bytes(file.read_bytes()[:40])
    kept(tmp_path, "surface", ("cove",), make)
    assert make.times == 2


def test_nothing_is_left_beside_the_kept_file(tmp_path):
    kept(tmp_path, "surface", ("cove",), Maker())
    assert [file.suffix for file in tmp_path.iterdir()] == [".npz"]


def test_a_folder_that_cannot_be_written_costs_only_time(tmp_path):
    in_the_way = tmp_path / "cache"
    in_the_way.write_text("a file, not a folder")
    make = Maker()
    assert kept(in_the_way, "surface", ("cove",), make).keys() == {"level_m"}
    assert make.times == 1
