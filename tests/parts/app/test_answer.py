"""An answer as JSON."""

import json
import math
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pytest

from shorefast.app.answer import Answer, error_to_json, to_json
from shorefast.basis import Assumption, Basis, Finding, Input
from shorefast.errors import BadInput


def _json(**keys):
    return json.loads(to_json(Answer("judge", keys, Basis(), "")))


def test_the_first_keys_say_what_it_is_and_what_it_rests_on():
    basis = Basis(
        inputs=(Input("draught", "2.1 m", "boat.toml"),),
        assumptions=(Assumption("The gust is steady.", "Peaks are understated."),),
        sources=("irvine-1981",),
        findings=(Finding("wind.csv", "2 rows left out"),),
    )
    told = json.loads(to_json(Answer("judge", {"verdict": "holds"}, basis, "")))
    assert list(told) == ["schema", "version", "basis", "findings", "verdict"]
    assert told["schema"] == "shorefast/judge/1"
    assert told["basis"] == {
        "inputs": [{"name": "draught", "value": "2.1 m", "said_by": "boat.toml"}],
        "assumptions": [{"said": "The gust is steady.", "if_wrong": "Peaks are understated."}],
        "sources": ["irvine-1981"],
    }
    assert told["findings"] == [{"where": "wind.csv", "said": "2 rows left out"}]


def test_what_nobody_knows_is_null_at_any_depth():
    told = _json(a=math.nan, b=[1.0, math.inf], c=np.array([[1.0, np.nan]]), d=np.float64("nan"))
    assert (told["a"], told["b"], told["c"], told["d"]) == (None, [1.0, None], [[1.0, None]], None)


def test_times_are_utc_and_end_in_z():
    there = datetime(2026, 7, 1, 23, 40, tzinfo=timezone(timedelta(hours=2)))
    assert _json(at_utc=there)["at_utc"] == "2026-07-01T21:40:00Z"
    assert _json(at_utc=datetime(2026, 7, 1, tzinfo=UTC))["at_utc"] == "2026-07-01T00:00:00Z"
    times = np.array(["2026-07-01T21:40", "NaT"], "datetime64[m]")
    assert _json(time_utc=times)["time_utc"] == ["2026-07-01T21:40:00Z", None]


def test_numpy_and_paths_become_plain():
    told = _json(member=np.array([0, 7]), ok=np.bool_(True), n=np.int64(3), file=Path("a/b.csv"))
    assert told["member"] == [0, 7]
    assert (told["ok"], told["n"], told["file"]) == (True, 3, str(Path("a/b.csv")))


def test_what_has_no_form_in_json_is_our_mistake_and_told():
    with pytest.raises(TypeError, match="object has no form in JSON"):
        _json(odd=object())


def test_it_is_one_line():
    assert "\n" not in to_json(Answer("judge", {"sentence": "one\ntwo"}, Basis(), ""))


def test_an_error_carries_its_four_texts_and_the_sentence():
    error = BadInput("Rode 1", "40 m asked", "35 m aboard", "Give 35 m or less.")
    assert json.loads(error_to_json(error)) == {
        "schema": "shorefast/error/1",
        "kind": "BadInput",
        "where": "Rode 1",
        "got": "40 m asked",
        "against": "35 m aboard",
        "way_out": "Give 35 m or less.",
        "sentence": "Rode 1: 40 m asked, 35 m aboard. Give 35 m or less.",
    }
