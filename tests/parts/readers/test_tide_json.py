"""Stations' constants and observed heights from JSON."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from shorefast.errors import ShorefastError
from shorefast.readers import TideAsked, read_tide_json

FILES = Path(__file__).parents[2] / "files" / "tide"
FROM, UNTIL = datetime(2015, 1, 10, tzinfo=UTC), datetime(2015, 1, 12, tzinfo=UTC)


def asked(**told):
    return TideAsked(FROM, UNTIL, "stay.toml, line 9, [tide]", **told)


def written(folder, tree, name="tide.json"):
    path = folder / name
    path.write_text(tree if isinstance(tree, str) else json.dumps(tree), encoding="utf-8")
    return path


def heights(*values, times=None):
    times = times or [f"2015-01-01 {hour:02d}:00" for hour in range(len(values))]
    return {"data": [{"t": t, "v": v} for t, v in zip(times, values, strict=True)]}


def one(**changed):
    part = {"name": "M2", "amplitude": 1.0, "phase": 90.0}
    station = {
        "name": "Head", "id": "x/7", "latitude": 50.0, "units": "metres", "chart_datum": "LAT",
        "datums": {"MSL": 3.0, "LAT": 1.0}, "harmonic_constituents": [part],
    }  # fmt: skip
    return [{**station, **changed}]


def inputs(water):
    return [(one.name, one.value) for one in water.basis.inputs]


def test_a_station_is_predicted_over_the_stay_and_an_hour_to_either_side():
    water, observed = read_tide_json(
        FILES / "two_stations.json", asked(station="seattle", unit="m")
    )
    assert not observed
    assert [str(at) for at in water.time_utc[[0, -1]]] == [
        "2015-01-09T23:00:00", "2015-01-12T01:00:00"
    ]  # fmt: skip
    assert inputs(water) == [
        ("tide", "Seattle, 37 constituents"),
        ("mean water", "2.02 m above chart datum (MSL above MLLW)"),
    ]
    assert water.basis.assumptions[0].said == (
        "The water is the tide alone, predicted from the constants of Seattle (arguments of the"
        " printed table)"
    )


def test_the_same_station_in_feet_and_in_metres_has_one_tide():
    metres, _ = read_tide_json(FILES / "two_stations.json", asked(station="9447130", unit="m"))
    feet, _ = read_tide_json(FILES / "seattle_in_feet.json", asked(datum="MLLW"))
    # constants in feet are printed to 0.01 ft, 3 mm each
    np.testing.assert_allclose(feet.height_m, metres.height_m, atol=0.02)


def test_parts_the_table_lacks_are_asked_of_the_library_and_strange_ones_told():
    water, _ = read_tide_json(FILES / "two_stations.json", asked(station="Bergen", unit="m"))
    assert inputs(water)[0] == ("tide", "Bergen, 54 constituents")
    assert [found.said for found in water.basis.findings] == [
        "parts of the tide not known here and left out: M(KS)2 (0.2 cm)"
    ]
    assert water.basis.assumptions[0].said.endswith("of Bergen (arguments by utide)")


def test_a_mean_level_told_stands_for_the_datums(tmp_path):
    water, _ = read_tide_json(
        written(tmp_path, one(datums={}, chart_datum=None)), asked(mean_level_m=2.5)
    )
    assert inputs(water)[1] == (
        "mean water", "2.50 m above chart datum (told in the stay file)"
    )  # fmt: skip
    assert water.height_m.mean() == pytest.approx(2.5, abs=0.05)


def test_observed_heights_in_quotes_are_read_on_their_own_clock(tmp_path):
    path = written(tmp_path, heights("1.5", "", "-0.25", "0.1"))
    water, observed = read_tide_json(path, asked(unit="m", utc_offset_h=-8, datum="MLLW"))
    assert observed
    assert str(water.time_utc[0]) == "2015-01-01T08:00:00"
    np.testing.assert_array_equal(water.height_m, [1.5, np.nan, -0.25, 0.1])
    assert [found.said for found in water.basis.findings] == ["height unknown in 1 of 4 rows"]
    assert inputs(water) == [("tide", "4 observed heights above MLLW")]


def test_observed_heights_in_feet_come_in_metres():
    told = {"unit": "m", "utc_offset_h": 0, "datum": "MLLW"}
    metres, _ = read_tide_json(FILES / "seattle_hourly_201501.json", asked(**told))
    feet, _ = read_tide_json(FILES / "seattle_hourly_201501.json", asked(**{**told, "unit": "ft"}))
    np.testing.assert_allclose(feet.height_m, 0.3048 * metres.height_m)


AT = "stay.toml, line 9, [tide]"
BOTH = "constants of tide stations or a row of observed heights wanted"
OBSERVED = {"unit": "m", "utc_offset_h": 0, "datum": "MLLW"}
REFUSED = {
    "empty": ("", {}, f"tide.json: it is empty, {BOTH}. Name another file."),
    "broken": (
        "{", {},
        "tide.json, line 1: broken JSON (Expecting property name enclosed in double quotes), "
        f"{BOTH}. Export it again.",
    ),
    "nested without end": (
        "[" * 200_000, {}, f"tide.json: broken JSON (nested too deep), {BOTH}. Export it again.",
    ),
    "of another kind": (
        {"waves": 3}, {},
        f"tide.json: no station with constants in it, {BOTH}. Name another file.",
    ),
    "an amplitude that is none": (
        one(harmonic_constituents=[{"name": "M2", "amplitude": "much", "phase": 1}]), {},
        "tide.json, Head: amplitude is 'much', a number wanted. Export it again.",
    ),
    "a station with nothing": (
        one(name="", latitude=None), {},
        "tide.json, a station without a name: latitude is None, a number wanted."
        " Export it again.",
    ),
    "fathoms": (
        one(units="fathoms"), {},
        "tide.json, Head: the unit 'fathoms', metres or feet wanted. Export it again.",
    ),
    "two units": (
        one(units="feet", datums={"units": "m", "datums": [{"name": "MSL", "value": 1}]}), {},
        "tide.json, Head: constants and datums in different units (ft and m), one unit wanted."
        " Export it again in one unit.",
    ),
    "no unit": (
        one(units=None), {},
        f"{AT}: tide.json does not say its unit, metres or feet wanted. "
        'Add unit = "m" or unit = "ft".',
    ),
    "the other unit": (
        one(), {"unit": "ft"},
        f"{AT}: unit 'ft', tide.json itself says m. Take the unit out: the file's own counts.",
    ),
    "no chart datum": (
        one(chart_datum=None), {},
        f"{AT}: tide.json does not say which of its datums the chart has, one of LAT, MSL wanted."
        ' Add datum = "...", or mean_level_m: the mean water above chart datum.',
    ),
    "a datum not there": (
        one(), {"datum": "MLLW"},
        f"{AT}: no datum MLLW in tide.json, it has LAT, MSL."
        " Name another, or give mean_level_m: the mean water above chart datum.",
    ),
    "which of two": (
        one() + one(name="Sound"), {},
        f"{AT}: 2 stations in tide.json, one of Head, Sound wanted."
        ' Add station = "..." to [tide].',
    ),
    "a station not there": (
        one(), {"station": "Foot"},
        f"{AT}: no station 'Foot' in tide.json, it has Head. Name one of them.",
    ),
    "observed, no unit": (
        heights("1", "2"), {},
        f"{AT}: tide.json does not say its unit, metres or feet wanted. "
        'Add unit = "m" or unit = "ft".',
    ),
    "observed, no clock": (
        heights("1", "2"), {"unit": "m"},
        f"{AT}: tide.json does not say its clock, its hours ahead of UTC wanted. "
        "Add utc_offset_h = 0 where it counts in UTC.",
    ),
    "observed, no datum": (
        heights("1", "2"), {"unit": "m", "utc_offset_h": 0},
        f"{AT}: tide.json does not say from which datum it counts, heights above chart datum"
        ' wanted. Add datum = "..." with the name of chart datum if that is what it counts from.',
    ),
    "observed, with a station": (
        heights("1", "2"), {**OBSERVED, "station": "Head"},
        f"{AT}: station or mean_level_m, tide.json holds one row of observed heights."
        " Take them out.",
    ),
    "observed, a time that is none": (
        heights("1", "2", times=["2015-01-01 00:00", "noon"]), OBSERVED,
        "tide.json, height 2: the time 'noon', a time wanted, like 2015-01-31 06:12."
        " Export it again.",
    ),
    "observed, with zones": (
        heights("1", times=["2015-01-01T00:00:00Z"]), OBSERVED,
        "tide.json, height 1: the time '2015-01-01T00:00:00Z' with a zone of its own, times"
        " without one wanted. Export it again, or as CSV.",
    ),
    "observed, no number": (
        heights("1", "high"), OBSERVED,
        "tide.json, height 2: 'high', -30 to 30 m wanted. Export it again.",
    ),
    "observed, once": (
        heights("1"), OBSERVED,
        "tide.json: 1 heights, at least two wanted, one known. Name another file.",
    ),
    "observed, back in time": (
        heights("1", "2", times=["2015-01-01 06:00", "2015-01-01 06:00"]), OBSERVED,
        "tide.json, height 2: 2015-01-01 06:00 after 2015-01-01 06:00, times rise."
        " Export it again.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_a_tide_file_that_cannot_be_so_is_refused(tmp_path, case):
    tree, told, sentence = REFUSED[case]
    with pytest.raises(ShorefastError) as refused:
        read_tide_json(written(tmp_path, tree), asked(**told))
    assert refused.value.sentence == sentence
