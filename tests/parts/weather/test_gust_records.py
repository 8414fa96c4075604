"""Real records of wind made into shapes: what is left out."""

from __future__ import annotations

import numpy as np
import pytest

from shorefast.weather.gust_records import WindRecord, shapes_of


def record(missing: slice) -> WindRecord:
    """Two hours of wind a minute apart, some of it missing."""
    t_s = 60.0 * np.arange(120)
    wind = 9.0 + np.sin(t_s / 170.0)
    wind[missing] = np.nan
    return WindRecord(t_s, wind, 0.1 * np.cos(t_s / 130.0), 60.0)


@pytest.mark.parametrize("missing", [slice(20, 30), slice(55, 63), slice(0, 9), slice(112, 120)])
def test_a_piece_with_a_long_hole_is_left_out_at_its_ends_as_in_its_middle(missing):
    whole = shapes_of(record(slice(0, 0)), 3600.0).shape.shape[0]
    assert whole == 2
    assert shapes_of(record(missing), 3600.0).shape.shape[0] < whole


def test_a_short_hole_is_bridged_wherever_it_is():
    for missing in (slice(20, 23), slice(58, 61), slice(0, 2), slice(118, 120)):
        assert shapes_of(record(missing), 3600.0).shape.shape[0] == 2
