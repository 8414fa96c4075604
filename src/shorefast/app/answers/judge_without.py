"""``shorefast judge --if-one-goes``: every loss in turn, and what follows."""

from __future__ import annotations

from typing import Any

from shorefast.app.answers.told import Told
from shorefast.app.progress import Progress
from shorefast.stay import Doubled, Doubling, Judged, Stay, WithoutOne, losses
from shorefast.wording import UNKNOWN, double_words, loss_words, night_words


def losses_told(stay: Stay, judged: Judged, asked: bool, progress: Progress | None = None) -> Told:
    """Keys and text of "if one goes" of a judged stay."""
    found = losses(stay, judged, progress)
    without, double = found.without, found.double
    keys = {
        "if_one_goes": [loss_keys(entry) for entry in without],
        "night_card": night_words(stay, without) or None,
        "double": None if double is None else _double_keys(double),
    }
    said = [losses_text(stay, without), double_words(double)]
    return Told(keys, "\n  ".join(one for one in said if one))


def _double_keys(double: Doubling) -> dict[str, Any]:
    best = double.best
    return {
        "needed": double.needed,
        "best": None if best is None else best.name,
        "from_line": None if best is None else best.from_line,
        "alike": None if best is None or best.from_line is None else best.alike,
        "as_she_lies": _doubled_keys(double.plain),
        "tried": [{"name": one.name, **_doubled_keys(one)} for one in double.tried],
        "sentence": double_words(double),
    }


def _doubled_keys(one: Doubled) -> dict[str, Any]:
    return {"gone": list(one.gone), "worst": list(one.worst), "unknown": one.unknown}


def loss_keys(entry: WithoutOne) -> dict[str, Any]:
    """One loss in SI units; null where unknown."""
    touches = None if entry.touches is None else {"of": entry.touches, "at_utc": entry.contact_utc}
    return {
        "gone": entry.name,
        "kind": entry.kind,
        "also": list(entry.also),
        "worst_at_utc": entry.at_utc,
        "found": entry.found,
        "adrift": entry.adrift,
        "east_m": entry.east_m,
        "north_m": entry.north_m,
        "heading_rad": entry.heading_rad,
        "turned_rad": entry.turned_rad,
        "moved_m": entry.moved_m,
        "next_part": entry.next_part,
        "next_use": entry.next_use,
        "breaking_part": entry.breaking_part,
        "of_breaking": entry.of_breaking,
        "follows": list(entry.follows),
        "unrated": list(entry.unrated),
        "anchor_drags": entry.drags,
        "touches": touches,
        "seconds_to_contact_s": entry.seconds_to_contact,
        "least_room_m": entry.least_room_m,
        "holds_to_mps": entry.holds_to_mps,
        "share_followed": entry.share_followed,
        "share_touches": entry.share_touches,
        "share_unknown": entry.share_unknown,
        "swing": {"part": entry.swing_part, "of_breaking": entry.swing_of_breaking},
    }


def losses_text(stay: Stay, without: tuple[WithoutOne, ...]) -> str:
    """If one goes for the terminal: a sentence a loss."""
    if not without:
        return f"If one goes: {UNKNOWN}; neither wind nor water is known."
    return "\n".join(["If one goes:", *(f"  {loss_words(stay, one)}" for one in without)])
