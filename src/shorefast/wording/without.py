"""If one goes, said: one row a loss, one sentence for the card by the bunk."""

from __future__ import annotations

import math
from collections.abc import Sequence
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
    """What parts after it, in order; that nothing does."""
    if not entry.follows:
        return "nothing follows"
    first, *more = entry.follows
    return "; ".join([f"then {first} parts too", *(f"then {name}" for name in more)])


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
        return f"may touch {named} after {duration(entry.seconds_to_contact)}"
    return f"may touch {named}"


def _of_her(entry: WithoutOne) -> bool:
    return entry.touches is not None and entry.touches.startswith("water under the ")


def when_words(stay: Stay, entry: WithoutOne) -> str:
    """When the loss is worst: the hour, with its day in a long stay."""
    if entry.at_utc is None:
        return UNKNOWN
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    return (day_clock if long else clock)(entry.at_utc, stay.bay.zone_name)


def loss_words(stay: Stay, entry: WithoutOne) -> str:
    """One loss as one sentence: when, how she lies, what carries most, what follows."""
    gone = f"If {_the(entry)} goes at {when_words(stay, entry)}"
    if not entry.found and not entry.adrift:
        return f"{gone}: where she ends up is {UNKNOWN}."
    said = [words for words in (shows_words(entry), touch_words(entry)) if words]
    if entry.next_part is not None and not _is_room(entry.next_part):
        least = f"{entry.next_part} at {use_words(entry.next_use)} of its limit"
        if math.isfinite(entry.of_breaking) and entry.of_breaking > 0.5:
            least += f" ({use_words(entry.of_breaking)} of what parts it)"
        said.append(least)
    said.append(follows_words(entry))
    if entry.drags:
        said.append("the anchor may drag")
    return f"{gone}: {'; '.join(said)}."


def _is_room(name: str) -> bool:
    return name.startswith(("water under", "hull to", "tender to"))


def _the(entry: WithoutOne) -> str:
    return entry.name if entry.name.startswith(("both", "all")) else f"the {entry.name}"


def night_words(stay: Stay, without: Sequence[WithoutOne]) -> str:
    """The worst loss as one sentence; empty where none was worked out."""
    if not without:
        return ""
    return loss_words(stay, max(without, key=badness))


_TOUCHES, _FOLLOWS = 2000.0, 100.0


def double_words(double: Doubling | None) -> str:
    """Which line to double and what the worst loss is with and without; empty if unknown."""
    if double is None:
        return ""
    now = _worst_words(double.plain)
    if not double.needed:
        return f"No line needs doubling: the worst loss is {now}."
    if double.best is None:
        return f"Doubling one line does not help: the worst loss stays {now}."
    best = double.best
    spare = f" (the {best.from_line} has enough left)" if best.from_line else " (no line left)"
    said = f"Double the {best.name}{spare}: "
    lost, kept = _loss_of(double.plain, best.name), _loss_of(best, best.name)
    if lost is not None and kept is not None:
        said += (
            f"its loss is one {_bad_words(lost)}; with a second one beside it {_bad_words(kept)}. "
        )
    return f"{said}The worst loss that is left is {_worst_words(best)}."


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
    if value >= _FOLLOWS:
        return "after which more parts go"
    return f"with {use_words(value)} of a limit carried"
