"""Cut the tracks of tests/files/bay/tracks from a folder of open data (their README says which)."""

from __future__ import annotations

import lzma
import sys
from pathlib import Path

import numpy as np
from measures.surface_tracks import KEPT, Tracks, curved_lines, grid_lines, log_legs, ship_tracks

SHIPS_M, SURVEY_M = 45_000.0, 220.0


def _near(tracks: Tracks, half_m: float) -> Tracks:
    """Those in a square round the middle of all. [m]"""
    one = tracks.soundings
    off = [np.abs(part - np.median(part)) for part in (one.east_m, one.north_m)]
    kept = np.maximum(*off) < half_m
    few = type(one)(*(part[kept] for part in vars(one).values()))
    return Tracks(tracks.name, few, tracks.track[kept])


def _write(name: str, tracks: Tracks) -> None:
    one = tracks.soundings
    rows = zip(tracks.track, one.east_m, one.north_m, one.level_m, strict=True)
    text = "".join(f"{t},{e:.1f},{n:.1f},{z:.2f}\n" for t, e, n, z in rows)
    with lzma.open(KEPT / f"{name}.csv.xz", "wt", encoding="utf-8", newline="\n") as out:
        out.write("track,east_m,north_m,level_m\n" + text)
    print(f"{name}: {one.level_m.size} rows")


def main() -> int:
    """Cut and write all of them."""
    folder = Path(sys.argv[1])
    KEPT.mkdir(parents=True, exist_ok=True)
    depths, logs = folder / "bathymetry", folder / "nmea0183"
    _write("ships", _near(ship_tracks(depths / "baja_ship_soundings.csv.xz"), SHIPS_M))
    survey = grid_lines(depths / "public_release_survey_2m_utm.bag", 12)
    _write("survey", _near(survey, SURVEY_M))
    _write("fjord", curved_lines(depths / "howe_sound_fraser_150m_curvilinear.nc"))
    _write("passage", log_legs(logs / "passage_2h30_depth_wind.log"))
    _write("sail", log_legs(logs / "short_sail_depth_2_to_81m.txt"))
    return 0


if __name__ == "__main__":
    sys.exit(main())
