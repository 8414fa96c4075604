"""Wind, gusts, tide and daylight: member by member, hour by hour."""

from shorefast.weather.at_times import level_at, wind_at
from shorefast.weather.in_bay import DEFAULT_SPREAD_RAD, BayWind, in_the_bay
from shorefast.weather.joining import joined
from shorefast.weather.series import WaterLevel, Wind

__all__ = [
    "DEFAULT_SPREAD_RAD",
    "BayWind",
    "WaterLevel",
    "Wind",
    "in_the_bay",
    "joined",
    "level_at",
    "wind_at",
]
