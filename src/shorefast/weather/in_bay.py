"""What the land round a bay makes of the forecast's wind."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.weather.series import Floats, Wind

if TYPE_CHECKING:
    from shorefast.bay import WindSector

DEFAULT_SPREAD_RAD = math.radians(20.0)


@dataclass(frozen=True)
class BayWind(Wind):
    """Wind inside a bay, and how well its direction is known.

    Attributes
    ----------
    spread_rad : array, shape (member, time)
        Standard deviation of the direction. [rad]
    told_rad : array, shape (member, time)
        The same where the skipper told it, 0 elsewhere. [rad]
    """

    spread_rad: Floats
    told_rad: Floats


def _sector_numbers(from_rad: Floats, sectors: Sequence[WindSector]) -> NDArray[np.int64]:
    """Number of the first sector the wind blows from; -1 where none does."""
    number = np.full(from_rad.shape, -1, dtype=np.int64)
    for place, sector in reversed(list(enumerate(sectors))):
        width = math.fmod(sector.until_rad - sector.from_rad, 2 * math.pi)
        width = width + 2 * math.pi if width <= 0 else width
        number[np.mod(from_rad - sector.from_rad, 2 * math.pi) < width] = place
    return number


def gusts_told(from_rad: Floats, sectors: Sequence[WindSector]) -> NDArray[np.bool_]:
    """Whether the skipper told how hard it blows from directions of the forecast."""
    told = [sector.factor is not None or sector.gust_mps is not None for sector in sectors]
    number = _sector_numbers(np.nan_to_num(from_rad), sectors)
    found: NDArray[np.bool_] = np.asarray([*told, False])[number] & np.isfinite(from_rad)
    return found


def _by_sector(number: NDArray[np.int64], values: Sequence[float], elsewhere: float) -> Floats:
    return np.asarray([*values, elsewhere], dtype=np.float64)[number]


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _gusts(wind: Wind, number: NDArray[np.int64], sectors: Sequence[WindSector]) -> Floats:
    """The greatest of forecast gust, mean times factor, and the sector's own gust.

    A factor below one says how sheltered the mean is, nothing of gusts: it can
    never stand in for a gust the forecast does not give.
    """
    factors = [_or(s.factor, math.nan) for s in sectors]
    factor = _by_sector(number, factors, math.nan)
    factor = np.where(factor < 1.0, np.nan, factor)
    own = _by_sector(number, [_or(s.gust_mps, math.nan) for s in sectors], math.nan)
    return np.fmax(np.fmax(wind.gust_mps, wind.wind_mps * factor), own)


def _basis(wind: Wind, sectors: Sequence[WindSector], raised: int) -> Basis:
    findings = []
    if raised:
        said = f"the bay's sectors set the gust in {raised} of {wind.gust_mps.size} member hours"
        findings.append(Finding("Wind in the bay", said))
    unsaid = not sectors or any(sector.spread_rad is None for sector in sectors)
    spread = Assumption(
        f"Where the bay file gives no spread, the wind's direction in the bay is known to "
        f"{math.degrees(DEFAULT_SPREAD_RAD):.0f} degrees (one standard deviation, our default).",
        "A bay that turns the wind more puts the load on another line than the one named.",
    )
    factor = Assumption(
        "A sector's factor multiplies the mean wind, never a gust; the larger of that and the "
        "forecast's gust counts.",
        "Where the forecast's gusts do not know this shore, gusts come harder than reckoned.",
    )
    held = ((factor,) if sectors else ()) + ((spread,) if unsaid else ())
    return Basis(assumptions=held, findings=tuple(findings))


def in_the_bay(wind: Wind, sectors: Sequence[WindSector]) -> BayWind:
    """The forecast's wind as the skipper knows it to come into this bay.

    Which sector counts is told by the forecast's direction, before any turn; where
    sectors overlap the first one does. The mean is left as forecast. Ask for the
    hours first (``wind_at``), then bring the wind into the bay.

    Parameters
    ----------
    wind : Wind
    sectors : sequence of WindSector
        What the skipper knows, from the bay file. May be empty.

    Returns
    -------
    BayWind
        Gust: the greatest of the forecast's, mean x factor (factor >= 1), and the
        sector's absolute gust. Direction turned. Where the direction is unknown
        no sector is known either and the wind stays as it was.
    """
    number = _sector_numbers(wind.wind_from_rad, sectors)
    gust = _gusts(wind, number, sectors)
    turn = _by_sector(number, [sector.turn_rad for sector in sectors], 0.0)
    spreads = [_or(sector.spread_rad, DEFAULT_SPREAD_RAD) for sector in sectors]
    raised = int(np.sum(np.nan_to_num(gust) != np.nan_to_num(wind.gust_mps)))
    return BayWind(
        member=wind.member,
        time_utc=wind.time_utc,
        wind_mps=wind.wind_mps,
        wind_from_rad=np.mod(wind.wind_from_rad + turn, 2 * np.pi),
        gust_mps=gust,
        gust_over_s=wind.gust_over_s,
        height_m=wind.height_m,
        basis=wind.basis | _basis(wind, sectors, raised),
        spread_rad=_by_sector(number, spreads, DEFAULT_SPREAD_RAD),
        told_rad=_by_sector(number, [_or(sector.spread_rad, 0.0) for sector in sectors], 0.0),
    )


def to_both_sides(wind: BayWind) -> BayWind:
    """The wind as each member has it, and turned to either side by the skipper's spread.

    Entries of the same member are winds of one hour, of which the worst counts. Where
    the skipper told no spread nothing is added: the wide default is ours, and only told.

    Returns
    -------
    BayWind
        Three times the entries where a spread was told, else as it was.
    """
    if not (wind.told_rad > 0.0).any():
        return wind
    sides = [wind.wind_from_rad + side * wind.told_rad for side in (0.0, -1.0, 1.0)]
    said = Assumption(
        "Within the spread the bay file gives, the wind's direction is taken at its worst",
        "A wind from further round loads another line than the one named",
    )

    def thrice(values: Floats) -> Floats:
        return np.concatenate([values] * 3)

    return replace(
        wind,
        member=np.concatenate([wind.member] * 3),
        wind_mps=thrice(wind.wind_mps),
        wind_from_rad=np.mod(np.concatenate(sides), 2.0 * np.pi),
        gust_mps=thrice(wind.gust_mps),
        basis=wind.basis | Basis(assumptions=(said,)),
        spread_rad=thrice(wind.spread_rad),
        told_rad=thrice(wind.told_rad),
    )
