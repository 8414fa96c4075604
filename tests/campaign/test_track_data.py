"""Whole real logs kept under way, held against their lines read by a plain pattern.

Collected only where SHOREFAST_DATA names their folder (``make campaign DATA=FOLDER``).
"""

from __future__ import annotations

import os
import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from shorefast.readers.depths import Told
from shorefast.readers.nmea_depths import read_log
from shorefast.readers.track_told import Sailed

__test__ = bool(os.environ.get("SHOREFAST_DATA"))

TOLD = Sailed(0.0, transducer_m=0.4, keel_m=2.0, arm_m=(0.0, 0.0), day=date(2026, 7, 1))
OF_DEPTH = re.compile(
    r"^(no fix at that moment|depth 0|false echo|bottom lost|deeper than|no height of water)"
)
# What counts depth in each, how far below the surface it counts from, the depths its origin
# says it holds, and the least share of them that stands; all told beside the files.
LOGS = {
    "passage_2h30_depth_wind.log": (rb"\$..DBT,[^,]*,f,([\d.]+),M", 0.4, (1.5, 38.0), 0.9),
    "short_sail_depth_2_to_81m.txt": (rb"\$..DPT,([\d.]+),", 0.4, (1.7, 81.3), 0.1),
    "echo_sounder_dbt_gll_only.log": (rb"\$..DBT,[^,]*,f,([\d.]+),M", 0.4, (1.0, 40.0), 0.9),
    "moored_28min_then_out.txt": (rb"\$..DPT,([\d.]+),", 0.7, (2.4, 71.8), 0.8),
    "berth_2min_wind_depth_ais.log": (rb"\$..DPT,([\d.]+),", 0.5, (0.5, 0.6), 0.9),
    "tiny_six_seconds.txt": (rb"\$..DPT,([\d.]+),", 0.4, (54.0, 65.0), 0.2),
}


@pytest.mark.parametrize("name", LOGS)
def test_every_depth_of_a_log_is_given_or_counted_as_left_out(name):
    path = Path(os.environ["SHOREFAST_DATA"]) / "nmea0183" / name
    pattern, under_m, (least_m, greatest_m), share = LOGS[name]
    raw = [float(one) for one in re.findall(pattern, path.read_bytes())]
    read = read_log(path, Told(), TOLD)
    left_out = sum(count for why, count in read.left_out if OF_DEPTH.match(why))
    wrong = sum(int(one) for note in read.notes for one in re.findall(r"^(\d+) of \d+ sent", note))
    # a depth whose checksum is wrong is no depth
    assert len(raw) - wrong <= read.level_m.size + left_out <= len(raw)
    assert read.level_m.size >= share * len(raw)
    depth_m = -read.level_m - under_m
    # some of them are told to the whole metre
    assert least_m - 0.5 <= depth_m.min() and depth_m.max() <= greatest_m + 0.5
    assert np.isin(np.round(depth_m, 3), np.round(raw, 3)).all()
