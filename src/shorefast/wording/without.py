"""If one goes, said: one row a loss, one sentence for the card by the bunk."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from shorefast.wording.numbers import UNKNOWN, bearing, degrees, duration, use_words
from shorefast.wording.times import clock, day_clock

if TYPE_CHECKING:
    from shorefast.stay import Doubled, Doubling, Stay, WithoutOne

# less than this is not seen from the cockpit at night: our choice [m, rad]
SEEN_M, SEEN_RAD = 2.0, math.radians(8.0)
_DAY_S = 86_400.0


def badness(entry: WithoutOne) -> float:
    """How bad a loss is, for putting the worst first: the next use, unknown worst of all."""
    if not entry.found and not entry.adrift:
        return 1e6
    touches = entry.least_room_m <= 0.0 or entry.touches is not None or entry.adrift
    use = entry.next_use if math.isfinite(entry.next_use) else 1e2
    return (1e3 if touches else 0.0) + use + 1e2 * len(entry.follows) + (1e2 * entry.breaks)


def short(name: str) -> str:
    """A line by its own name, without the point it leads to, for a sentence."""
    return name.split(" to ", 1)[0]


def follows_words(entry: WithoutOne) -> str:
    """What parts after it, in order; that nothing does, as far as is known and on the way."""
    if entry.follows:
        first, *more = entry.follows
        said = "; ".join([f"then {first} parts too", *(f"then {name}" for name in more)])
    else:
        said = _nothing_words(entry)
    if entry.swing_part is not None and entry.swing_of_breaking > 1.0:
        still = "" if entry.follows else " once she lies still"
        swing = use_words(entry.swing_of_breaking)
        said += f"{still}; swinging there {entry.swing_part} up to {swing} of what parts it"
    return said


def _nothing_words(entry: WithoutOne) -> str:
    """That nothing parts; only of the lines where nobody knows what points and cleats stand."""
    lines = [name for name in entry.unrated if not name.endswith((" ashore", " cleat"))]
    if lines:
        return f"whether {lines[0]} parts is {UNKNOWN}"
    return "no line parts after it" if entry.unrated else "nothing follows"


def shows_words(entry: WithoutOne) -> str:
    """Whether her lying shows it, and how: or that one has to look at the line."""
    if math.isnan(entry.moved_m) or math.isnan(entry.turned_rad):
        return ""
    if entry.moved_m < SEEN_M and abs(entry.turned_rad) < SEEN_RAD:
        return f"bow {bearing(entry.heading_rad)}, which does not show it: look at the line"
    side = "right" if entry.turned_rad > 0.0 else "left"
    turned = f"{degrees(abs(entry.turned_rad))} {side} of before"
    return f"bow {bearing(entry.heading_rad)}, {turned}"


def touch_words(entry: WithoutOne) -> str:
    """What she may touch and how soon; empty where she does not."""
    if entry.touches is None:
        return "nothing holds her" if entry.adrift else ""
    what = entry.touches.removeprefix("water under the ")
    what = what.replace("hull to the shore", "shore").removeprefix("hull to ")
    named = "the shore" if what == "shore" else f"with the {what}" if _of_her(entry) else what
    if math.isfinite(entry.seconds_to_contact):
        return f"may touch {named}, at the soonest after {duration(entry.seconds_to_contact)}"
    return f"may touch {named}"


def _of_her(entry: WithoutOne) -> bool:
    return entry.touches is not None and entry.touches.startswith("water under the ")


def when_words(stay: Stay, entry: WithoutOne) -> str:
    """When the loss is worst: the hour, with its day in a long stay."""
    return UNKNOWN if entry.at_utc is None else _clock(stay, entry.at_utc)


def _clock(stay: Stay, moment: datetime) -> str:
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    return (day_clock if long else clock)(moment, stay.bay.zone_name)


def loss_words(stay: Stay, entry: WithoutOne) -> str:
    """One loss as one sentence: when, how she lies, what carries most, what follows."""
    gone = f"If {_the(entry)} at {when_words(stay, entry)}"
    if not entry.found and not entry.adrift:
        said = [follows_words(entry)] if entry.follows else []
        said += [_touch_when(stay, entry), f"where she ends up is {UNKNOWN}"]
        return f"{gone}: {'; '.join(words for words in said if words)}."
    said = [words for words in (shows_words(entry), _touch_when(stay, entry)) if words]
    said += [words for words in (_carries_words(entry),) if words]
    if entry.drags:
        said.append("the anchor may drag")
    said.append(follows_words(entry))
    if entry.share_unknown > 0.0:
        said.append(f"in some hours {UNKNOWN}")
    return f"{gone}: {'; '.join(said)}."


def _touch_when(stay: Stay, entry: WithoutOne) -> str:
    """What she may touch and how soon, and when it has to go for that, if at another hour."""
    words = touch_words(entry)
    if not math.isfinite(entry.seconds_to_contact) or entry.contact_utc in (None, entry.at_utc):
        return words
    return f"{words} if at {_clock(stay, entry.contact_utc)}"


def _carries_words(entry: WithoutOne) -> str:
    """What is used most of its limit, and what comes nearest to parting."""
    said = []
    if entry.next_part is not None and not _is_room(entry.next_part):
        known = math.isfinite(entry.next_use)
        much = f"at {use_words(entry.next_use)} of" if known else "past"
        said.append(f"{entry.next_part} {much} its limit")
    if math.isfinite(entry.of_breaking) and entry.of_breaking > 0.5:
        share = f"{use_words(entry.of_breaking)} of what parts it"
        same = said and entry.breaking_part == entry.next_part
        said.append(f"({share})" if same else f"{entry.breaking_part} at {share}")
        return " ".join(said) if same else ", ".join(said)
    return " ".join(said)


def _is_room(name: str) -> bool:
    return name.startswith(("water under", "hull to", "tender to"))


def _the(entry: WithoutOne) -> str:
    several = entry.name.startswith(("both legs", "all legs"))
    return f"{entry.name} go" if several else f"the {entry.name} goes"


def night_words(stay: Stay, without: Sequence[WithoutOne]) -> str:
    """The worst loss as one sentence; empty where none was worked out."""
    if not without:
        return ""
    return loss_words(stay, max(without, key=badness))


_TOUCHES, _NOT_KNOWN, _FOLLOWS = 2000.0, 1000.0, 100.0


def double_words(double: Doubling | None) -> str:
    """Which line to double and what the worst loss is with and without; empty if unknown."""
    if double is None:
        return ""
    now = _worst_words(double.plain)
    if not double.needed:
        if double.plain.unknown:
            return f"Whether a line needs doubling is {UNKNOWN}: the worst loss known is {now}."
        return f"No line needs doubling: the worst loss is {now}."
    if double.best is None:
        return f"Doubling one line does not help: the worst loss stays {now}."
    best = double.best
    said = f"Double the {best.name} ({_spare_words(best)}): "
    lost, kept = _loss_of(double.plain, best.name), _loss_of(best, best.name)
    if lost is not None and kept is not None:
        said += (
            f"its loss is one {_bad_words(lost)}; with a second one beside it one"
            f" {_bad_words(kept)}. "
        )
    return f"{said}The worst loss that is left is {_worst_words(best)}."


def _spare_words(best: Doubled) -> str:
    """Which line aboard a second one can be made of."""
    if best.from_line is None:
        return "no line left"
    other = "" if best.alike else ", but is another rope than is reckoned here"
    return f"the {best.from_line} has enough left{other}"


def _loss_of(one: Doubled, name: str) -> float | None:
    """How bad one loss of a lie is; None where it is not among them."""
    return one.worst[one.gone.index(name)] if name in one.gone else None


def _worst_words(one: Doubled) -> str:
    """The worst loss of a lie and how bad it is."""
    if not one.worst:
        return "none"
    return f"that of {one.gone[0]}, {_bad_words(one.worst[0])}"


def _bad_words(value: float) -> str:
    if value >= _TOUCHES:
        return "where she may touch or nothing holds her"
    if value >= _NOT_KNOWN:
        return f"after which it is {UNKNOWN} where she ends up"
    if value >= _FOLLOWS:
        return "after which more parts go"
    return f"with {use_words(value)} of a limit carried"
