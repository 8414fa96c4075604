"""How far a charted depth may be out, and when a charted rule is in force."""

from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
import pytest

from shorefast.readers import read_chart
from shorefast.readers.chart_codes import codes_of, meaning
from shorefast.readers.chart_dates import day_span, day_told, force_of, season_of
from shorefast.readers.chart_quality import deviation_of_m
from shorefast.readers.depths import Told

CELL = Path(__file__).parents[2] / "files" / "charts" / "ZZ5COVE1.000"


# IHO S-57, attribute CATZOC, table of depth accuracy by depth, from memory. The table holds at
# 95 %, 1.96 standard deviations; it prints 0.1 m.
@pytest.mark.parametrize(
    ("zone", "depth_m", "printed_m"),
    [
        (1, 10, 0.6), (1, 30, 0.8), (1, 100, 1.5), (1, 1000, 10.5),
        (2, 10, 1.2), (2, 30, 1.6), (2, 100, 3.0), (2, 1000, 21.0),
        (3, 10, 1.2), (3, 30, 1.6), (3, 100, 3.0), (3, 1000, 21.0),
        (4, 10, 2.5), (4, 30, 3.5), (4, 100, 7.0), (4, 1000, 52.0),
    ],
)  # fmt: skip
def test_depths_are_as_good_as_the_table_of_confidence_prints(zone, depth_m, printed_m):
    deviation = deviation_of_m(zone, np.array([float(depth_m)]))
    assert 1.96 * deviation[0] == pytest.approx(printed_m, abs=0.05)


def test_unassessed_waters_are_worse_than_the_worst_printed():
    depth = np.array([0.0, 10.0, 50.0])
    for zone in (5, 6):
        assert (deviation_of_m(zone, depth) > deviation_of_m(4, depth)).all()


def test_a_sounding_is_as_good_as_the_waters_it_lies_in():
    chart = read_chart(CELL, Told())
    part = chart.part(0, chart.soundings)
    deep = part.lat_deg < 59.5028
    # South of the first contour the chart says A1, north of it C.
    assert 1.96 * part.deviation_m[deep] == pytest.approx(0.5 - 0.01 * part.level_m[deep])
    north = part.lat_deg > 59.5032
    wet = np.maximum(-part.level_m[north], 0.0)
    assert 1.96 * part.deviation_m[north] == pytest.approx(2.0 + 0.05 * wet)


def test_a_contour_is_doubted_twice_as_much():
    chart = read_chart(CELL, Told())
    lines = chart.part(chart.soundings, chart.soundings + chart.contours)
    five = lines.level_m == -5.0
    assert lines.deviation_m[five] * 1.96 / 2.0 == pytest.approx(2.0 + 0.05 * 5.0)


def test_a_deviation_told_is_believed_instead():
    told = read_chart(CELL, Told(deviation_m=0.3)).depths
    assert set(told.deviation_m) == {0.3}


def test_what_the_quality_means_is_said():
    notes = read_chart(CELL, Told()).depths.notes
    assert notes[:2] == (
        "zone of confidence A1 under 47 % of its soundings: 19 of 20 depths to 0.5 m and 1 %, "
        "places to 5 m",
        "zone of confidence C under 53 % of its soundings: 19 of 20 depths to 2 m and 5 %, "
        "places to 500 m",
    )


def test_days_of_force_are_whole_days():
    says = {"DATSTA": "20260501", "DATEND": "20260930"}
    assert force_of(says) == (datetime(2026, 5, 1, tzinfo=UTC), datetime(2026, 10, 1, tzinfo=UTC))
    assert force_of({"DATEND": "202602"}) == (None, datetime(2026, 3, 1, tzinfo=UTC))
    assert force_of({"DATSTA": "2026", "DATEND": ""}) == (datetime(2026, 1, 1, tzinfo=UTC), None)
    assert force_of({"DATSTA": "20261399"}) == (None, None)


def test_a_month_and_a_year_hold_to_their_last_day():
    assert day_span("202402") == (date(2024, 2, 1), date(2024, 2, 29))
    assert day_span("2023") == (date(2023, 1, 1), date(2023, 12, 31))
    assert day_span("202312") == (date(2023, 12, 1), date(2023, 12, 31))
    assert (day_told("20170829"), day_told("200312"), day_told("x")) == (
        "2017-08-29", "2003-12", None,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("begin", "end", "said"),
    [
        ("--0401", "--0715", "each year from 1 April to 15 July"),
        ("--11", None, "each year from November"),
        (None, "--0301", "each year until 1 March"),
        ("--1301", "", None),
        ("", "", None),
    ],
)
def test_a_season_is_told_in_words(begin, end, said):
    assert season_of({"PERSTA": begin, "PEREND": end}) == said


def test_codes_come_as_lists_as_text_or_as_one_number():
    assert codes_of({"NATSUR": np.array(["14", "17"])}, "NATSUR") == (14, 17)
    assert codes_of({"NATSUR": "1/2,4"}, "NATSUR") == (1, 2, 4)
    assert codes_of({"WATLEV": np.float64(4.0)}, "WATLEV") == (4,)
    assert codes_of({"WATLEV": np.float64("nan")}, "WATLEV") == ()
    assert codes_of({"NATSUR": np.array([], dtype=str)}, "NATSUR") == ()


def test_datums_are_those_of_the_catalogue():
    # IHO S-57, attribute VERDAT, from memory.
    assert meaning("datum", 12) == "mean lower low water"
    assert meaning("datum", 16) == "mean high water"
    assert meaning("datum", 23) == "lowest astronomical tide"
    assert meaning("datum", 99) is None
