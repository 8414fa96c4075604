"""What this boat can do, in words: the sentence, and each table row by row with its units."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from shorefast.quantities import from_si
from shorefast.wording.ease import length_words
from shorefast.wording.numbers import UNKNOWN, duration, kilograms, knots, metres

if TYPE_CHECKING:
    from shorefast.manoeuvre import Able, ChainPulls

Rows = list[list[str]]
_MOST_KN = 60.0
# the depth the first sentence speaks of
_SPOKEN_M = 20.0
_NONE = ("too deep", "no room")
LESS = "*"
"""Behind a pull for which less chain is out than might be."""


def slope_words(slope_rad: float) -> str:
    """A slope as it stands over a column: "level", "5° up", "10° down"."""
    number = round(math.degrees(slope_rad))
    if number == 0:
        return "level"
    return f"{abs(number)}° {'up' if number > 0 else 'down'}"


def knots_tenths(speed_mps: float) -> str:
    """A slow speed in tenths of a knot: ``0.9 kn``."""
    if not math.isfinite(speed_mps):
        return UNKNOWN
    return f"{from_si(speed_mps, 'speed', 'kn'):.1f} kn"


def wind_span(low_mps: float, high_mps: float) -> str:
    """Two winds as a span of whole knots, cut off where no table need go: ``34-41 kn``."""
    if not math.isfinite(low_mps):
        return UNKNOWN
    low, high = (from_si(speed, "speed", "kn") for speed in (low_mps, high_mps))
    if low >= _MOST_KN:
        return f"{_MOST_KN:.0f}+ kn"
    if high >= _MOST_KN:
        return knots(low_mps).replace(" kn", "+ kn")
    low_said = knots(low_mps).removesuffix(" kn")
    return f"{low_said}-{knots(high_mps)}" if low_said != f"{high:.0f}" else knots(low_mps)


def chain_title(pulls: ChainPulls, most_m: float) -> str:
    """What a table of pulls is of."""
    if pulls.asked_m is None:
        return f"Greatest steady pull before the shank lifts, up to {metres(most_m)} out"
    return f"Greatest steady pull before the shank lifts, {metres(pulls.asked_m)} out"


def _head(pulls: ChainPulls) -> list[str]:
    return ["depth", *(slope_words(slope) for slope in pulls.slope_rad.tolist())]


def pull_rows(pulls: ChainPulls) -> Rows:
    """Head and rows of the pulls."""
    rows = [_head(pulls)]
    for d, depth_m in enumerate(pulls.depth_m.tolist()):
        row = [length_words(depth_m)]
        for pull, why in zip(pulls.pull_n[d].tolist(), pulls.why[d], strict=True):
            said = why if why in _NONE else kilograms(pull)
            row.append(said + (LESS if why == "less out" else ""))
        rows.append(row)
    return rows


def equal_rows(pulls: ChainPulls, abeam: bool) -> Rows:
    """Head and rows of the winds that pull as hard, ahead or abeam."""
    winds = pulls.abeam if abeam else pulls.ahead
    rows = [_head(pulls)]
    for d, depth_m in enumerate(pulls.depth_m.tolist()):
        row = [length_words(depth_m)]
        for low, high, why in zip(
            winds.low_mps[d].tolist(), winds.high_mps[d].tolist(), pulls.why[d], strict=True
        ):
            row.append(why if why in _NONE else wind_span(low, high))
        rows.append(row)
    return rows


def needed_rows(found: Able, slope: int) -> Rows:
    """Head and rows of the rode that keeps the shank down, on one slope; what is too deep."""
    needed = found.needed
    rows = [["depth", *(knots(wind) for wind in needed.wind_mps.tolist())]]
    for d, depth_m in enumerate(needed.depth_m.tolist()):
        rows.append([length_words(depth_m), *map(_needed_word, needed.out_m[d, slope].tolist())])
    deep = needed.too_deep_m[slope].tolist()
    rows.append(["down to", *("nowhere" if math.isnan(one) else metres(one) for one in deep)])
    return rows


def _needed_word(out_m: float) -> str:
    if math.isnan(out_m):
        return "no room"
    return "too deep" if math.isinf(out_m) else metres(out_m)


def able_words(found: Able) -> str:
    """The first sentences: her chain in a depth people anchor in, her engine, her drift."""
    said = [_chain_words(found), _engine_words(found)]
    way = found.leeway
    share = float(way.speed_mps[0] / way.wind_mps[0])
    low, high = (float(one[0] / way.wind_mps[0]) for one in (way.low_mps, way.high_mps))
    said.append(
        f"Adrift beam-on she makes {share:.1%} of the wind ({low:.1%} to {high:.1%}); the"
        f" published table has {float(way.printed_mps[0] / way.wind_mps[0]):.1%}."
    )
    return " ".join(said)


def _chain_words(found: Able) -> str:
    pulls = found.chain[0]
    most_m = found.aboard_m - found.reserve_m
    rows = [d for d, depth in enumerate(pulls.depth_m.tolist()) if depth <= _SPOKEN_M]
    d = rows[-1] if rows else 0
    k = int(abs(pulls.slope_rad).argmin())
    aboard = (
        f"{found.name}, {length_words(found.aboard_m)} of rode aboard,"
        f" {length_words(found.reserve_m)} of it kept inboard: in"
        f" {length_words(float(pulls.depth_m[d]))} of water on a level bed"
    )
    if pulls.why[d][k] in _NONE:
        return f"{aboard} her chain cannot hold the shank down."
    ahead = wind_span(float(pulls.ahead.low_mps[d, k]), float(pulls.ahead.high_mps[d, k]))
    abeam = wind_span(float(pulls.abeam.low_mps[d, k]), float(pulls.abeam.high_mps[d, k]))
    return (
        f"{aboard}, {metres(most_m)} out, the shank stays down up to"
        f" {kilograms(float(pulls.pull_n[d, k]))} of steady pull: {ahead} of wind on the bow, or"
        f" {abeam} abeam."
    )


def _engine_words(found: Able) -> str:
    engine = found.engine
    if engine is None:
        return f"What the engine can prove is {UNKNOWN}: give [engine] in the boat file."
    k = int(abs(found.curve.slope_rad).argmin())
    said = f"Full astern she pulls {_said_span(engine.astern_n.tolist(), kilograms)}"
    deep = engine.keeps_down_m[k].tolist()
    if math.isnan(deep[0]):
        return f"{said}, which lifts the shank in any depth on a level bed."
    spread = _said_span([deep[0], deep[2], deep[1]], metres)
    return f"{said}: on a level bed that lifts the shank in more than {spread}."


def _said_span(values: list[float], say: Callable[[float], str]) -> str:
    """As reckoned, then the least and the most: ``18 m (16 to 21 m)``."""
    middle, low, high = (say(one) for one in values)
    if math.isnan(values[1]):
        return f"{middle} (nowhere to {high})"
    return f"{middle} ({low.rpartition(' ')[0]} to {high})"


def engine_rows(found: Able) -> Rows:
    """Thrust ahead and astern with the winds they equal; how deep each slope lets her prove."""
    engine = found.engine
    if engine is None:
        return []
    ahead, astern = engine.ahead_n.tolist(), engine.astern_n.tolist()
    rows = [
        ["full ahead", _said_span(ahead, kilograms)],
        ["full astern", _said_span(astern, kilograms)],
    ]
    for name, winds in (("on the bow", engine.ahead), ("abeam", engine.abeam)):
        low = float(winds.low_mps[1])
        span = wind_span(low, float(winds.high_mps[2]))
        rows.append([f"  astern equals, {name}", f"{knots(float(winds.nominal_mps[0]))} ({span})"])
    for slope, deep in zip(found.curve.slope_rad.tolist(), engine.keeps_down_m, strict=True):
        middle, low, high = (float(deep[k]) for k in (0, 2, 1))
        said = "nowhere" if math.isnan(middle) else _said_span([middle, low, high], metres)
        rows.append([f"  shank down to, {slope_words(slope)}", said])
    return rows


def span_rows(found: Able) -> Rows:
    """How far her stern can lie from the points, by how the lines are led."""
    rows = [["lines led", "single", "doubled back", "by"]]
    for one in found.lines:
        off = round(math.degrees(one.led_rad))
        led = "straight astern" if off == 0 else f"two, {off}° out"
        by = f"{one.line}, {metres(one.length_m)}"
        rows.append([led, metres(one.single_m), metres(one.doubled_m), by])
    return rows if found.lines else []


def windlass_rows(found: Able) -> Rows:
    """By depth: what hangs, heaving from up and down, and the way to the bottom."""
    rows = [["depth", "hangs", "to the roller", "veered to the bed", "run free"]]
    heave, fall = found.heaving, found.falls
    for d, depth_m in enumerate(heave.depth_m.tolist()):
        hangs = float(heave.hanging_n[d])
        free = (float(fall.free_low_s[d]), float(fall.free_high_s[d]))
        reaches = math.isfinite(hangs)
        said = [
            kilograms(hangs),
            duration(float(heave.up_s[d])),
            duration(float(fall.motor_s[d])),
            f"{free[0]:.0f} to {free[1]:.0f} s",
        ]
        rows.append([length_words(depth_m), *(said if reaches else ["too deep"] * 4)])
    return rows


def windlass_words(found: Able) -> list[str]:
    """What it lifts, how long it takes, and how fast she may go astern over it."""
    heave = found.heaving
    hangs = "anchor and chain hanging straight down"
    lifts = (
        f"It pulls {UNKNOWN}: give [windlass] pull_n."
        if math.isnan(heave.pull_n)
        else f"It pulls {kilograms(heave.pull_n)}, which lifts {hangs} in up to"
        f" {metres(heave.lifts_from_m)}; breaking out is not in that."
    )
    all_m = metres(heave.all_m)
    speed = (
        "Time to heave is unknown: give [windlass] heave_mps."
        if math.isnan(heave.heave_mps)
        else f"Heaving {all_m} takes {duration(heave.heave_all_s)}."
    )
    veer = (
        "Time to veer, and the speed astern, are unknown: give [windlass] veer_mps."
        if math.isnan(heave.veer_mps)
        else f"Veering it takes {duration(heave.veer_all_s)}; go astern no faster than"
        f" {knots_tenths(heave.veer_mps)}, as fast as it veers."
    )
    return [lifts, speed, veer]


def leeway_rows(found: Able) -> Rows:
    """Drift beam-on by wind, and what is printed for such yachts."""
    way = found.leeway
    rows = [["wind", "drift", "least to most", "published"]]
    for w, wind in enumerate(way.wind_mps.tolist()):
        low, high = (knots_tenths(float(one[w])) for one in (way.low_mps, way.high_mps))
        printed = knots_tenths(float(way.printed_mps[w])).removesuffix(" kn")
        scatter = knots_tenths(way.scatter_mps)
        rows.append(
            [
                knots(wind), knots_tenths(float(way.speed_mps[w])),
                f"{low.removesuffix(' kn')} to {high}", f"{printed}, give or take {scatter}",
            ]
        )  # fmt: skip
    return rows


def able_subtitle(found: Able) -> str:
    """What of her gear the picture rests on, in one line."""
    said = [
        f"{length_words(found.aboard_m)} of rode, up to {length_words(found.heaving.all_m)} of it"
        " out",
        f"roller {length_words(found.roller_m)} above the water",
        "plane bed, steady pull, no swell",
    ]
    return "; ".join(said)


def able_notes(found: Able) -> list[tuple[str, str]]:
    """What stands beside the picture: a word each, and what is to be said of it."""
    key = (
        "Up: the bed comes up from the anchor toward her stern. Down, dashed: she pulls the"
        " anchor down its slope, where it lifts far sooner and holds less. Dotted: less chain"
        " out than there is, with more she would touch first. The winds are steady ones on the"
        f" free boat, good to {found.wind_doubt:.0%}; gusts and swell lift the shank sooner."
    )
    return [
        ("Curves", key),
        ("Engine", _engine_note(found)),
        ("Windlass", " ".join(windlass_words(found))),
        ("Adrift", _drift_note(found)),
    ]


def _engine_note(found: Able) -> str:
    engine = found.engine
    if engine is None:
        return f"What she pulls is {UNKNOWN}: give [engine] in the boat file."
    deep = [
        f"{metres(float(row[0]))} {slope_words(slope)}"
        for slope, row in zip(found.curve.slope_rad.tolist(), engine.keeps_down_m, strict=True)
        if slope >= 0.0 and not math.isnan(float(row[0]))
    ]
    said = f"Full astern {_said_span(engine.astern_n.tolist(), kilograms)}"
    winds = f"as {knots(float(engine.ahead.nominal_mps[0]))} of steady wind on the bow or"
    winds += f" {knots(float(engine.abeam.nominal_mps[0]))} abeam"
    down = f" The shank then stays down in up to {', '.join(deep)}." if deep else (
        " It lifts the shank in any depth."
    )  # fmt: skip
    return f"{said}, {winds}.{down}"


def _drift_note(found: Able) -> str:
    way = found.leeway
    said = [
        f"{knots_tenths(float(way.speed_mps[w]))} in {knots(float(way.wind_mps[w]))} of wind"
        for w in range(1, len(way.wind_mps), 2)
    ]
    scatter = knots_tenths(way.scatter_mps)
    return f"Beam-on, masts bare, she makes {', '.join(said)}, give or take {scatter}."
