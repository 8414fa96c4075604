"""The approach, said: whether she can be held, where she begins, the calls, who says stop."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from shorefast.wording.able import knots_tenths
from shorefast.wording.numbers import (
    UNKNOWN,
    bearing,
    duration,
    knots,
    metres,
)

if TYPE_CHECKING:
    from shorefast.manoeuvre import Approach, Call, Waiting
    from shorefast.stay import Side

_SAYS = {
    "let go": "let go",
    "bottom": "on the bottom: two metres more now",
    "veer": "veer",
    "snub": "snub: hold until it is tight, then veer",
    "hold": "stop here; hold the chain",
    "engine stopped": "engine stopped: said, and said back",
    "line": "weather line first, by swimmer or tender",
    "prove": "stern lines on: prove, then the rest",
}
_GIVES = {
    "helm": "the helm is hard over and she still turns",
    "angle": "her bow is too far off for her stern to lead",
}


def approach_sentence(found: Approach) -> str:
    """Whether and how she is brought in, in one sentence."""
    wind = found.way.arrival.wind
    blows = f"{knots(wind.mean_mps)} from {bearing(wind.from_rad)}"
    if not found.can_be_held:
        most = knots(found.crosswind.most_there_mps)
        return (
            f"Do not bring her in so: in {blows} she cannot be held on her way astern;"
            f" from there she is held in up to {most}. Wait, or choose another way to lie."
        )
    return (
        f"Astern along {bearing(found.line_in_rad)}, bow {bearing(found.heading_rad)}, at"
        f" {knots_tenths(found.astern_most_mps)} and no faster; let go {metres(found.let_go_off_m)}"
        f" off, stop {metres(found.hold_off_m)} off, in {blows}."
    )


def start_words(found: Approach) -> list[str]:
    """Look round, where the run begins and what she does before it."""
    side = found.windward_side
    rows = [_look_round_words(found), _turning_words(found)]
    begin = abs(found.to_windward_m)
    where = (
        "on the line"
        if begin < 1.0
        else f"{metres(begin)} to "
        + ("windward of it" if found.to_windward_m > 0.0 else "leeward of it")
    )
    rows.append(
        f"Begin {where}, stern toward the shore. If she lies stopped while the anchor goes"
        f" down ({duration(found.way.fall_s)}) she drifts {metres(found.stopped_drift_m)} to"
        f" leeward: then begin that far to windward, to {side} of the line as she lies."
    )
    falls = found.falls_off
    if falls.to:
        rows.append(
            f"Left alone her bow falls off to {falls.to}, 30 degrees in {duration(falls.after_s)}."
        )
    walks = {
        None: f"Which way her stern walks astern is {UNKNOWN}: try it before.",
        "no": "Her stern does not walk astern.",
    }
    rows.append(walks.get(found.walks, f"Astern her stern walks to {found.walks} at first."))
    return rows


def _look_round_words(found: Approach) -> str:
    turn = found.look_round
    if turn is None:
        return "Look round: no clear pass along the shore is known; come no nearer than you see."
    return (
        f"Look round first: pass along {bearing(turn.toward_rad)}, {metres(turn.off_m)} off,"
        f" with {metres(turn.least_water_m)} to spare under her."
    )


def _turning_words(found: Approach) -> str:
    room, needs = found.turning_room_m, found.turning_needs_m
    if not math.isfinite(room):
        return f"Room to turn is {UNKNOWN}; she needs {metres(needs)}."
    but = "" if room >= needs else " Too little: turn farther out and back in."
    return f"Room to turn where the run begins: {metres(room)}; she needs {metres(needs)}.{but}"


def crosswind_words(found: Approach) -> list[str]:
    """What wind she can be held in, by whom it is called, and the way out."""
    cross = found.crosswind
    alone = knots(cross.most_mps)
    more = cross.most_thruster_mps
    thruster = (
        "no thruster is fitted" if math.isnan(more) else f"{knots(more)} with short thruster bursts"
    )
    side = "right" if cross.from_right else "left"
    rows = [
        f"Across her way: {knots(cross.now_mps)} now, from the {side} going in. She is held in up"
        f" to {alone} square across by helm alone, then {_GIVES[cross.gives]}; {thruster}."
    ]
    if cross.hardest_mps > cross.holds:
        rows.append(
            f"The hardest wind told for that hour puts {knots(cross.hardest_mps)} across: wait"
            " until it has gone by."
        )
    elif cross.now_mps > cross.turns_back_mps:
        rows.append("That is close: a gust can take her off her way. Be ready to break off.")
    best = "it" if math.isnan(more) else "the best of these"
    rows.append(
        "So says a helm that sees at once and never errs, in a wind that swings 15 degrees; a usual"
        f" crew in gusts turns back at three quarters of {best}, {knots(cross.turns_back_mps)}."
    )
    rows.append(
        "Helm hard over for five seconds and the marks still open: the helm drives out, once nobody"
        ' and no line is near the propeller. Anybody may call "abort", and nobody argues.'
    )
    rows.append(_out_words(found))
    return rows


def _out_words(found: Approach) -> str:
    out = found.out
    if not math.isfinite(out.bearing_rad):
        return "Way out if broken off: no clear bearing is known. Go out the way you came in."
    depths = ", ".join(f"{metres(far)}: {metres(deep)}" for far, deep in out.depths)
    return (
        f"Way out if broken off: {bearing(out.bearing_rad)}. Least water across it, the bed's"
        f" doubt taken off, from the hold, {depths}."
    )


def waiting_words(waits: Waiting) -> str:
    """How far she is set while the weather line goes, and what to do about it."""
    if waits.ahead is None:
        return "How she waits for the weather line is unknown: nobody carries it."
    takes = duration(waits.carry_s)
    if not waits.ahead:
        return (
            f"While the weather line goes ({takes}) helm and throttle hold her: she is set"
            f" {metres(waits.set_m)}."
        )
    set_so = f"set {metres(waits.set_m)}" if math.isfinite(waits.set_m) else "set ashore"
    if waits.can_go_ahead:
        return (
            f"The weather line takes {takes} to go; waiting for it she would be {set_so}. So"
            " the tender goes first: the line fast ashore before she begins her run, its end in"
            " the tender, a length off to one side; it is handed up once she has stopped and"
            ' "engine stopped" is answered.'
        )
    return (
        f"The weather line takes {takes} to go; waiting for it she is {set_so} with the"
        " engine stopped and started again. No tender can go ahead: begin to windward, take"
        " the swimmer up again and go round where she is set too far."
    )


def limits_words(found: Approach) -> str:
    """Within what she ends, at least 95 times in 100 of those not broken off."""
    limits = found.limits
    if not math.isfinite(limits.landing_m):
        return f"Within what a usual crew brings her to her lie in that hour's gusts is {UNKNOWN}."
    return (
        f"A usual crew in that hour's gusts: the anchor within {metres(limits.landing_m)} of its"
        f" place, she within {metres(limits.lie_m)} of her lie, at least 95 times in 100 of those"
        " not broken off."
    )


def in_patch_words(share: float, sides: Sequence[Side]) -> str:
    """How many of the anchors of usual crews lie where the lie still is sound."""
    if not math.isfinite(share):
        return f"How many of their anchors lie where the lie still is sound is {UNKNOWN}."
    said = (
        f"About {100.0 * share:.0f} of 100 such anchors, give or take ten, lie in the patch from"
        " which the lie still is sound."
    )
    near = min(sides, key=lambda one: one.reach_m, default=None)
    if share > 0.99 or near is None:
        return said
    return (
        f"{said} Where one lies outside she is to be judged anew; the patch ends"
        f" {metres(near.reach_m)} {near.way}."
    )


def call_rows(found: Approach) -> list[str]:
    """The calls as a table: off, chain, water, the chain's lead, who, what."""
    head = f"{'off':>6}{'chain':>7}{'water':>7}  {'degrees from the vertical':<26} who"
    under = f"{'':>20}  {'slack':>5}{'holding':>9}{'dragging':>10}"
    return [head, under, *(_call_row(call) for call in found.calls)]


def _call_row(call: Call) -> str:
    leads = (call.angle_slack_rad, call.angle_holding_rad, call.angle_dragging_rad)
    slack, holding, dragging = (_lead(lead) for lead in leads)
    return (
        f"{metres(call.off_m):>6}{metres(call.chain_m):>7}{metres(call.water_m):>7}  "
        f"{slack:>5}{holding:>9}{dragging:>10}   {call.who:<5} {_SAYS[call.kind]}"
    )


def _lead(angle_rad: float) -> str:
    """The chain's lead from the vertical, in whole degrees."""
    return "" if math.isnan(angle_rad) else f"{90.0 - math.degrees(angle_rad):.0f}"
