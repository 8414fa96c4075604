"""The depth surface: a million soundings, new ones under way, whole tracks left out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
from measures.figure import Figure, best_s, measured
from measures.surface_tracks import Tracks, kept_tracks, tracks_in
from numpy.typing import NDArray
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import cKDTree

from shorefast.bay import (
    Soundings,
    add_soundings,
    bed_at,
    bed_profile,
    fit_surface,
    understand,
)

Floats = NDArray[np.float64]
FOLDS = 5
METHODS = ("ours", "triangulation", "inverse distance", "nearest")


def _soundings(count: int) -> Soundings:
    draw = np.random.default_rng(20)
    half_m = 2.5 * np.sqrt(count)
    east, north = draw.uniform(-half_m, half_m, (2, count))
    level = -0.35 * np.abs(east) - 4.0 + 1.5 * np.sin(north / 23.0)
    return Soundings(east, north, level, np.full(count, 0.2))


def surface_1m() -> Figure:
    """The depth surface through 1,000,000 soundings, with its doubt."""
    soundings = _soundings(1_000_000)
    fit_surface(_soundings(500))
    return measured("surface-1m", best_s(lambda: fit_surface(soundings), 1), "s", "< 20")


def live_surface() -> Figure:
    """500 new soundings along a track taken into a surface of 20,000."""
    everything = _soundings(20_500)
    track = np.abs(everything.north_m - 0.6 * everything.east_m) < 15.0
    track &= np.cumsum(track) <= 500
    old = fit_surface(everything.only(~track))
    new = everything.only(track)
    beside = ("all drawn anew", best_s(lambda: fit_surface(everything), 1))
    return measured("live-surface", best_s(lambda: add_soundings(old, new)), "s", "< 0.3", beside)


def _guessed(given: Soundings, asked: Floats) -> dict[str, Floats]:
    """Levels at places by four ways; ours with its deviation. [m]"""
    bed = understand(given, reach_m=np.inf)
    level, deviation = bed_at(bed, asked[:, 0], asked[:, 1], reach_m=np.inf)
    places = np.column_stack((given.east_m, given.north_m))
    apart, near = cKDTree(places).query(asked, k=12)
    weight = 1.0 / np.maximum(apart, 1e-6) ** 2
    return {
        "ours": level,
        "deviation": deviation,
        "triangulation": LinearNDInterpolator(places, given.level_m)(asked),
        "inverse distance": (weight * given.level_m[near]).sum(1) / weight.sum(1),
        "nearest": given.level_m[near[:, 0]],
    }


def held_out(tracks: Tracks) -> dict[str, float]:
    """Errors of whole tracks left out, a fifth at a time, where all four answer. [m]

    Root mean squares by method, and the share of ours inside 1 and 2 deviations.
    """
    soundings = replace(tracks.soundings, track=tracks.track)
    _, one = np.unique(np.column_stack((tracks.soundings.east_m, tracks.soundings.north_m)),
                       axis=0, return_index=True)  # fmt: skip
    kept = np.zeros(tracks.track.size, bool)
    kept[one] = True
    names = np.random.default_rng(1).permutation(np.unique(tracks.track))
    fold = np.searchsorted(np.sort(names), tracks.track)
    fold = np.argsort(np.argsort(names))[fold] % FOLDS
    errors: dict[str, list[Floats]] = {name: [] for name in (*METHODS, "share")}
    for part in range(FOLDS):
        out = soundings.only((fold == part) & kept)
        given = soundings.only((fold != part) & kept)
        guess = _guessed(given, np.column_stack((out.east_m, out.north_m)))
        told = np.isfinite(guess["triangulation"]) & np.isfinite(guess["ours"])
        for name in METHODS:
            errors[name].append((guess[name] - out.level_m)[told])
        errors["share"].append(np.abs(errors["ours"][-1]) / guess["deviation"][told])
    joined = {name: np.concatenate(parts) for name, parts in errors.items()}
    told_of = {name: float(np.sqrt(np.mean(joined[name] ** 2))) for name in METHODS}
    share = joined["share"]
    return told_of | {
        "inside 1": float(np.mean(share < 1.0)),
        "inside 2": float(np.mean(share < 2.0)),
        "count": float(share.size),
    }


def profile_along() -> Figure:
    """The bed along a bearing, 100 m of it, read from a surface of 20,000 soundings."""
    surface = fit_surface(_soundings(20_000))

    def one() -> object:
        return bed_profile(surface, 10.0, -20.0, 0.9, 100.0)

    one()
    return measured("bed-profile", best_s(one, 20), "s", "< 0.001")


def _within(name: str, share: float, nominal: float) -> Figure:
    """A share that should be the nominal one, a tenth of it either way."""
    least, most = 0.9 * nominal, min(1.1 * nominal, 1.0)
    goal = f"{least:.3f} to {most:.3f}"
    return Figure(name, share, "of all", None, None, goal, least <= share <= most)


def _figures(tracks: Tracks) -> tuple[Figure, ...]:
    """Error on tracks left out beside the best of the other ways, and how far doubt held."""
    told = held_out(tracks)
    print(f"{tracks.name}:", {name: round(value, 3) for name, value in told.items()}, flush=True)
    best = min(METHODS[1:], key=lambda name: told[name])
    name, limit = f"heldout-{tracks.name}", 1.03 * told[best]
    beside = (f"{best} ({told[best]:.3g} m)", told[best])
    return (
        measured(f"{name}-error", told["ours"], "m", f"< {limit:.6g}", beside),
        _within(f"{name}-one", told["inside 1"], 0.683),
        _within(f"{name}-two", told["inside 2"], 0.954),
    )


def surface_held_out() -> tuple[Figure, ...]:
    """Whole tracks left out of the real soundings kept with the tests."""
    return tuple(figure for tracks in kept_tracks() for figure in _figures(tracks))


def folder_held_out(folder: Path) -> list[Figure]:
    """The same of every data set of a folder."""
    return [figure for tracks in tracks_in(folder) for figure in _figures(tracks)]
