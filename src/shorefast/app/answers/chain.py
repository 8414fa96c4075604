"""``shorefast chain``: what does this chain angle mean?"""

from __future__ import annotations

import math
from pathlib import Path

from shorefast.app.answer import Answer
from shorefast.app.answers.noticed import with_noticed
from shorefast.quantities import to_si
from shorefast.readers import read_stay
from shorefast.stay import ChainReading, ask_the_chain, judge
from shorefast.wording import from_vertical, kilograms, metres


def _text(told: ChainReading) -> str:
    angle = from_vertical(told.angle_below_horizontal_rad)
    lead = f"Chain {angle}: "
    if told.all_lifted and math.isnan(told.pull_low_n):
        return (
            f"{lead}no pull draws the chain so flat. Is more out than told, was it read while she"
            " surged, or is it caught on a rock? Count the marks and read it again."
        )
    if told.all_lifted and math.isnan(told.pull_n):
        return (
            f"{lead}all of it is lifted, and the angle no longer tells. The pull is"
            f" {kilograms(told.pull_low_n)} or more; look at the lines ashore instead."
        )
    if math.isnan(told.pull_n):
        return f"{lead}the pull is unknown, since the bed or the water there is."
    least, most = kilograms(told.pull_low_n), kilograms(told.pull_high_n)
    span = f"({least} or more)" if math.isnan(told.pull_high_n) else f"({least} to {most})"
    if told.all_lifted:
        return f"{lead}all of it is lifted; the pull is about {kilograms(told.pull_n)} {span}."
    said = (
        f"{lead}the pull is about {kilograms(told.pull_n)} {span};"
        f" {metres(told.on_bottom_m)} of it lie on the bed."
    )
    if told.may_be_lifted:
        said += " All of it may be lifted already"
        said += ", and the angle then tells no more." if math.isnan(told.pull_high_n) else "."
    return said


def answer_chain(
    stay_path: Path, from_vertical_deg: float, chain_out_m: float | None = None
) -> Answer:
    """The pull that the chain's angle at the roller tells.

    chain_out_m : out as it is read; as in the lie where left out

    Raises
    ------
    BadInput, Unreadable
        As ``judge``, for an angle that cannot be, and for more chain than is aboard.
    """
    stay = read_stay(stay_path)
    angle_rad = to_si(from_vertical_deg, "angle", "deg")
    told = ask_the_chain(stay, judge(stay), angle_rad, chain_out_m)
    keys = {
        "angle_below_horizontal_rad": told.angle_below_horizontal_rad,
        "pull_n": told.pull_n,
        "pull_low_n": told.pull_low_n,
        "pull_high_n": told.pull_high_n,
        "all_lifted": told.all_lifted,
        "on_bottom_m": told.on_bottom_m,
        "may_be_lifted": told.may_be_lifted,
    }
    return Answer("chain", keys, told.basis, with_noticed(_text(told), told.basis))
