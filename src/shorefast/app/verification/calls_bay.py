"""Published checks of the plane a bay is drawn in."""

from __future__ import annotations

import math

from shorefast.app.verification.calls import Call
from shorefast.bay import Frame
from shorefast.quantities import from_si, wrap_rad


def _from_origin(
    lat1_deg: float, lon1_deg: float, lat2_deg: float, lon2_deg: float
) -> tuple[float, float]:
    east_m, north_m = Frame(lat1_deg, lon1_deg).to_plane(lat2_deg, lon2_deg)
    return float(east_m), float(north_m)


def distance_in_plane_m(
    lat1_deg: float, lon1_deg: float, lat2_deg: float, lon2_deg: float
) -> float:
    """Distance in the plane whose origin is the first place."""
    return math.hypot(*_from_origin(lat1_deg, lon1_deg, lat2_deg, lon2_deg))


def bearing_in_plane_deg(
    lat1_deg: float, lon1_deg: float, lat2_deg: float, lon2_deg: float
) -> float:
    """Bearing of the second place in the plane whose origin is the first."""
    east_m, north_m = _from_origin(lat1_deg, lon1_deg, lat2_deg, lon2_deg)
    return from_si(wrap_rad(math.atan2(east_m, north_m)), "angle", "deg")


BAY_CALLS = {
    "distance in the plane": Call(distance_in_plane_m, "length"),
    "bearing in the plane": Call(bearing_in_plane_deg),
}
