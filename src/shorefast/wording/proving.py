"""The proof in words: the steps of revs, the marks to watch, what moving is, what to do."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Mapping
from importlib import resources
from typing import TYPE_CHECKING

from shorefast.quantities import from_si
from shorefast.wording.numbers import (
    UNKNOWN,
    bearing,
    degrees,
    duration,
    kilograms,
    knots,
    metres,
)

if TYPE_CHECKING:
    from shorefast.boat import RevsFor
    from shorefast.manoeuvre import Mark, Outcome, ProofStep, Proving, Transit

_FELT_N, _WIND_N, _TURNED_RAD = 50.0, 20.0, math.radians(1.0)


def _catalogue() -> Mapping[str, Mapping[str, str]]:
    text = resources.files("shorefast.wording").joinpath("proving.toml").read_text("utf-8")
    return tomllib.loads(text)


_SAID = _catalogue()


def mark_words(mark: Mark) -> str:
    """A mark as it is called: its name in the bay, else what and where it is."""
    if mark.name:
        return mark.name
    if mark.kind == "behind":
        return "something that stands in line behind it"
    where = f"{metres(mark.distance_m)} off, {bearing(mark.bearing_rad)}"
    return f"the {mark.kind} {where}"


def revs_words(step: ProofStep) -> str:
    """The revs of a step: revolutions where they are known, else a share of full revs."""
    if math.isfinite(step.revs_rpm):
        return f"{step.revs_rpm:.0f} rpm"
    return _share(step.revs_share)


def _share(share: float) -> str:
    return "full revs" if share >= 0.995 else f"{share:.0%} of full"


def lead_words(step: ProofStep) -> str:
    """How the chain should lead, in degrees from the vertical: "42 (40-44)"."""
    if not math.isfinite(step.angle_rad):
        return UNKNOWN
    # flat below the horizontal is far from the vertical
    low, middle, high = (
        from_si(0.5 * math.pi - angle, "angle", "deg")
        for angle in (step.angle_high_rad, step.angle_rad, step.angle_low_rad)
    )
    lifted = " *" if step.all_lifted else ""
    return f"{middle:.0f} ({low:.0f}-{high:.0f}){lifted}"


def _bare(said: str, unit: str) -> str:
    return said.removesuffix(f" {unit}")


_HEADS = (
    ("", "revs", "pull, kg", "as wind, kn", "chain, degrees", "she goes", "stern", "water", "hold"),
    ("", "astern", "", "bow abeam", "from vertical", "astern", "off", "under her", ""),
)


def _row(step: ProofStep) -> tuple[str, ...]:
    pull, low, high = (
        _bare(kilograms(force), "kg") for force in (step.pull_n, step.low_n, step.high_n)
    )
    ahead, abeam = (
        _bare(knots(speed), "kn") for speed in (step.wind_ahead_mps, step.wind_abeam_mps)
    )
    return (
        str(step.number), revs_words(step), f"{pull} ({low}-{high})", f"{ahead:>3} {abeam:>5}",
        lead_words(step), metres(step.astern_m), metres(step.off_m), metres(step.water_m),
        duration(step.hold_s),
    )  # fmt: skip


def table(rows: list[tuple[str, ...]]) -> list[str]:
    """Rows of cells as lines, every column as wide as it must be, to the right."""
    wide = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  " + "  ".join(f"{cell:>{room}}" for cell, room in zip(row, wide, strict=True)).rstrip()
        for row in rows
    ]


def proving_words(told: Proving) -> list[str]:
    """How to prove her, line by line."""
    if not told.steps:
        return [f"How to prove her is {UNKNOWN}: the boat file tells no engine."]
    said = [
        f"How to prove her: astern toward {bearing(told.toward_rad)} in steps, each held until"
        " its time is out and nothing moves.",
        *table([*_HEADS, *(_row(step) for step in told.steps)]),
    ]
    if any(step.all_lifted for step in told.steps):
        said.append("  * all chain is lifted: from there the angle no longer tells")
    said += [f"  {one}" for one in (*_of_water(told), *_of_pull(told), *_of_moving(told))]
    return [*said, "What it may show:", *(f"  {outcome_words(one)}" for one in told.outcomes)]


def _of_water(told: Proving) -> Iterator[str]:
    """Where too little water is left under her, and what more there must be."""
    if told.shoal_from is None:
        return
    step, last = told.steps[told.shoal_from - 1], told.steps[-1]
    yield (
        f"NOT from {revs_words(step)} on at this water: {_left_words(step)} there,"
        f" {_left_words(last)} at the last step, {metres(told.water_wanted_m)} wanted. Less"
        " chain, a way toward deeper water, or"
        f" {metres(told.water_wanted_m - last.water_m)} more water."
    )


def _left_words(step: ProofStep) -> str:
    if step.water_m <= 0.0:
        return f"the {step.water_under} touches"
    return f"{metres(step.water_m)} are left under the {step.water_under}"


def _of_pull(told: Proving) -> Iterator[str]:
    """What the steps are worth: wind, what the anchor feels, need, direction."""
    idle = [step for step in told.steps if step.shank_n < _FELT_N]
    if idle and len(idle) < len(told.steps):
        yield (
            f"Up to {revs_words(idle[-1])} the chain on the bed takes it all: the anchor feels"
            f" it from {revs_words(told.steps[len(idle)])} on."
        )
    yield from _of_wind(told)
    yield from _of_need(told)


def _of_wind(told: Proving) -> Iterator[str]:
    if not math.isfinite(told.wind_adds_n):
        yield f"What the wind of that hour adds or takes is {UNKNOWN}."
    elif abs(told.wind_adds_n) >= _WIND_N:
        way = "adds" if told.wind_adds_n > 0.0 else "takes away"
        yield (
            f"The mean wind of that hour {way} {kilograms(abs(told.wind_adds_n))}: the chain's"
            " lead, her place, what the anchor feels and the revs for the need are told with it."
        )
    if abs(told.wind_across_n) >= _WIND_N:
        side = "starboard" if told.wind_across_n > 0.0 else "port"
        yield (
            f"It sets her to {side} with {kilograms(abs(told.wind_across_n))}: keep her in line"
            " with the helm."
        )


def _of_need(told: Proving) -> Iterator[str]:
    if told.needed is None:
        yield f"The revs for what the stay asks are {UNKNOWN}."
    elif told.needed.pull_n <= 0.0:
        yield "The stay asks nothing of the anchor that its chain does not take."
    else:
        yield _need_words(told.needed)
    if math.isfinite(told.need_turned_rad) and abs(told.need_turned_rad) >= _TURNED_RAD:
        side = "right" if told.need_turned_rad > 0.0 else "left"
        yield (
            f"When most is asked of it the anchor is pulled {degrees(abs(told.need_turned_rad))}"
            f" to the {side} of where this proves it."
        )


def _need_words(need: RevsFor) -> str:
    """The revs that prove what the stay asks, or that none do."""
    asked = f"What the stay asks of the anchor is {kilograms(need.pull_n)} at the roller"
    if need.share <= 0.0:
        return f"{asked}: the mean wind of that hour alone pulls as much."
    if math.isfinite(need.revs_rpm):
        revs = (
            f"{_tens(need.revs_rpm)} rpm ({_tens(need.revs_low_rpm)}-{_tens(need.revs_high_rpm)})"
        )
    else:
        revs = f"{need.share:.0%} of full revs ({need.share_low:.0%}-{need.share_high:.0%})"
    if need.reach == "beyond":
        return f"{asked}: no revs of this engine prove it; it would take {revs}."
    if need.reach == "perhaps":
        return f"{asked}, {revs}: full revs prove it only if she pulls no less than told."
    if need.reach == "unknown":
        return f"{asked}, {revs}; whether she has such revs is {UNKNOWN}."
    return f"{asked}: {revs} prove it."


def _tens(revs_rpm: float) -> str:
    return f"{10.0 * math.floor(revs_rpm / 10.0 + 0.5):.0f}"


def _of_moving(told: Proving) -> Iterator[str]:
    by_day = [one for one in told.transits if not one.by_night]
    for along, of in ((True, "going astern"), (False, "swinging out of line")):
        best = next((one for one in by_day if one.along is along), None)
        if best is None:
            yield f"Marks that tell of {of}: none known here."
        else:
            yield f"Marks that tell of {of}: {transit_words(best)}."
    yield from _by_night(told)
    yield (
        f"Moving is more than {metres(told.moving_m)} on the marks after the chain has drawn"
        f" straight; by the antenna {metres(told.moving_fix_m)} in a step,"
        f" {metres(told.moving_fix_last_m)} in the last."
    )
    drawn = told.steps[-1]
    yield (
        f"The chain's own straightening is not dragging: up to {metres(drawn.astern_most_m)} in"
        f" the last step, {metres(told.steps[0].astern_most_m)} in the first."
    )


def _by_night(told: Proving) -> Iterator[str]:
    night = [one for one in told.transits if one.by_night]
    if not night:
        yield (
            "By night: no lights in line and no place for a lamp known; a lead on the bottom"
            " tells it."
        )
        return
    lamps = [one for one in night if one.lamps]
    for one in night:
        if one not in lamps:
            yield f"By night: {transit_words(one)}."
    if lamps:
        at = " and at ".join(dict.fromkeys(mark_words(one.near) for one in lamps))
        yield (
            f"By night: no lights in line known here. Set a lamp at {at}, and one behind each in"
            " line; or a lead on the bottom tells it."
        )


def transit_words(one: Transit) -> str:
    """Two marks and when an eye sees them open."""
    gap = ""
    if abs(one.gap_rad) >= math.radians(0.5):
        side = "right" if one.gap_rad > 0.0 else "left"
        gap = f" {degrees(abs(one.gap_rad))} to the {side}"
    return (
        f"{mark_words(one.near)}, {bearing(one.bearing_rad)}, and {mark_words(one.far)}{gap}"
        f" ({metres(one.moved_m)} show)"
    )


def outcome_words(one: Outcome) -> str:
    """One outcome: what is seen, what it means, what to do, what not."""
    said = f"{_SAID['sign'][one.sign]}: {_SAID['means'][one.means]}. {_SAID['do'][one.do]}"
    return said if one.tempts is None else f"{said} Do not do this: {_SAID['tempts'][one.tempts]}"
