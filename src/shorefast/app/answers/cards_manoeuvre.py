"""The manoeuvre as the cards tell it: the way in, the proof, settling, leaving."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar

import numpy as np

from shorefast.basis import Basis, Finding
from shorefast.briefing import (
    TRANSIT_LETTERS,
    CardApproach,
    CardCall,
    CardContent,
    CardDoubledBack,
    CardLeaving,
    CardLetGo,
    CardMark,
    CardOff,
    CardOutcome,
    CardProof,
    CardTransit,
)
from shorefast.drawing import WayMarks
from shorefast.errors import ShorefastError
from shorefast.manoeuvre import (
    Approach,
    Ashore,
    Call,
    DoubledBack,
    Leaving,
    LeavingAt,
    LetGo,
    Mark,
    ProofStep,
    Proving,
    Settling,
    Transit,
    approach,
    ashore,
    leaving,
    proving,
    settling,
    waiting,
)
from shorefast.stay import Judged, Stay
from shorefast.wording import CardWords

_NEAR_CALLS_M = 2.5

T = TypeVar("T")


@dataclass(frozen=True)
class Worked:
    """Everything of the manoeuvre that could be worked out; what could not is None.

    ahead : whether the weather line has to be fast before she begins her run; None unknown
    left_out : what could not be worked out, and why
    """

    way: Approach | None
    led: Ashore
    ahead: bool | None
    proved: Proving | None
    settled: Settling | None
    left: Leaving | None
    left_out: tuple[Finding, ...]

    @property
    def basis(self) -> Basis:
        """All that these rest on."""
        basis = self.led.basis | Basis(findings=self.left_out)
        for one in (self.way, self.proved, self.settled, self.left):
            basis |= Basis() if one is None else one.basis
        return basis


def worked_of(stay: Stay, judged: Judged) -> Worked:
    """The whole manoeuvre of a judged stay; one part that cannot be told spoils no other."""
    left_out: list[Finding] = []

    def tried(where: str, work: Callable[[], T]) -> T | None:
        try:
            return work()
        except ShorefastError as trouble:
            left_out.append(Finding(f"Cards, {where}", f"not worked out: {trouble.sentence}"))
            return None

    way = tried("the way in", lambda: approach(stay))
    led = ashore(stay, judged, None if way is None else way.hold_off_m)
    waits = None if way is None else tried("waiting", lambda: waiting(way.way, led))
    proved = tried("the proof", lambda: proving(stay, judged))
    settled = None if proved is None else tried("settling", lambda: settling(stay, judged, proved))
    left = tried("leaving", lambda: leaving(stay, judged, 0))
    ahead = None if waits is None else waits.ahead
    return Worked(way, led, ahead, proved, settled, left, tuple(left_out))


def approach_of(found: Approach) -> CardApproach:
    """The way in, its calls and where it is broken off."""
    seen = found.look_round
    depths = [deep for _, deep in found.out.depths if math.isfinite(deep)]
    return CardApproach(
        line_in_rad=found.line_in_rad,
        to_windward_m=found.to_windward_m,
        windward_side=found.windward_side,
        astern_most_mps=found.astern_most_mps,
        leeway_mps=found.leeway_mps,
        blown_off=found.falls_off.to,
        walks=found.walks,
        crosswind_most_mps=found.crosswind.most_mps,
        crosswind_most_thruster_mps=found.crosswind.most_thruster_mps,
        crosswind_turns_back_mps=found.crosswind.turns_back_mps,
        turning_room_m=found.turning_room_m,
        turning_needs_m=found.turning_needs_m,
        abort_rad=found.out.bearing_rad,
        abort_least_m=min(depths, default=math.nan),
        calls=tuple(map(_call, found.calls)),
        landing_limit_m=found.limits.landing_m,
        lie_limit_m=found.limits.lie_m,
        can_be_held=found.can_be_held,
        pass_off_m=math.nan if seen is None else seen.off_m,
        pass_toward_rad=math.nan if seen is None else seen.toward_rad,
        pass_water_m=math.nan if seen is None else seen.least_water_m,
        abort_depths=found.out.depths,
        heading_rad=found.heading_rad,
    )


def _call(one: Call) -> CardCall:
    return CardCall(
        one.number, one.kind, one.who, one.off_m, one.chain_m, one.water_m,
        one.angle_slack_rad, one.angle_holding_rad, one.angle_dragging_rad,
    )  # fmt: skip


def proved_in(content: CardContent, found: Proving) -> CardContent:
    """The content with the proof in it."""
    needed = found.needed
    known = needed is not None and needed.revs_rpm > 0.0 and needed.reach == "reached"
    short = needed is not None and needed.reach in {"perhaps", "beyond"}
    return replace(
        content,
        proof=tuple(map(_step, found.steps)),
        need_rpm=needed.revs_rpm if known and needed is not None else math.nan,
        need_short_n=needed.pull_n if short and needed is not None else math.nan,
        moving_m=found.moving_m,
        transits=tuple(_transit(*pair) for pair in transits_of(found)),
        outcomes=tuple(
            CardOutcome(one.sign, one.means, one.do, one.tempts) for one in found.outcomes
        ),
    )


def _step(one: ProofStep) -> CardProof:
    return CardProof(
        one.number, one.revs_rpm, one.revs_share, one.pull_n, one.low_n, one.high_n,
        one.wind_ahead_mps, one.wind_abeam_mps, one.angle_rad, one.angle_low_rad,
        one.angle_high_rad, one.all_lifted, one.hold_s, one.off_m,
    )  # fmt: skip


def transits_of(found: Proving) -> list[tuple[Transit, Transit | None]]:
    """The transits of the day, each with the same marks' use by night; then those of the night."""
    night = [one for one in found.transits if one.by_night]
    rows: list[tuple[Transit, Transit | None]] = []
    for one in found.transits:
        if one.by_night:
            continue
        same = next((other for other in night if _alike(one, other)), None)
        night = [other for other in night if other is not same]
        rows.append((one, same))
    return [*rows, *((one, one) for one in night)]


def _alike(one: Transit, other: Transit) -> bool:
    return (one.near.name, one.far.name, one.far.kind, one.along) == (
        other.near.name, other.far.name, other.far.kind, other.along,
    )  # fmt: skip


def _transit(one: Transit, by_night: Transit | None) -> CardTransit:
    return CardTransit(
        _mark(one.near), _mark(one.far), one.bearing_rad, one.moved_m, by_night is not None,
        one.along, by_night is not None and by_night.lamps,
    )  # fmt: skip


def _mark(one: Mark) -> CardMark:
    return CardMark(one.name, one.kind, one.bearing_rad, one.distance_m)


def settled_in(content: CardContent, found: Settling) -> CardContent:
    """The content with how each line is left; in the lie's own order, as settling tells it."""
    lines = tuple(
        replace(line, pretension_n=one.pull_n, take_in_m=one.take_in_m, sag_m=one.sag_m)
        for line, one in zip(content.lines, found.lines, strict=False)
    )
    off = tuple(
        CardOff(one.at_utc, one.tide, one.off_engine_m, one.off_rest_m, one.off_least_m)
        for one in found.at
        if one.tide
    )
    known = [one.off_least_m for one in found.at if math.isfinite(one.off_least_m)]
    night = replace(content.night, wake_off_m=min(known, default=math.nan))
    return replace(content, lines=lines or content.lines, off=off, night=night)


def left_in(content: CardContent, judged: Judged, found: Leaving) -> CardContent:
    """The content with leaving in it."""
    return replace(
        content,
        leaving=_leaving_at(judged, found),
        leaves_rad=found.out.bearing_rad,
        leaves_clear_m=found.out.clear_m,
    )


def _leaving_at(judged: Judged, found: Leaving) -> tuple[CardLeaving, ...]:
    """Leaving at first light, in the worst hour, and as planned: in the order of the clock."""
    hours = {one.at_utc: one for one in found.hours}
    told: dict[str, LeavingAt] = {}
    if found.first_light is not None:
        told["first_light"] = found.first_light
    worst = judged.judgement.worst
    if worst is not None and hours:
        told["worst"] = _nearest(hours, judged, worst[1])
    leave_by = judged.judgement.leave_by_utc
    if hours:
        before = [at for at in hours if leave_by is None or at <= leave_by]
        told["planned"] = hours[max(before or hours)]
    rows = [_leaving(when, one) for when, one in told.items()]
    return tuple(sorted(rows, key=lambda row: row.at_utc))


def _nearest(hours: dict[datetime, LeavingAt], judged: Judged, time: int) -> LeavingAt:
    at = judged.moment(time)
    return min(hours.values(), key=lambda one: abs((one.at_utc - at).total_seconds()))


def _leaving(when: str, one: LeavingAt) -> CardLeaving:
    feasible = {"yes": True, "no": False}.get(one.feasible)
    return CardLeaving(
        when, one.at_utc, feasible, tuple((why.reason, why.of) for why in one.why),
        tuple(map(_let_go, one.order)), _doubled(one.doubled_back), one.room_m, one.room_of,
        one.heave_s, one.needs_s, one.gust_mps, one.wind_from_rad, one.hove_m,
    )  # fmt: skip


def _let_go(one: LetGo) -> CardLetGo:
    return CardLetGo(one.name, one.how)


def _doubled(one: DoubledBack | None) -> CardDoubledBack | None:
    if one is None:
        return None
    return CardDoubledBack(one.name, one.already or one.enough, one.instead)


def way_marks(found: Approach | None, proved: Proving | None, words: CardWords) -> WayMarks:
    """What the sheet of the bay shows of the manoeuvre."""
    transits = [] if proved is None else [one for one, _ in transits_of(proved)]
    marks = WayMarks(
        transits=tuple(
            (
                (one.near.east_m, one.near.north_m),
                (one.far.east_m, one.far.north_m),
                words.say("bay.transit", letter=letter),
            )
            for letter, one in zip(TRANSIT_LETTERS, transits, strict=False)
            if np.isfinite([one.far.east_m, one.far.north_m]).all()
        )
    )
    return marks if found is None else _with_way(marks, found, words)


def _apart(calls: Sequence[Call]) -> list[Call]:
    """The calls that stand on the sheet: of two too near for both their numbers the weightier."""
    told: list[Call] = []
    for kind in ("hold", "snub", "veer"):
        for one in calls:
            near = any(abs(one.off_m - other.off_m) < _NEAR_CALLS_M for other in told)
            if one.kind == kind and not near:
                told.append(one)
    return told


def _with_way(marks: WayMarks, found: Approach, words: CardWords) -> WayMarks:
    way = found.way
    start, hold = way.roller_at(way.begins_at_m, way.start_across_m), way.roller_at(way.hold_m)
    called = _apart(found.calls)
    out = found.out.bearing_rad
    least = min((deep for _, deep in found.out.depths if math.isfinite(deep)), default=math.nan)
    return replace(
        marks,
        start=(start, words.say("bay.start")),
        line_in=(start, hold, words.say("bay.line_in", bearing=words.bearing(found.line_in_rad))),
        calls=tuple(
            (way.roller_at(one.made_good_m), words.number(one.off_m)) for one in called
        ),
        way_out=(
            (hold, out, words.say(
                "bay.abort", bearing=words.bearing(out), metres=words.metres(least)
            ))
            if math.isfinite(out)
            else None
        ),
        turning=(
            (start, 0.5 * found.turning_needs_m, words.say("bay.turning"))
            if math.isfinite(found.turning_needs_m)
            else None
        ),
    )  # fmt: skip
