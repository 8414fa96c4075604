"""``shorefast choose``: which lie?"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.choose_files import write_stays
from shorefast.app.answers.noticed import with_noticed
from shorefast.app.out_folder import ready
from shorefast.app.progress import Progress
from shorefast.readers import read_stay
from shorefast.stay import UNPROVEN, Change, Choice, Elsewhere, Finalist, Lie, Stay, choose
from shorefast.wording import (
    choice_words,
    clock,
    day_clock,
    dropped_words,
    finalist_words,
    help_words,
    lie_named,
    lie_rows,
    offset,
    other_words,
    room_words,
    use_words,
)

_DAY_S = 86_400


def lie_keys(lie: Lie) -> dict[str, Any]:
    """A lie as its stay file has it, in SI."""
    return {
        "let_go": {"east_m": lie.let_go_east_m, "north_m": lie.let_go_north_m},
        "chain_out_m": lie.chain_out_m,
        "heading_rad": lie.heading_rad,
        "lines": [
            {
                "line": line.line,
                "cleat": line.cleat,
                "point": line.point,
                "length_m": line.length_m,
                "doubled": line.doubled,
            }
            for line in lie.lines
        ],
    }


def _finalist_keys(stay: Stay, one: Finalist) -> dict[str, Any]:
    answer = one.judged.judgement
    asked = bool(one.losses)
    return {
        "lie": lie_keys(one.lie),
        "proof_toward_rad": None if one.stay.proof is None else one.stay.proof.toward_rad,
        "given": one.given,
        "verdict": answer.verdict,
        "leave_by_utc": answer.leave_by_utc,
        "until_utc": one.until,
        "worst_hour_utc": one.worst_utc,
        "worst_use": one.told_use,
        "first_to_give": one.first_to_give,
        "tie": one.tie,
        "unproven": one.unproven,
        "against": one.against,
        "unknown_from_utc": one.unknown_from,
        "not_survived": list(one.not_survived) if asked else None,
        "unknown_after": list(one.not_known) if asked else None,
        "use_after_other_losses": one.after_loss if asked else None,
        "reasons": finalist_words(stay, one),
    }


def _other_keys(other: Elsewhere) -> dict[str, Any]:
    one = other.score
    return {
        "points": [point.name for point in one.candidate.berth.ends.points],
        "whole": one.whole,
        "until_utc": one.until,
        "worst_hour_utc": one.at,
        "worst_use": one.told_use,
        "first_to_give": one.first,
        "lines": len(one.candidate.lie.lines),
        "against": other.against,
        "unproven": one.unproven,
    }


def _change_keys(one: Change) -> dict[str, Any]:
    return {
        "change": one.said,
        "whole": one.whole,
        "until_utc": one.until,
        "worst_use": one.use,
        "first_to_give": one.first_to_give,
    }


def choice_keys(choice: Choice) -> dict[str, Any]:
    """The JSON keys of a choice."""
    best = choice.finalists[0] if choice.finalists else None
    return {
        "sentence": choice_words(choice),
        "verdict": None if best is None else best.judged.judgement.verdict,
        "until_utc": None if best is None else best.until,
        "then_held": choice.then_held,
        "candidates": [_finalist_keys(choice.stay, one) for one in choice.finalists],
        "others": [_other_keys(one) for one in choice.others],
        "dropped": [{"why": why, "count": count} for why, count in choice.dropped],
        "tried": choice.tried,
        "candidate_hours": choice.hours,
        "helps_most": [_change_keys(one) for one in choice.helps],
    }


def _table(choice: Choice) -> list[str]:
    stay = choice.stay
    long = (stay.until_utc - stay.from_utc).total_seconds() > _DAY_S
    say = day_clock if long else clock
    rows = [("", "she can lie", "use", "worst hour", "first to give")]
    for one in choice.finalists:
        till = "the whole stay" if one.whole else f"till {say(one.until, stay.bay.zone_name)}"
        if one.until <= stay.from_utc:
            till = "unknown" if one.unknown_from is not None else "at no hour"
        tied = sum(other.tie == one.tie for other in choice.finalists) > 1
        rank = f"{one.tie}{'=' if tied else ''}"
        when = say(one.worst_utc, stay.bay.zone_name)
        rows.append((rank, till, use_words(one.told_use), when, one.first_to_give or "unknown"))
    wide = [max(len(row[k]) for row in rows) for k in range(4)]
    return [
        f"Times are {offset(stay.from_utc, stay.bay.zone_name)}; = marks a tie.",
        *(
            "  ".join([*(cell.rjust(w) for cell, w in zip(row, wide, strict=False)), row[4]])
            for row in rows
        ),
    ]


def choice_text(choice: Choice) -> str:
    """The choice for the terminal."""
    lines = [choice_words(choice), ""]
    if choice.finalists:
        lines += _table(choice)
    unproven = [point for point in choice.stay.bay.points if point.kind == UNPROVEN]
    for number, one in enumerate(choice.finalists, start=1):
        given = " (the stay file's own)" if one.given else ""
        lines += ["", f"Lie {number}{given}: {lie_named(one.lie)}"]
        lines += [f"  {row}" for row in lie_rows(one.lie, unproven)]
        lines += [f"  - {said}" for said in finalist_words(choice.stay, one)]
        lines.append(f"  - least room {room_words(one)}")
    for head, said in (
        ("Why not elsewhere:", other_words(choice)),
        ("What one change to lie 1 would do:", help_words(choice)),
        ("Left out:", dropped_words(choice)),
    ):
        if said:
            lines += ["", head, *(f"  {row}" for row in said)]
    lines += ["", f"{choice.tried} lies tried, {choice.hours} candidate-hours (members x times)."]
    return with_noticed("\n".join(lines), choice.basis)


def answer_choose(
    stay_path: Path, out: Path | None = None, progress: Progress | None = None
) -> Answer:
    """Lies to choose between for a stay file, with a ready stay file of each in ``out``.

    Raises
    ------
    BadInput, Unreadable
        For a stay that cannot be, a file that cannot be read, and where ``out`` is a file.
    """
    stay = read_stay(stay_path)
    if out is not None:
        ready(out)
    choice = choose(stay, progress)
    written = () if out is None else write_stays(stay_path, out, choice)
    keys = {**choice_keys(choice), "written": list(written)}
    return Answer("choose", keys, choice.basis, choice_text(choice), written)
