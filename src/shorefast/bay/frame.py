"""The one place where longitude and latitude become metres, and back."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pyproj import Transformer

from shorefast.errors import BadInput


@lru_cache(maxsize=64)
def _transformer(lat_deg: float, lon_deg: float) -> Transformer:
    plane = f"+proj=aeqd +lat_0={lat_deg!r} +lon_0={lon_deg!r} +datum=WGS84 +units=m"
    return Transformer.from_crs("EPSG:4326", plane, always_xy=True)


@dataclass(frozen=True)
class Frame:
    """A plane touching the WGS 84 ellipsoid at the bay's origin.

    Azimuthal equidistant: distances and bearings from the origin are exact, and
    over the few kilometres of a bay all others are true to millimetres.

    Attributes
    ----------
    lat_deg, lon_deg : float
        The origin, degrees on WGS 84.
    """

    lat_deg: float
    lon_deg: float

    def __post_init__(self) -> None:
        if not -90.0 <= self.lat_deg <= 90.0:
            raise BadInput(
                "Bay origin",
                f"latitude {self.lat_deg:g}",
                "a latitude lies between -90 and 90",
                "Swap latitude and longitude if they changed places, or correct it.",
            )
        if not -360.0 <= self.lon_deg <= 360.0:
            raise BadInput(
                "Bay origin",
                f"longitude {self.lon_deg:g}",
                "a longitude lies between -180 and 180 (or 0 and 360)",
                "Correct it.",
            )

    def to_plane(
        self, lat_deg: ArrayLike, lon_deg: ArrayLike
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Metres east and north of the origin, the inputs broadcast together."""
        lat, lon = np.broadcast_arrays(np.asarray(lat_deg, float), np.asarray(lon_deg, float))
        east, north = _transformer(self.lat_deg, self.lon_deg).transform(lon, lat)
        return np.asarray(east, float), np.asarray(north, float)

    def to_earth(
        self, east_m: ArrayLike, north_m: ArrayLike
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Latitude and longitude in degrees, the inputs broadcast together."""
        east, north = np.broadcast_arrays(np.asarray(east_m, float), np.asarray(north_m, float))
        lon, lat = _transformer(self.lat_deg, self.lon_deg).transform(
            east, north, direction="INVERSE"
        )
        return np.asarray(lat, float), np.asarray(lon, float)
