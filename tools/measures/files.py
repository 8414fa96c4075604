"""How long depths and forecasts take from file to answer."""

from __future__ import annotations

import math
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import shapely
from measures.figure import Figure, best_s, measured
from numpy.typing import NDArray
from scipy.interpolate import RBFInterpolator

from shorefast.bay import Bounds, Coast, FarShore, Soundings, fit_surface
from shorefast.readers import read_forecast
from shorefast.weather import fetches

Floats = NDArray[np.float64]
MEMBERS, STEPS = 51, 25


def _soundings(count: int) -> Soundings:
    draw = np.random.default_rng(20)
    half_m = 2.5 * np.sqrt(count)
    east, north = draw.uniform(-half_m, half_m, (2, count))
    level = -0.35 * np.abs(east) - 4.0 + 1.5 * np.sin(north / 23.0)
    return Soundings(east, north, level, np.full(count, 0.2))


def surface_20k() -> Figure:
    """The depth surface through 20,000 soundings, with its doubt."""
    soundings = _soundings(20_000)
    at = np.column_stack([soundings.east_m, soundings.north_m])

    def plain() -> Floats:
        spline = RBFInterpolator(at, soundings.level_m, neighbors=24)
        return np.asarray(spline(at + 0.5), np.float64)

    beside = ("scipy splines at as many places", best_s(plain, 1))
    value_s = best_s(lambda: fit_surface(soundings), 2)
    return measured("surface-20k", value_s, "s", "< 1.5", beside)


def _write_ensemble(path: Path) -> None:
    # eccodes brings a PROJ of its own: loaded before pyproj, it breaks pyproj
    import eccodes

    draw = np.random.default_rng(51)
    message = eccodes.codes_grib_new_from_samples("regular_ll_sfc_grib2")
    fixed = {
        "Ni": 21, "Nj": 21, "latitudeOfFirstGridPointInDegrees": 62.0,
        "latitudeOfLastGridPointInDegrees": 57.0, "longitudeOfFirstGridPointInDegrees": 3.0,
        "longitudeOfLastGridPointInDegrees": 8.0, "iDirectionIncrementInDegrees": 0.25,
        "jDirectionIncrementInDegrees": 0.25, "dataDate": 20260624, "dataTime": 1200,
        "productDefinitionTemplateNumber": 1, "numberOfForecastsInEnsemble": MEMBERS,
    }  # fmt: skip
    for key, value in fixed.items():
        eccodes.codes_set(message, key, value)
    with path.open("wb") as out:
        for member in range(MEMBERS):
            for step in range(STEPS):
                for name in ("10u", "10v"):
                    eccodes.codes_set(message, "perturbationNumber", member)
                    eccodes.codes_set(message, "forecastTime", step)
                    eccodes.codes_set(message, "shortName", name)
                    eccodes.codes_set_values(message, draw.normal(0.0, 8.0, 441))
                    eccodes.codes_write(message, out)
    eccodes.codes_release(message)


def _decode_only(path: Path) -> None:
    import eccodes

    with path.open("rb") as raw:
        while (message := eccodes.codes_grib_new_from_file(raw)) is not None:
            eccodes.codes_get_values(message)
            eccodes.codes_release(message)


def forecast_read() -> Figure:
    """51 members and 25 hours of wind from GRIB 2 to one place."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "ensemble.grib2"
        _write_ensemble(path)
        beside = ("decoding every field", best_s(lambda: _decode_only(path), 2))
        value_s = best_s(lambda: read_forecast(path, 59.5, 5.2), 2)
    return measured("forecast-read", value_s, "s", "< 2", beside)


def far_fetch() -> Figure:
    """Fetch all round from one place to a far shore of 100,000 legs."""
    draw, count = np.random.default_rng(0), 100_000
    turn = 2.0 * math.pi * np.arange(count) / count
    off_m = 20_000.0 + np.cumsum(draw.normal(0.0, 5.0, count))
    at = np.column_stack((off_m * np.sin(turn), off_m * np.cos(turn)))
    legs = np.stack((at, np.roll(at, -1, axis=0)), axis=1)
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(at)))
    coast = Coast(legs, np.zeros(count, dtype=bool), hull, 1.0)
    far = FarShore(Bounds(-500.0, -500.0, 500.0, 500.0), (coast,))
    ends = 40_000.0 * np.column_stack((np.sin(turn[::278]), np.cos(turn[::278])))
    rays = shapely.linestrings(np.stack((np.zeros_like(ends), ends), axis=1))
    shore = shapely.linestrings(legs)

    def plain() -> None:
        ray, leg = shapely.STRtree(shore).query(rays, predicate="intersects")
        shapely.intersection(rays[ray], shore[leg])

    beside = ("shapely over a tree of the legs", best_s(plain, 2))
    value_s = best_s(partial(fetches, None, None, 0.0, 0.0, far), 5)
    return measured("far-fetch", value_s, "s", "< 0.05", beside)
