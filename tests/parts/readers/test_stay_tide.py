"""The tide of a stay file: kinds of file, the weather's part, and what does not fit."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from shorefast.errors import BadInput
from shorefast.readers import parse_toml, read_tide
from shorefast.readers.stay_tide import read_tide_told, water_of

FILES = Path(__file__).parents[2] / "files" / "tide"
HOURS = (datetime(2015, 1, 10, tzinfo=UTC), datetime(2015, 1, 12, tzinfo=UTC))
TABLE = "time_utc,height_m\n2015-01-09T00:00:00Z,1.0\n2015-01-13T00:00:00Z,2.0\n"
STATION = 'file = "two_stations.json"\nstation = "Seattle"\nunit = "m"\n'
SEEN = 'file = "seattle_hourly_201501.json"\nunit = "m"\nutc_offset_h = 0\ndatum = "MLLW"\n'


def water(folder, text):
    table = parse_toml(f"[tide]\n{text}", "stay.toml").need_table("tide")
    told = read_tide_told(table, lambda one: folder / one.need_text("file"))
    table.refuse_unknown()
    return water_of(told, HOURS, "stay.toml")


@pytest.fixture
def csv_folder(tmp_path):
    (tmp_path / "tide.csv").write_text(TABLE, encoding="utf-8")
    return tmp_path


def said(level):
    return [one.said for one in level.basis.assumptions]


def test_low_pressure_lifts_a_table_and_a_prediction_alike(csv_folder):
    for folder, text in ((csv_folder, 'file = "tide.csv"\n'), (FILES, STATION)):
        plain, lifted = water(folder, text), water(folder, text + "pressure_hpa = 983.25\n")
        # 30 hPa at 0.993 cm
        np.testing.assert_allclose(lifted.height_m - plain.height_m, 0.298, atol=0.001)
        assert (
            "At 983.25 hPa the water stands 0.30 m above its tide, 1 cm a hectopascal, throughout"
        ) in said(lifted)
        assert "pugh-1987" in lifted.basis.sources


def test_high_pressure_is_told_as_below(csv_folder):
    lowered = water(csv_folder, 'file = "tide.csv"\npressure_hpa = 1033.25\n')
    assert lowered.height_m[0] == pytest.approx(0.801, abs=0.001)
    assert "At 1033.25 hPa the water stands 0.20 m below its tide" in said(lowered)[-1]


def test_a_surge_told_is_put_on_the_tide_and_said(csv_folder):
    lifted = water(csv_folder, 'file = "tide.csv"\nsurge_ft = 1\n')
    np.testing.assert_allclose(lifted.height_m, [1.3048, 2.3048])
    assert said(lifted)[-1] == "The weather moves the water by +0.30 m throughout."
    assert ("surge", "+0.30 m on the tide", "stay.toml") in [
        (one.name, one.value, one.said_by) for one in lifted.basis.inputs
    ]


def test_a_table_without_weather_is_the_table(csv_folder):
    plain = water(csv_folder, 'file = "tide.csv"\n')
    np.testing.assert_array_equal(plain.height_m, read_tide(csv_folder / "tide.csv").height_m)


def test_observed_heights_serve_a_stay(csv_folder):
    assert water(FILES, SEEN).height_m.size == 361


AT = "stay.toml, line 1, [tide]"
REFUSED = {
    "both": (
        'file = "tide.csv"\npressure_hpa = 990\nsurge_m = 0.2\n',
        "stay.toml, line 3, [tide] pressure_hpa: both surge and pressure_hpa, one of them wanted."
        " Give the surge if it is forecast: the pressure is part of it.",
    ),
    "no such air": (
        'file = "tide.csv"\npressure_hpa = 99000\n',
        "stay.toml, line 3, [tide] pressure_hpa: 99000, 850 to 1090 hPa wanted. Correct it.",
    ),
    "a level with a surge": (
        "level_m = 1\nsurge_m = 0.2\n",
        f"{AT}: one level with surge or pressure, a level told is the whole level."
        " Add the weather's part to it.",
    ),
    "a table with a station": (
        'file = "tide.csv"\nstation = "Seattle"\n',
        "stay.toml, line 3, [tide] station: station, only a JSON file of a tide station has a use"
        " for it. Take it out.",
    ),
    "no such clock": (
        'file = "tide.csv"\nutc_offset_h = 1500\n',
        "stay.toml, line 3, [tide] utc_offset_h: 1500, -14 to 14 hours wanted. Correct it.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_does_not_fit_is_refused(csv_folder, case):
    text, sentence = REFUSED[case]
    with pytest.raises(BadInput) as refused:
        water(csv_folder, text)
    assert refused.value.sentence == sentence


def test_what_was_observed_has_its_weather_in_it():
    with pytest.raises(BadInput) as refused:
        water(FILES, SEEN + "surge_m = 0.3\n")
    assert refused.value.sentence == (
        f"{AT}: surge or pressure beside observed heights, what was observed has the weather in"
        " it. Take them out."
    )
