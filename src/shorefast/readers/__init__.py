"""Files in: a reader is handed a path and ends in our types, SI and UTC."""

from shorefast.readers.bay_folder import BayRead, read_bay, read_bay_files
from shorefast.readers.bay_parts import zones_of
from shorefast.readers.boat_file import read_boat
from shorefast.readers.boat_or_stay import boat_or_stay
from shorefast.readers.chart_file import ChartRead, read_chart
from shorefast.readers.depth_file import check_there, is_chart, read_depths
from shorefast.readers.depths import DepthsRead, Told
from shorefast.readers.far_shore import FarFile
from shorefast.readers.forecast import ForecastAtPlace, read_forecast, read_forecasts
from shorefast.readers.high_ground import GroundFile
from shorefast.readers.place_rows import read_places
from shorefast.readers.points_file import PointsRead, read_points_file
from shorefast.readers.run_soundings import outside_tide, read_run, read_runs, run_as_it_comes
from shorefast.readers.shore_geojson import Feature, Shapes, read_shapes
from shorefast.readers.stay_file import read_stay
from shorefast.readers.text_file import read_text
from shorefast.readers.tide_csv import read_tide
from shorefast.readers.tide_json import TideAsked, read_tide_json
from shorefast.readers.toml_file import TomlTable, parse_toml
from shorefast.readers.wind_record import read_wind_record

__all__ = [
    "BayRead",
    "ChartRead",
    "DepthsRead",
    "FarFile",
    "Feature",
    "ForecastAtPlace",
    "GroundFile",
    "PointsRead",
    "Shapes",
    "TideAsked",
    "Told",
    "TomlTable",
    "boat_or_stay",
    "check_there",
    "is_chart",
    "outside_tide",
    "parse_toml",
    "read_bay",
    "read_bay_files",
    "read_boat",
    "read_chart",
    "read_depths",
    "read_forecast",
    "read_forecasts",
    "read_places",
    "read_points_file",
    "read_run",
    "read_runs",
    "read_shapes",
    "read_stay",
    "read_text",
    "read_tide",
    "read_tide_json",
    "read_wind_record",
    "run_as_it_comes",
    "zones_of",
]
