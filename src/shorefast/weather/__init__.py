"""Wind, gusts, tide and daylight: member by member, hour by hour."""

from shorefast.weather.at_times import level_at, wind_at
from shorefast.weather.behind_ridge import SunBehind, sun_behind
from shorefast.weather.far_fetch import crossings
from shorefast.weather.fetch import OPEN_M, Fetches, fetches, nearest_bearing
from shorefast.weather.gust_records import WindRecord, shapes_of
from shorefast.weather.gust_spectrum import (
    EVERY_S,
    GUST_S,
    MOST_FACTOR,
    Fitted,
    GustShapes,
    across_spectrum,
    along_spectrum,
    drawn_shapes,
    fitted,
    gusts_over,
    speeds_of,
    taken_hold,
)
from shorefast.weather.gusts import (
    EXPOSURES,
    TERRAINS,
    answered_over_s,
    averaging_ratio,
    enveloping_s,
    esdu_gust_factor,
    gust_factor,
    gust_over_mps,
    open_sea_wind_mps,
    raised,
)
from shorefast.weather.in_bay import (
    DEFAULT_SPREAD_RAD,
    BayWind,
    gusts_told,
    in_the_bay,
    to_both_sides,
)
from shorefast.weather.joining import gathered, joined
from shorefast.weather.moon import Moonlight, lit_share, moon_events, moonlight
from shorefast.weather.series import WaterLevel, Wind
from shorefast.weather.skyline import REACH_OF_GROUND_M, Skyline, skyline
from shorefast.weather.sun import SunEvent, night_spans, sun_events
from shorefast.weather.surge import barometer_basis, barometer_rise_m, with_rise
from shorefast.weather.tide import (
    TideConstituent,
    constituent,
    high_and_low,
    tide_from_constants,
)
from shorefast.weather.tide_arguments import NAMES as TIDE_NAMES

__all__ = [
    "DEFAULT_SPREAD_RAD",
    "EVERY_S",
    "EXPOSURES",
    "GUST_S",
    "MOST_FACTOR",
    "OPEN_M",
    "REACH_OF_GROUND_M",
    "TERRAINS",
    "TIDE_NAMES",
    "BayWind",
    "Fetches",
    "Fitted",
    "GustShapes",
    "Moonlight",
    "Skyline",
    "SunBehind",
    "SunEvent",
    "TideConstituent",
    "WaterLevel",
    "Wind",
    "WindRecord",
    "across_spectrum",
    "along_spectrum",
    "answered_over_s",
    "averaging_ratio",
    "barometer_basis",
    "barometer_rise_m",
    "constituent",
    "crossings",
    "drawn_shapes",
    "enveloping_s",
    "esdu_gust_factor",
    "fetches",
    "fitted",
    "gathered",
    "gust_factor",
    "gust_over_mps",
    "gusts_over",
    "gusts_told",
    "high_and_low",
    "in_the_bay",
    "joined",
    "level_at",
    "lit_share",
    "moon_events",
    "moonlight",
    "nearest_bearing",
    "night_spans",
    "open_sea_wind_mps",
    "raised",
    "shapes_of",
    "skyline",
    "speeds_of",
    "sun_behind",
    "sun_events",
    "taken_hold",
    "tide_from_constants",
    "to_both_sides",
    "wind_at",
    "with_rise",
]
