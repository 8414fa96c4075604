"""What is told beside a verdict and decides nothing: wind to the side, gusts, waves, wash."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, degrees, kilograms, use_words

if TYPE_CHECKING:
    from shorefast.stay import Comfort, GustAnswer, Judgement, Snatch, WaveLoad, WindToSide

_GRAVITY_MPS2 = 9.81


def beside_words(judgement: Judgement) -> tuple[str, ...]:
    """What is told beside the verdict, a line each; empty where nothing is."""
    said = [_waves(judgement.waves)] if judgement.waves is not None else []
    said.extend(_comfort(one) for one in judgement.comfort)
    said.extend(_snatches(judgement.snatch))
    if judgement.sides:
        said.append(_sides(judgement.sides))
    if judgement.gust_answer is not None:
        said.append(_gusts(judgement.gust_answer))
    return tuple(said)


def _waves(push: WaveLoad) -> str:
    along, side = push.forward_n, push.starboard_n
    ways = [
        f"{kilograms(abs(force_n))} {way}"
        for force_n, way in (
            (along, "ahead" if along > 0.0 else "astern"),
            (side, "to starboard" if side > 0.0 else "to port"),
        )
        if abs(force_n) >= 5.0
    ]
    return f"Waves push her {' and '.join(ways) or 'hardly at all'}, in the loads above."


def _comfort(ridden: Comfort) -> str:
    hard = f"{ridden.heave_mps2 / _GRAVITY_MPS2:.2f} g up and down"
    lean = f"{math.degrees(ridden.lean_rad):.1f} degrees of lean"
    name = "In the waves" if ridden.of == "waves" else "In a wash on her beam"
    fit = f"fit for {ridden.fit_for}" if ridden.fit_for else "past every limit for work aboard"
    return f"{name}: {hard}, {lean} (rms, if she does not roll in step); {fit}."


def _snatches(found: tuple[Snatch, ...]) -> list[str]:
    """One line for waves, one for wash: the shore line to which each adds most of its limit."""
    said = []
    for of, name in (("waves", "The highest wave"), ("wash", "A wash")):
        lines = [one for one in found if one.of == of]
        if lines:
            said.append(_snatch(name, max(lines, key=_of_limit)))
    return said


def _of_limit(one: Snatch) -> float:
    share = one.adds_high_n / one.limit_n
    return share if math.isfinite(share) else -1.0


def _snatch(name: str, most: Snatch) -> str:
    said = (
        f"{name} adds {kilograms(most.adds_low_n)} to {kilograms(most.adds_high_n)}"
        f" to the {most.name}, not in the loads above"
    )
    if most.slack_share <= 0.0:
        return f"{said}."
    return (
        f"{said}; slack, as it may be in {most.slack_share:.0%} of hours and members, it comes"
        f" taut with a jerk of up to {kilograms(most.jerk_n)}."
    )


def _sides(sides: tuple[WindToSide, ...]) -> str:
    each = [
        f"{'backed' if one.turned_rad < 0.0 else 'veered'} {degrees(abs(one.turned_rad))}:"
        f" {_share(one.share_past_limit)} past a limit,"
        + (" she may touch" if one.touches else f" use up to {use_words(one.greatest_use)}")
        for one in sides
    ]
    return f"With the wind {'; '.join(each)}."


def _share(share: float) -> str:
    return f"{share:.0%} of members" if math.isfinite(share) else f"{UNKNOWN} how many members"


def _gusts(answer: GustAnswer) -> str:
    if not math.isfinite(answer.share):
        return "Which gust she answers is unknown: on these lines she does not swing back."
    periods = [
        f"{way} {_from_to(low, high)}"
        for way, low, high in zip(answer.way, answer.low_s, answer.high_s, strict=True)
        if math.isfinite(low) and math.isfinite(high)
    ]
    return (
        f"She answers the gust over about {_seconds(answer.averaging_s)} s:"
        f" {answer.share:.0%} of the forecast's, which counts in full"
        f" (her own periods: {', '.join(periods)} s)."
    )


def _from_to(low_s: float, high_s: float) -> str:
    low, high = _seconds(low_s), _seconds(high_s)
    return low if low == high else f"{low} to {high}"


def _seconds(time_s: float) -> str:
    return f"{time_s:.0f}" if time_s >= 10.0 else f"{time_s:.1f}"
