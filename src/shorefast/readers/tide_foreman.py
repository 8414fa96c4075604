"""Parts of the tide that the printed table lacks, worked out by a tide library."""

from __future__ import annotations

import math

import numpy as np

from shorefast.weather import TIDE_NAMES, TideConstituent, constituent

_HOUR_S = 3600.0
# other names for the table's and the library's parts
_ALIASES = {
    "LAM2": "LDA2", "LAMBDA2": "LDA2", "RHO": "RHO1", "MSF": "MSF", "GAMMA2": "GAM2",
    "ALPHA2": "H1", "BETA2": "H2", "SIGMA1": "SIG1",
}  # fmt: skip


def table_name(name: str) -> str:
    """A constituent's name as the table has it."""
    word = name.upper()
    return _ALIASES.get(word, word)


def by_table(names: list[str]) -> bool:
    """Whether the printed table holds every one of these names."""
    return all(table_name(one) in TIDE_NAMES for one in names)


def from_library(
    name: str,
    constants: tuple[float, float],
    lat_deg: float,
    epoch_utc: np.datetime64,
    node_utc: np.datetime64,
) -> TideConstituent | None:
    """A part by the library's arguments; None where it does not know the name.

    A yearly or daily part (SA, S1) without ``_KV`` counts from the sun alone, with it
    from the sun's perigee too.

    Parameters
    ----------
    constants : tuple
        Amplitude [m] and lag on Greenwich [rad].
    lat_deg : float
        Of the station, for the node factors.

    Source
    ------
    foreman-1977, as kept in the library utide.
    """
    from utide._ut_constants import constit_index_dict, ut_constants
    from utide.harmonics import FUV

    plain, from_perigee = name.upper().removesuffix("_KV"), name.upper().endswith("_KV")
    word = table_name(plain)
    if word in ("SA", "S1") and not from_perigee:
        return constituent(word, *constants, epoch_utc, node_utc)
    word = {"M1": "NO1"}.get(word, word)
    if word not in constit_index_dict:
        return None
    at = np.array([constit_index_dict[word]])
    days = [_day(when) for when in (epoch_utc, node_utc)]
    argument = FUV(np.array(days[:1]), days[0], at, lat_deg, [0, 0, 0, 0])[2]
    factor, shift, _ = FUV(np.array(days[1:]), days[1], at, lat_deg, [0, 0, 0, 0])
    turns = float(np.squeeze(argument)) + float(np.squeeze(shift))
    return TideConstituent(
        name=name,
        amplitude_m=constants[0],
        phase_lag_rad=constants[1],
        speed_radps=2.0 * math.pi * float(ut_constants.const.freq[at[0]]) / _HOUR_S,
        node_factor=float(np.squeeze(factor)),
        argument_rad=2.0 * math.pi * (turns % 1.0),
    )


def _day(when: np.datetime64) -> float:
    """Days as the library counts them, from the day before the first of January of year 1."""
    since = when.astype("datetime64[s]") - np.datetime64("1970-01-01T00:00:00", "s")
    return 719163.0 + float(since / np.timedelta64(86400, "s"))
