"""Hours with high ground to windward: told, since no published factor covers its lee."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis, Finding
from shorefast.stay.answer import Judgement
from shorefast.stay.plan import Stay
from shorefast.weather import (
    Skyline,
    gust_factor,
    gusts_told,
    nearest_bearing,
    skyline,
    sun_behind,
    wind_at,
)

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

# upwind ground counts within ten times its height
_COUNTS = 0.1
_WHERE = "High ground"


def skyline_of(stay: Stay) -> Skyline | None:
    """The skyline where the anchor is let go; None without a lie or elevations."""
    if stay.lie is None or stay.bay.high_ground is None:
        return None
    lie = stay.lie
    return skyline(stay.bay.high_ground, lie.let_go_east_m, lie.let_go_north_m)


def over_land_basis(stay: Stay, found: Judgement) -> Basis:
    """What is said of the hours when high ground stands to windward; it raises nothing.

    Whether the skipper's own sectors tell of those winds decides what counts: they do,
    and what the grid shows is told beside them. The forecast's gusts there are laid
    beside the printed factors.

    Source
    ------
    en-1991-1-4, 4.3.3: ground upwind counts within ten times its height (from memory);
    wmo-td1555, table 1.1: gusts of 3 s on the mean of an hour.
    """
    sky = skyline_of(stay)
    if sky is None:
        return Basis()
    free = wind_at(stay.wind, found.time_utc)
    from_rad = free.wind_from_rad
    steep = np.tan(nearest_bearing(sky.angle_rad, from_rad))
    high = np.nan_to_num(steep) >= _COUNTS
    told = gusts_told(from_rad, stay.bay.sectors)
    said = []
    for which, decides in (
        (high & told, "your [[sector]] for that wind decides"),
        (high & ~told, "no [[sector]] tells of that wind, and nothing is added for it"),
    ):
        if which.any():
            said.append(_steepest(sky, from_rad, np.where(which, steep, -1.0), decides))
    said += _gusts(free.wind_mps, free.gust_mps, high)
    said += _unknown(np.isfinite(from_rad) & ~np.isfinite(steep))
    said += _sun(stay, sky)
    sources = ("en-1991-1-4", "wmo-td1555") if high.any() else ()
    return Basis(sources=sources, findings=tuple(said))


def _steepest(sky: Skyline, from_rad: Floats, steep: Floats, decides: str) -> Finding:
    """The steepest ground to windward in some hours, and who decides on its gusts."""
    at = np.unravel_index(int(steep.argmax()), steep.shape)
    here = from_rad[at]
    angle, off_m, height_m = (
        float(nearest_bearing(values, here))
        for values in (sky.angle_rad, sky.distance_m, sky.height_m)
    )
    return Finding(
        _WHERE,
        f"ground {math.degrees(angle):.0f} degrees high, {height_m:.0f} m up and {off_m:.0f} m off"
        f" toward {math.degrees(float(here)):03.0f}, the steepest to windward in"
        f" {int((steep >= 0.0).sum())} of {steep.size} times and members: gusts may come down from"
        f" it harder than forecast; no published factor is known for them; {decides}",
    )


def _gusts(wind_mps: Floats, gust_mps: Floats, high: Bools) -> list[Finding]:
    """The forecast's own gusts over high ground beside the printed factors."""
    known = high & np.isfinite(gust_mps) & (wind_mps > 0.0)
    if not known.any():
        return []
    at = np.unravel_index(int(np.where(known, wind_mps, -1.0).argmax()), wind_mps.shape)
    off_land, in_land = (gust_factor(where, 3.0) for where in ("off-land", "in-land"))
    return [
        Finding(
            _WHERE,
            f"in the hardest wind over it the forecast's gust is {gust_mps[at] / wind_mps[at]:.2f}"
            f" times its mean; printed for wind off the land are {off_land:.2f}, inland"
            f" {in_land:.2f}, in the lee of steep ground none",
        )
    ]


def _unknown(lost: Bools) -> list[Finding]:
    if not lost.any():
        return []
    words = f"the elevations tell nothing of the ground to windward in {int(lost.sum())} of"
    return [Finding(_WHERE, f"{words} {lost.size} times and members")]


def _sun(stay: Stay, sky: Skyline) -> list[Finding]:
    """When the sun stands behind the ground; how dark it is it does not change."""
    frame = stay.bay.frame
    spells = sun_behind(sky, frame.lat_deg, frame.lon_deg, stay.from_utc, stay.until_utc)
    return [
        Finding(
            _WHERE,
            f"the sun is behind ground toward {math.degrees(one.azimuth_rad):03.0f} from"
            f" {one.from_utc:%d %b %H:%M} to {one.until_utc:%d %b %H:%M} UTC; dusk and dark are"
            " told by the sun alone",
        )
        for one in spells
    ]
