"""Our tide beside that of a general tide library (utide) and beside the water as observed.

The library is handed the same constants and predicts on its own, in the middle of a year,
for which we take the node factors of all of it. Yearly and daily parts are left out of both,
since offices count them from different longitudes of the sun (``tide_foreman``), and so is
M1, which the library has only as NO1.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.readers import TideAsked, read_tide_json

Floats = NDArray[np.float64]
_JANUARY, _SUMMER = datetime(2015, 1, 1, tzinfo=UTC), datetime(2015, 6, 16, tzinfo=UTC)
_DAYS = 30
_ELSEWHERE = {"LAM2": "LDA2", "LAMBDA2": "LDA2", "RHO": "RHO1"}
_LEFT_OUT = ("SA", "S1", "SA_KV", "S1_KV")


def beside_library_m(stations: Path) -> float:
    """Greatest difference of a month's heights at any station of a file. [m]"""
    tree = json.loads(stations.read_text("utf-8"))
    rows = tree["stations"] if isinstance(tree, dict) else tree
    worst = 0.0
    for row in rows:
        known = [one for one in row["harmonic_constituents"] if _library_name(one["name"])]
        ours, times = _ours({**row, "harmonic_constituents": known})
        theirs = _theirs(known, float(row["latitude"]), times)
        out_by = float(np.max(np.abs((ours - ours.mean()) - (theirs - theirs.mean()))))
        share = f"{len(known)} of {len(row['harmonic_constituents'])} parts"
        print(f"{stations.name}, {row['name']}: out by {out_by:.4f} m over a month, {share}")
        worst = max(worst, out_by)
    return worst


def beside_observed_m(stations: Path, observed: Path, name: str) -> tuple[float, float]:
    """How far our tide of a month, and one the library fits to it, stand off the water. [m]

    Standard deviations of the difference: what is left is weather, and in ours what the
    constants do not know. The library has seen the month, ours has not.
    """
    import utide

    told = {"unit": "m", "datum": "MLLW"}
    water = read_tide_json(observed, _asked(_JANUARY, utc_offset_h=0.0, **told))[0]
    end = np.datetime64((_JANUARY + timedelta(days=_DAYS)).replace(tzinfo=None), "s")
    known = np.isfinite(water.height_m) & (water.time_utc < end)
    times, height = water.time_utc[known], water.height_m[known]
    tide = read_tide_json(stations, _asked(_JANUARY, station=name, **told))[0]
    at = np.interp(times.astype(float), tide.time_utc.astype(float), tide.height_m)
    fitted = utide.solve(times, height, lat=47.6, method="ols", conf_int="none", verbose=False)
    theirs = utide.reconstruct(times, fitted, min_SNR=0, verbose=False).h
    return float(np.std(height - at)), float(np.std(height - theirs))


def _asked(begin: datetime, **told: Any) -> TideAsked:
    return TideAsked(begin, begin + timedelta(days=_DAYS), "[tide]", **told)


def _library_name(name: str) -> str | None:
    """A part as the library calls it; None where it has none such, or counts it otherwise."""
    from utide._ut_constants import constit_index_dict

    word = name.upper()
    word = _ELSEWHERE.get(word, word)
    return word if word in constit_index_dict and word not in _LEFT_OUT else None


def _ours(row: dict[str, Any]) -> tuple[Floats, NDArray[np.datetime64]]:
    """By our reader, of a file with that station alone."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "one.json"
        path.write_text(json.dumps({"stations": [row]}), "utf-8")
        water = read_tide_json(path, _asked(_SUMMER, unit="m", mean_level_m=0.0))[0]
    return water.height_m, water.time_utc


def _theirs(parts: list[dict[str, Any]], lat_deg: float, times: NDArray[np.datetime64]) -> Floats:
    """By the library: a fit to anything gives the frame its constants are put into."""
    import utide

    said = {_library_name(one["name"]): (one["amplitude"], one["phase"]) for one in parts}
    hours = times[0] + np.arange(24 * 400) * np.timedelta64(3600, "s")
    frame = utide.solve(
        hours, np.cos(np.arange(hours.size)), lat=lat_deg, constit=list(said), method="ols",
        conf_int="none", trend=False, verbose=False,
    )  # fmt: skip
    frame["A"] = np.array([said[one][0] for one in frame["name"]], float)
    frame["g"] = np.array([said[one][1] for one in frame["name"]], float)
    frame["mean"] = 0.0
    return np.asarray(utide.reconstruct(times, frame, min_SNR=0, verbose=False).h)
