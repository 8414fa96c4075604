"""The way in in sentences: short for the helm, all of it on the back of the sheet of the bay."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shorefast.briefing.cards.content import CardApproach, CardContent
from shorefast.wording import CardWords

_ON_LINE_M = 1.5
"""Nearer to the line in than this counts as on it: our choice."""
_MOST_DEPTHS = 4


def before_it(approach: CardApproach, words: CardWords) -> Iterator[str]:
    """What is read before the way in: the look-round pass, room to turn, how near is enough."""
    yield words.say("helm.look_round")
    if math.isfinite(approach.pass_off_m):
        yield words.say(
            "helm.pass",
            metres=words.metres(approach.pass_off_m),
            bearing=words.bearing(approach.pass_toward_rad),
            water=words.metres(approach.pass_water_m),
        )
    yield words.say(
        "helm.turning",
        room=words.metres(approach.turning_room_m),
        needs=words.metres(approach.turning_needs_m),
    )
    if math.isfinite(approach.lie_limit_m):
        yield words.say(
            "helm.within",
            anchor=words.metres(approach.landing_limit_m),
            lie=words.metres(approach.lie_limit_m),
        )
    yield words.say("helm.handover")


def start(approach: CardApproach, words: CardWords) -> str:
    """Where the run begins; less than a hand steers to is on the line."""
    if abs(approach.to_windward_m) < _ON_LINE_M:
        return words.say("helm.start_on")
    return words.say(
        "helm.start_lee" if approach.to_windward_m < 0.0 else "helm.start",
        metres=words.metres(abs(approach.to_windward_m)),
        side=_side(approach.windward_side, words),
    )


def drifts(approach: CardApproach, words: CardWords) -> str:
    """Where her bow is blown, how fast she drifts, which way her stern walks."""
    leeway = words.say("helm.leeway", speed=words.slow_knots(approach.leeway_mps))
    return " ".join((_blown_off(approach.blown_off, words), leeway, _walks(approach.walks, words)))


def crosswind(approach: CardApproach, words: CardWords) -> str:
    """The wind across beyond which she is not held on the line."""
    said = words.say("helm.crosswind", wind=words.knots(approach.crosswind_most_mps))
    if math.isfinite(approach.crosswind_most_thruster_mps):
        wind = words.knots(approach.crosswind_most_thruster_mps)
        said += f" {words.say('helm.crosswind_thruster', wind=wind)}"
    if math.isfinite(approach.crosswind_turns_back_mps):
        wind = words.knots(approach.crosswind_turns_back_mps)
        with_it = math.isfinite(approach.crosswind_most_thruster_mps)
        gusts = "helm.crosswind_gusts_thruster" if with_it else "helm.crosswind_gusts"
        said += f" {words.say(gusts, wind=wind)}"
    return said


def abort(approach: CardApproach, words: CardWords) -> str:
    """On which bearing she drives out."""
    if not math.isfinite(approach.abort_rad):
        return words.say("helm.abort_unknown")
    return words.say(
        "helm.abort_rule",
        bearing=words.bearing(approach.abort_rad),
        metres=words.metres(approach.abort_least_m),
    )


def way_out_depths(approach: CardApproach, words: CardWords) -> Iterator[str]:
    """The water on the way out, a few distances on."""
    known = [one for one in approach.abort_depths if all(map(math.isfinite, one))]
    if not known or not math.isfinite(approach.abort_rad):
        return
    apart = max(1, -(-len(known) // _MOST_DEPTHS))
    told = [
        words.say("helm.depth_at", water=words.metres(water_m), metres=words.number(on_m))
        for on_m, water_m in known[apart - 1 :: apart]
    ]
    yield words.say("helm.depths", depths=", ".join(told))


def _blown_off(side: str, words: CardWords) -> str:
    if not side:
        return words.say("helm.blown_off_not")
    return words.say("helm.blown_off", side=_side(side, words))


def _side(side: str, words: CardWords) -> str:
    return words.say(f"side.{side}") if side in {"port", "starboard", "no"} else words.unknown


def _walks(side: str | None, words: CardWords) -> str:
    if side in {"port", "starboard"}:
        return words.say("helm.walks", side=_side(side, words))
    return words.say("helm.walks_not" if side == "no" else "helm.walks_unknown")


def goes_ahead(content: CardContent) -> str:
    """What is said where the weather line has to be fast before she begins her run.

    A tender carries it there; a swimmer cannot wait with its end.
    """
    return "ashore.none_ahead" if content.by == "swim" else "ashore.ahead"


def anchor_waters(content: CardContent, words: CardWords) -> tuple[tuple[str, str], ...]:
    """Water under the bow as the anchor goes, and where it lies, at the hour of the run in.

    Without a run worked out the charted depth there.
    """
    approach = content.approach
    called = {} if approach is None else {one.kind: one.water_m for one in approach.calls}
    if "let go" not in called:
        return ((words.say("bow.charted"), words.metres(content.water_m)),)
    return (
        (words.say("bow.let_go_in"), words.metres(called["let go"])),
        (words.say("bow.lies_in"), words.metres(called.get("bottom", math.nan))),
    )
