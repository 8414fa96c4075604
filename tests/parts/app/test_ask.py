"""Questions asked from Python."""

import pickle

import pytest

import shorefast
import shorefast.weather
from shorefast.app.ask import COMMANDS


def test_every_command_is_a_function_of_the_library():
    assert set(COMMANDS) <= set(shorefast.__all__)
    assert all(callable(getattr(shorefast, name)) for name in COMMANDS)


def test_a_name_that_is_no_question_is_none():
    with pytest.raises(AttributeError, match="module 'shorefast' has no attribute 'lurk'"):
        shorefast.lurk  # noqa: B018 (looking it up is the test)


def test_a_package_with_a_command_s_name_is_both(tmp_path):
    (tmp_path / "wind.csv").write_text(
        "time_utc,wind_mps,gust_mps,from_deg\n2026-07-01T12:00:00Z,5,8,270\n", encoding="utf-8"
    )
    answer = shorefast.weather([str(tmp_path / "wind.csv")], 47.5, -40.0)
    assert answer.keys["gust_mps"].tolist() == [[8.0]]
    assert shorefast.weather.Wind.__name__ == "Wind"


def test_types_of_such_a_package_can_still_be_kept():
    assert pickle.loads(pickle.dumps(shorefast.weather.Wind)) is shorefast.weather.Wind
