"""The one place where the case files' frame becomes ours, and back.

Theirs: psi from east, anticlockwise; on board forward and to port; moments
anticlockwise. Ours: headings clockwise from north; forward and to starboard;
moments clockwise.
"""

from __future__ import annotations

import math

from shorefast.quantities import from_si, wrap_rad


def heading_rad(psi_rad: float) -> float:
    """Our heading of a bow that points to psi."""
    return wrap_rad(0.5 * math.pi - psi_rad)


def heading_deg(heading_rad: float) -> float:
    """A heading as the case files print it."""
    return from_si(wrap_rad(heading_rad), "angle", "deg")


def on_board(forward_to_port_m: tuple[float, ...]) -> tuple[float, float]:
    """Forward and to starboard of a place given forward and to port."""
    forward_m, port_m = forward_to_port_m
    return forward_m, -port_m


def turned_moment_nm(moment_nm: float) -> float:
    """A moment of one frame in the other: what turns the other way counts the other way."""
    return -moment_nm
