"""The sea the wind of each hour raises over the bay, where the stay names no waves."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.mooring import fetch_sea, sea_spread
from shorefast.stay.plan import Stay, Waves
from shorefast.weather import OPEN_M, fetches

Floats = NDArray[np.float64]
CURVE = "spm-1984"
# significant height over the depth it breaks in
_BREAKS_AT = 0.6
_MOST_MPS = 50.0


@dataclass(frozen=True)
class SeaByFetch:
    """Waves of each hour by the wind over the fetch; NaN where the fetch is unknown.

    height_m, period_s, from_rad : arrays (member, time)
        Hm0 and peak period; they come with the wind. [m, s, rad]
    fetch_m : array (member, time)
        Effective. [m]
    """

    height_m: Floats
    period_s: Floats
    from_rad: Floats
    fetch_m: Floats
    basis: Basis

    def highest(self) -> Waves | None:
        """The highest of all hours and members; None where all is unknown or calm."""
        height_m = np.nan_to_num(self.height_m, nan=0.0)
        m, t = np.unravel_index(int(np.argmax(height_m)), height_m.shape)
        if not height_m[m, t] > 0.0:
            return None
        return Waves(float(height_m[m, t]), float(self.period_s[m, t]), float(self.from_rad[m, t]))


def sea_by_fetch(
    stay: Stay, wind_mps: Floats, from_rad: Floats, level_m: Floats
) -> SeaByFetch | None:
    """The sea hour by hour; None where the stay names its waves, has no lie or no shore.

    A shore may be the bay's own or a far one; open sea counts as far as ``OPEN_M``.

    The mean wind as judged, blowing long enough, over the effective fetch at the place
    the anchor is let go, held to what breaks in the depth there. Waves come with the
    wind; what bends round a corner and swell from outside are left out.

    Parameters
    ----------
    wind_mps, from_rad, level_m : arrays (member, time)
        Mean wind and where it blows from, as judged; the water's level. [m/s, rad, m]

    Source
    ------
    spm-1984 (growth); thornton-guza-1983 (breaking).
    """
    bay = stay.bay
    if stay.waves is not None or stay.lie is None or (bay.shore is None and bay.far is None):
        return None
    here = (stay.lie.let_go_east_m, stay.lie.let_go_north_m)
    round_about = fetches(bay.shore, bay.land, *here, bay.far)
    fetch_m = round_about.toward_m(from_rad)
    known = np.isfinite(fetch_m) & np.isfinite(wind_mps)
    blown_mps = np.minimum(np.where(known, wind_mps, 0.0), _MOST_MPS)
    grown = fetch_sea(CURVE, blown_mps, np.where(known, fetch_m, 0.0))
    bed_m = float(stay.bay.surface.level_at(*here))
    height_m = np.fmin(grown.height_m, _BREAKS_AT * np.maximum(level_m - bed_m, 0.0))
    basis = _basis(np.where(known, height_m, np.nan), blown_mps, fetch_m, known)
    basis = basis | _open_basis(round_about.open_toward(from_rad))
    return SeaByFetch(
        height_m=np.where(known, height_m, np.nan),
        period_s=np.where(known, grown.period_s, np.nan),
        from_rad=from_rad,
        fetch_m=fetch_m,
        basis=basis,
    )


def as_ridden(stay: Stay, sea: SeaByFetch | None) -> Stay:
    """The stay with the highest waves by fetch as if they were told; itself where none are."""
    highest = None if sea is None else sea.highest()
    return stay if highest is None else replace(stay, waves=highest)


def _open_basis(open_sea: NDArray[np.bool_]) -> Basis:
    """What is said where the wind comes in from the open sea."""
    if not open_sea.any():
        return Basis()
    said = Assumption(
        f"In {int(open_sea.sum())} of {open_sea.size} hours and members the sea is open to"
        f" windward: it counts as {OPEN_M / 1000:.0f} km of water, over which a wind of 15 m/s must"
        " blow some eleven hours before it has raised all of these waves",
        "Swell from farther out, or from an earlier wind, comes on top",
    )
    return Basis(assumptions=(said,), sources=("spm-1984",))


def _outside(wind_mps: float, fetch_m: float) -> str:
    """On which side of the curves' data, 100 to 10,000 of g F / U2, a fetch lies."""
    if 9.81 * fetch_m > 1e3 * wind_mps**2:
        return ", though so long a fetch for such a wind lies beyond all their data"
    return ", though so short a fetch lies below all their data"


def _basis(height_m: Floats, wind_mps: Floats, fetch_m: Floats, known: NDArray[np.bool_]) -> Basis:
    lost = known.size - int(known.sum())
    found = (
        Finding(
            "Waves",
            f"no shore is known to windward in {lost} of {known.size} hours and members: the waves"
            " then, perhaps the highest, are unknown and left out",
        ),
    )
    if not known.any() or not np.nanmax(height_m) > 0.0:
        return Basis(findings=found if lost else ())
    at = np.unravel_index(int(np.nanargmax(height_m)), height_m.shape)
    spread = sea_spread(wind_mps[at], fetch_m[at])
    low, high = spread.height_m.min(), spread.height_m.max()
    beyond = "" if spread.within_data else _outside(float(wind_mps[at]), float(fetch_m[at]))
    said = Assumption(
        f"Waves are those the hour's wind raises over the water to windward: up to"
        f" {height_m[at]:.2f} m over an effective {fetch_m[at]:.0f} m; other curves say"
        f" {low:.2f} to {high:.2f} m{beyond}",
        "Swell from outside, waves round a corner and wash are not in it",
    )
    sources = ("spm-1984", "spm-1977", "thornton-guza-1983")
    return Basis((), (said,), sources, found if lost else ())
