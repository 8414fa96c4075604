"""Ask the chain: the pull that its angle at the roller tells."""

from __future__ import annotations

import math

from shorefast.basis import Assumption, Basis
from shorefast.errors import BadInput
from shorefast.mooring import RodeForm
from shorefast.stay.answer import ChainReading
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.proof import rode_in_proof

READING_DOUBT_RAD = math.radians(3.0)
_LEAST_N, _MOST_N = 1.0, 60_000.0
# past this growth of pull for the doubt of one reading, the angle tells no pull
_TELLS_NOTHING = 3.0


def _pull_for(
    stay: Stay, judged: Judged, level_m: float, angle_rad: float
) -> tuple[float, RodeForm | None]:
    """Pull at which the chain leads at an angle below horizontal, and its form.

    NaN and None where the bed or the water level is unknown.
    """
    low, high = _LEAST_N, _MOST_N
    form = rode_in_proof(stay, judged.rigged, level_m, high)
    for _ in range(60):
        middle = math.sqrt(low * high)
        form = rode_in_proof(stay, judged.rigged, level_m, middle)
        if form is None:
            return math.nan, None
        if form.angle_rad > angle_rad:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high), form


def ask_the_chain(stay: Stay, judged: Judged, from_vertical_rad: float) -> ChainReading:
    """Pull from the chain's angle at the roller, at the stay's first water level.

    The angle is read to 3 degrees (our default). Once all chain is lifted the angle
    hardly changes with the pull: then the pull at lift-off is the low end, and the
    rest is not told.

    Parameters
    ----------
    from_vertical_rad : float
        0 is up and down. [rad]

    Raises
    ------
    BadInput
        For an angle that is not between plumb and level.
    """
    if not 0.0 <= from_vertical_rad < 0.5 * math.pi:
        raise BadInput(
            "Chain angle",
            f"{math.degrees(from_vertical_rad):g} degrees from the vertical",
            "0 (up and down) to less than 90 (level) wanted",
            "Read it again at the roller.",
        )
    level_m = float(judged.judgement.water_level_m[0, 0])
    angle = 0.5 * math.pi - from_vertical_rad
    basis = judged.judgement.basis | Basis(
        assumptions=(
            Assumption(
                f"The angle is read to {math.degrees(READING_DOUBT_RAD):.0f} degrees",
                "A worse reading widens the range",
            ),
        )
    )
    pull_n, form = _pull_for(stay, judged, level_m, angle)
    low_n, _ = _pull_for(stay, judged, level_m, min(angle + READING_DOUBT_RAD, 1.5706))
    high_n, _ = _pull_for(stay, judged, level_m, max(angle - READING_DOUBT_RAD, 0.001))
    if form is None or not math.isfinite(form.pull_n):
        nan = math.nan
        return ChainReading(angle, nan, nan, nan, False, nan, basis)
    lifted = form.on_bottom_m <= 0.0 or pull_n >= 0.99 * _MOST_N
    if lifted or not math.isfinite(form.angle_rad):
        told = high_n < _TELLS_NOTHING * low_n
        pull, high = (pull_n, high_n) if told else (math.nan, math.nan)
        return ChainReading(angle, pull, low_n, high, lifted, 0.0, basis)
    return ChainReading(angle, pull_n, low_n, high_n, False, form.on_bottom_m, basis)
