"""The keys of practice, and what stands beside the plan while practising."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, bearing, degrees, kilograms, knots, metres

if TYPE_CHECKING:
    from shorefast.manoeuvre import Deck, Practice, Seen

KEYS: tuple[tuple[str, str], ...] = (
    ("left, right", "helm 5 degrees to port, to starboard"),
    ("m", "helm midships"),
    ("up, down", "engine 5 % more ahead, more astern"),
    ("n", "out of gear"),
    ("s", "stop the engine"),
    ("a", 'answer "engine stopped"'),
    ("g", "start the engine"),
    ("< >", "thruster: bow to port, starboard"),
    (".", "thruster off"),
    ("l", "let go the anchor"),
    ("v V", "veer 1 m, 5 m more"),
    ("k K", "heave in 1 m, 5 m"),
    ("h", "hold the chain"),
    ("w", "helm to a hand who steers her in"),
    ("c", "chain to a hand who veers by calls"),
    ("1 to 9", "choose a line"),
    ("t", "tend the line, watch the propeller"),
    ("o", "the hand: to the ladder, off, back"),
    ("i u", "take in, ease the chosen line 1 m"),
    ("x x", "cast off the chosen line"),
    ("F", "something fails"),
    ("p", "pause, go on"),
    ("f", "once, twice, five times"),
    ("b", "back 30 seconds"),
    ("z", "plan near, plan whole"),
    ("?", "these keys"),
    ("q q", "end, and the debrief"),
)
"""Every key and what it does."""

SHORT_KEYS = "arrows helm, engine  nsag engine  lvkh chain  wc crew  toiux line  pfbz  ? q"
"""The keys on one row of the screen."""
PLAN_SIGNS = (
    "",
    "B bow, h hand, A anchor",
    "x where the anchor is to lie",
    "1, 2 ... where each line goes",
    "dots: 0.5 m under her keel",
)
"""What stands for what on the plan."""


def key_rows(first: int = 0, last: int | None = None) -> list[str]:
    """The keys as rows, from one of them to another."""
    keys = KEYS[first:last]
    wide = max((len(key) for key, _ in keys), default=0)
    return [f"{key:<{wide}}  {said}" for key, said in keys]


def beside_plan(
    one: Practice, deck: Deck, row: Seen, wind: tuple[float, float], sounded_m: float
) -> list[str]:
    """What a helm and a bow can read off, in rows of up to 27 letters."""
    rows = [
        f"Helm    {helm_words(row.helm_rad)}",
        f"Engine  {engine_words(deck, row)}",
        f"Way     {way_words(row.ahead_mps)}",
        f"Heading {bearing(row.heading_rad)}, plan {bearing(one.way.heading_rad)}",
        f"Off way {side_words(row.across_m)}",
        f"Made    {metres(row.along_m)} of {metres(one.way.hold_m)}",
        f"Stern   {metres(row.off_m)} off",
        f"Sounder {metres(sounded_m)}",
        f"Wind    {wind_words(wind, row.heading_rad)}",
        f"Chain   {metres(row.chain_m)}, call {metres(_call_m(one, row))}",
        *_chain_rows(row),
        "",
    ]
    return rows + _line_rows(deck, row)


def _call_m(one: Practice, row: Seen) -> float:
    return 0.0 if row.along_m < one.way.let_go_at_m else one.way.chain_at(row.along_m)


def _chain_rows(row: Seen) -> list[str]:
    if row.anchor != "lies":
        said = {"stowed": "stowed", "hangs": "on its way down"}[row.anchor]
        return [f"Anchor  {said}", ""]
    up_rad = 0.5 * math.pi - row.angle_rad
    return [f"Lead    {degrees(up_rad)} from plumb", f"Pull    {kilograms(row.tension_n[0])}"]


def _line_rows(deck: Deck, row: Seen) -> list[str]:
    rows = []
    out = 0 if deck.hand is None else deck.hand.line
    back = deck.hand is not None and deck.hand.back
    for number, (fast, length_m) in enumerate(zip(row.fast, row.length_m, strict=True), start=1):
        pull = row.tension_n[number]
        if fast:
            said = f"{length_m:.1f} m, {kilograms(pull) if pull > 0.0 else 'slack'}"
        else:
            said = "going ashore" if number == out and not back else "aboard"
        rows.append(f"Line {number}  {said}")
    if deck.hand is not None:
        rows.append(f"Hand    {deck.sequence.hand}{', coming back' if deck.hand.back else ''}")
    if deck.sequence.tended:
        rows.append("Line tended")
    return rows


def helm_words(helm_rad: float) -> str:
    """The helm: ``port 10``."""
    size = round(math.degrees(abs(helm_rad)))
    return "midships" if size == 0 else f"{'starboard' if helm_rad > 0.0 else 'port'} {size}"


def engine_words(deck: Deck, row: Seen) -> str:
    """The engine: ``astern 30 %``, ``stopped, answered``."""
    state = deck.sequence
    if deck.fouled:
        return "a line in it"
    if state.engine == "stopped":
        turning = abs(row.revs) > 0.02
        return "stopping" if turning else f"stopped{', answered' if state.answered else ''}"
    if state.engine == "neutral":
        return "out of gear"
    share = round(100.0 * row.revs)
    return "in gear, 0 %" if share == 0 else f"{'ahead' if share > 0 else 'astern'} {abs(share)} %"


def way_words(ahead_mps: float) -> str:
    """Her way in tenths of a knot: ``astern 0.7 kn``."""
    tenths = abs(ahead_mps) * 3600.0 / 1852.0
    if tenths < 0.05:
        return "none"
    return f"{'ahead' if ahead_mps > 0.0 else 'astern'} {tenths:.1f} kn"


def side_words(across_m: float) -> str:
    """Off her way, to which side going in: ``1.2 m right``."""
    if not math.isfinite(across_m):
        return UNKNOWN
    if abs(across_m) < 0.05:
        return "none"
    return f"{metres(abs(across_m))} {'right' if across_m > 0.0 else 'left'}"


def wind_words(wind: tuple[float, float], heading_rad: float) -> str:
    """The wind as it is felt aboard: ``9 kn port bow``."""
    off = math.remainder(wind[1] - heading_rad, 2.0 * math.pi)
    size, side = abs(off), "starboard" if off > 0.0 else "port"
    if size < math.radians(15.0):
        return f"{knots(wind[0])} ahead"
    if size > math.radians(165.0):
        return f"{knots(wind[0])} astern"
    part = "bow" if size < math.radians(60.0) else "beam"
    part = "quarter" if size > math.radians(120.0) else part
    return f"{knots(wind[0])} {side} {part}"
