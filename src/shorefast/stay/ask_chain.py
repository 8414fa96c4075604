"""Ask the chain: the pull that its angle at the roller tells."""

from __future__ import annotations

import math
from typing import NamedTuple

from shorefast.errors import BadInput
from shorefast.mooring import RodeForm
from shorefast.stay.answer import ChainReading
from shorefast.stay.chain_lead import Hanging, hanging, lead_basis
from shorefast.stay.judge import Judged
from shorefast.stay.plan import Stay
from shorefast.stay.proof import proof_toward_rad

_LEAST_N, _MOST_N = 1.0, 60_000.0
# a search that ends here found no such pull
_ALL_N = 0.99 * _MOST_N
# past this growth of pull for the doubt of one reading, the angle tells no pull
_TELLS_NOTHING = 3.0
_HALVINGS, _EDGE_HALVINGS = 60, 26


class PullTold(NamedTuple):
    """What an angle tells: pull, its least and most [N], all lifted, chain on the bed. [m]

    pull_n and high_n are NaN where the angle no longer tells them; may_be_lifted: some
    pull in the range lifts all of it.
    """

    pull_n: float
    low_n: float
    high_n: float
    all_lifted: bool
    on_bottom_m: float
    may_be_lifted: bool


_NOTHING = PullTold(math.nan, math.nan, math.nan, False, math.nan, False)


def _pull_for(chain: Hanging, angle_rad: float) -> tuple[float, RodeForm]:
    """Pull at which the chain leads at an angle below horizontal, and its form."""
    low, high = _LEAST_N, _MOST_N
    form = chain.form(high)
    for _ in range(_HALVINGS):
        middle = math.sqrt(low * high)
        form = chain.form(middle)
        if form.angle_rad > angle_rad:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high), form


def _edge(chain: Hanging, angle_rad: float, side: float) -> float:
    """Least (side -1) or greatest pull (+1) under which 19 of 20 read an angle so. [N]

    NaN where no pull is too great for it.
    """

    def seen_rad(pull_n: float) -> float:
        led = chain.led(pull_n)
        return led.form.angle_rad + side * led.read_doubt_rad

    low, high = _LEAST_N, _MOST_N
    if side > 0.0 and not seen_rad(high) < angle_rad:
        return math.nan
    for _ in range(_EDGE_HALVINGS):
        middle = math.sqrt(low * high)
        if seen_rad(middle) > angle_rad:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high)


def pull_told(chain: Hanging, angle_rad: float) -> PullTold:
    """The pull that an angle below horizontal at the roller tells, with its range.

    All NaN where the chain cannot hang so: also where it leads flatter than any pull can
    draw it, by more than all doubts together.
    """
    nan = math.nan
    pull_n, form = _pull_for(chain, angle_rad)
    if not math.isfinite(form.pull_n):
        return _NOTHING
    low_n, high_n = _edge(chain, angle_rad, -1.0), _edge(chain, angle_rad, 1.0)
    if low_n >= _ALL_N:
        return PullTold(nan, nan, nan, True, 0.0, True)
    lifted = form.on_bottom_m <= 0.0 or pull_n >= _ALL_N or not math.isfinite(form.angle_rad)
    if not lifted:
        may = math.isnan(high_n) or chain.form(high_n).on_bottom_m <= 0.0
        return PullTold(pull_n, low_n, high_n, False, form.on_bottom_m, may)
    if high_n < _TELLS_NOTHING * low_n:
        return PullTold(pull_n, low_n, high_n, True, 0.0, True)
    return PullTold(nan, low_n, nan, True, 0.0, True)


def ask_the_chain(
    stay: Stay, judged: Judged, from_vertical_rad: float, out_m: float | None = None
) -> ChainReading:
    """Pull from the chain's angle at the roller, at the stay's first water level.

    The range holds every pull under which 19 of 20 crews may read that angle: by the
    reading (3 degrees, our default), by what is out, the water, the chain's weight, the
    bed's own deviation and where the anchor landed. Once all chain is lifted the angle
    hardly changes with the pull: then the low end is told, and the rest is not.

    Parameters
    ----------
    from_vertical_rad : float
        0 is up and down. [rad]
    out_m : float, optional
        How much is out; as much as in the lie where left out. [m]

    Raises
    ------
    BadInput
        For an angle that is not between plumb and level; for more chain than is aboard.
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
    basis = judged.judgement.basis | lead_basis(stay)
    chain = hanging(stay, judged.rigged, level_m, proof_toward_rad(stay), out_m)
    told = _NOTHING if chain is None else pull_told(chain, angle)
    return ChainReading(angle, *told, basis)
