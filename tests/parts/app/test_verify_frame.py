"""The case files' frame turned into ours."""

from __future__ import annotations

import math

import pytest

from shorefast.app.verification.case_frame import (
    heading_deg,
    heading_rad,
    on_board,
    turned_moment_nm,
)


# psi in radians and heading_deg of nominal rests BP01, BP02 and BP08 as printed in boat.json.
@pytest.mark.parametrize(
    ("psi_rad", "printed_deg"),
    [(-1.57079633, 180.0), (-1.76768692, 191.281), (-1.46349427, 173.852045)],
)
def test_the_bow_points_where_the_printed_heading_says(psi_rad: float, printed_deg: float) -> None:
    # psi is printed to 1e-8, the heading to 1e-6 or less
    assert heading_deg(heading_rad(psi_rad)) == pytest.approx(printed_deg, abs=1e-6)


def test_east_is_ninety_degrees_and_north_is_none() -> None:
    assert heading_rad(0.0) == pytest.approx(math.pi / 2)
    assert heading_rad(math.pi / 2) == pytest.approx(0.0)


def test_the_port_quarter_is_aft_and_not_to_starboard() -> None:
    assert on_board((-5.6, 1.7)) == (-5.6, -1.7)


def test_what_turns_her_to_port_counts_against_the_heading() -> None:
    assert turned_moment_nm(100.0) == -100.0
