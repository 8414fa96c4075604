"""Her response to gusts in words."""

from __future__ import annotations

import math
from types import SimpleNamespace as Some

import numpy as np

from shorefast.stay import PartResponse
from shorefast.wording import gust_response_words

HOURS = np.array(["2026-06-24T20:00:00", "2026-06-25T02:00:00"], "datetime64[s]")


def told(*parts, verdict="holds", share=(0.0, 0.02)):
    return Some(
        parts=parts, records=2, gust_mps=(15.0, 28.9), verdict=verdict, leave_by_utc=None,
        share_past_limit=np.array(share),
    )  # fmt: skip


def words(found):
    from datetime import UTC, datetime

    stay = Some(
        from_utc=datetime(2026, 6, 24, 19, tzinfo=UTC),
        until_utc=datetime(2026, 6, 25, 12, tzinfo=UTC),
        bay=Some(zone_name="Etc/GMT+2"),
    )
    return gust_response_words(stay, Some(time_utc=HOURS), found)


def anchor(peak=(1.2, 1.8)):
    return PartResponse("anchor", "anchor", (0, 0), 1.0, np.array(peak), 1.9)


def test_a_part_is_a_row_of_steady_use_peak_ratio_squall_and_hour():
    said = words(told(anchor()))
    assert said[0] == (
        "In gusty wind, 2 drawn hours with the mean and the gust of each part's worst hour"
        " (gusts 29 kn to 56 kn);"
    )
    row = ["anchor", "1.00", "1.50", "(1.20", "to", "1.80)", "1.50", "1.90", "18:00"]
    assert said[3].split() == row
    assert said[4] == (
        "With every part's use taken times that, and room as in the steady gust: no hour has too"
        " many members past a limit (2% of members past one at the worst)."
    )


def test_an_unknown_peak_is_said_to_be_unknown():
    said = words(told(anchor((1.2, math.nan)), verdict="unknown", share=(math.nan, math.nan)))
    assert "unknown" in said[3]
    assert said[4] == (
        "With every part's use taken times that, and room as in the steady gust: unknown."
    )


def test_a_part_that_is_never_used_has_no_row():
    idle = PartResponse("second line", "line", (0, 1), 0.0, np.array([0.01, 0.02]), 0.0)
    assert not any("second line" in row for row in words(told(anchor(), idle)))


def test_where_no_part_is_used_there_is_no_empty_table():
    idle = PartResponse("second line", "line", (0, 1), 0.0, np.array([0.01, 0.02]), 0.0)
    assert words(told(idle))[0] == "In gusty wind no part's peak use reaches 0.05."
    assert words(told(idle))[1].startswith("With every part's use taken times that")


def test_a_part_hardly_used_has_its_peak_and_no_ratio():
    slack = PartResponse("breast line", "line", (0, 1), 0.05, np.array([0.2, 0.3]), 0.25)
    row = next(one for one in words(told(slack)) if "breast line" in one)
    assert row.split()[-3:] == ["-", "-", "00:00"]


def test_where_no_hour_is_known_that_is_said():
    assert words(None) == ("Her response to gusts is unknown: no moment of the stay is known.",)


def test_a_used_part_whose_squall_is_unknown_is_said_to_be_unknown_there():
    one = PartResponse("anchor", "anchor", (0, 0), 1.0, np.array([1.2, 1.8]), math.nan)
    row = next(row for row in words(told(one)) if "anchor" in row)
    assert row.split()[-3:] == ["1.50", "unknown", "18:00"]
