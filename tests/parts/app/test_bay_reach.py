"""Reach in words: what is unknown is counted, not passed over."""

import numpy as np

from shorefast.app.answers.bay_reach import _said

HOURS = np.array(["2026-07-01T00", "2026-07-01T01", "2026-07-01T02"], "datetime64[s]")


def _row(dry_m, left_m):
    left = np.array(left_m)
    return {
        "line": "long line", "cleat": "port quarter", "time_utc": HOURS,
        "dry_m": np.array(dry_m), "left_m": left, "left_doubled_m": left - 50.0,
    }  # fmt: skip


def test_hours_of_which_nobody_knows_are_counted():
    said = _said(_row([1.0, np.nan, -0.4], [10.0, np.nan, np.nan]), "UTC")
    assert said == (
        "DROWNED by 0.4 m at 02:00 (1 of 3 hours unknown); long line from the port quarter: "
        "10 m left, too short doubled (2 of 3 hours unknown)"
    )
    said = _said(_row([1.0, 0.9, 0.8], [-2.0, np.nan, -1.0]), "UTC")
    assert said == (
        "least dry 0.8 m at 02:00; long line is 2.0 m too short from the port quarter "
        "(1 of 3 hours unknown)"
    )


def test_where_all_is_known_nothing_is_added():
    said = _said(_row([1.0, 0.9, 0.8], [60.0, 61.0, 62.0]), "UTC")
    assert said == (
        "least dry 0.8 m at 02:00; long line from the port quarter: 60 m left, 10 m doubled"
    )
