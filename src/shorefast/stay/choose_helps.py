"""Which single change to the best lie helps most: reckoned anew for each."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from shorefast.boat import LongLine
from shorefast.stay.choose_answer import Change
from shorefast.stay.choose_lies import Candidate
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import Hunt, Score
from shorefast.stay.choose_stages import (
    anchor_moved,
    is_aboard,
    one_line_more,
    toward_anchor_rad,
)
from shorefast.stay.plan import Lie, Stay

ONE_MORE = "one more line"
_BY_M = (2.0, 5.0)
_TOLD = 4
_GAIN = 0.01


def with_one_more(stay: Stay) -> Stay:
    """The stay with one line more aboard, like the longest there is."""
    if not stay.boat.lines:
        return stay
    longest = max(stay.boat.lines, key=lambda line: line.length_m)
    more = LongLine(
        ONE_MORE, longest.fibre, longest.diameter_m, longest.length_m, longest.age_years,
        longest.ends,
    )  # fmt: skip
    return replace(stay, boat=replace(stay.boat, lines=(*stay.boat.lines, more)))


def _signed(by_m: float, more: str, less: str) -> str:
    return f"{abs(by_m):g} m {more if by_m > 0.0 else less}"


def _small(one: Candidate) -> Iterator[tuple[str, Candidate]]:
    """Chain, anchor and stern lines changed by metres."""
    lie, toward = one.lie, toward_anchor_rad(one)
    ends = {point.name for point in one.berth.ends.points}
    for by_m in (sign * metres for metres in _BY_M for sign in (1.0, -1.0)):
        chain = replace(lie, chain_out_m=round(lie.chain_out_m + by_m, 1))
        yield _signed(by_m, "more chain", "less chain"), replace(one, lie=chain)
        anchor = anchor_moved(lie, by_m, toward)
        yield (
            f"the anchor let go {_signed(by_m, 'farther off', 'nearer in')}",
            replace(one, lie=anchor),
        )
        off = anchor_moved(_stern_eased(lie, ends, by_m), by_m, toward)
        said = f"all of her {_signed(by_m, 'farther off', 'nearer in')}, anchor and stern lines"
        yield said, replace(one, lie=off)


def _stern_eased(lie: Lie, ends: set[str], by_m: float) -> Lie:
    lines = tuple(
        replace(line, length_m=round(line.length_m + by_m, 1)) if line.point in ends else line
        for line in lie.lines
    )
    return replace(lie, lines=lines)


def _more(hunt: Hunt, one: Candidate) -> Iterator[tuple[str, Candidate]]:
    """One line more, or one of hers led out and back."""
    for more in one_line_more(hunt, one, hunt.stay.bay.points):
        if len(more.lie.lines) > len(one.lie.lines):
            line = more.lie.lines[-1]
            what = line.line if line.line == ONE_MORE else f"{line.line} as well"
            yield f"{what}: {line.cleat} to {line.point}, {line.length_m:g} m", more
            continue
        for was, line in zip(one.lie.lines, more.lie.lines, strict=True):
            if line.doubled and not was.doubled:
                yield f"{line.line} to {line.point} led out and back", more


def helps(stay: Stay, best: Score) -> tuple[Score, tuple[Change, ...]]:
    """The best lie with every member, and the single changes that help it most.

    One more line is one like the longest aboard, where all of hers are in use.
    """
    hunt = Hunt(with_one_more(stay), Rules(stay))
    base = hunt.scored([best.candidate], hunt.whole)[0]
    said = {**dict(_small(best.candidate)), **dict(_more(hunt, best.candidate))}
    fit = {
        words: one
        for words, one in said.items()
        if is_aboard(hunt, one) and hunt.rules.of(one) is None
    }
    scores = dict(zip(fit, hunt.scored(list(fit.values()), hunt.coarse), strict=True))
    first = sorted(scores, key=lambda words: scores[words].order)[: 2 * _TOLD]
    whole = dict(zip(first, hunt.scored([fit[words] for words in first], hunt.whole), strict=True))
    found = [
        Change(words, score.until, score.whole, score.use, score.first)
        for words, score in sorted(whole.items(), key=lambda item: item[1].order)
        if _helps(score, base) and hunt.over_zone(score) is None
    ]
    return base, tuple(found[:_TOLD])


def _helps(score: Score, base: Score) -> bool:
    if score.until != base.until:
        return score.until > base.until
    if not math.isfinite(score.use):
        return False
    return score.use < base.use * (1.0 - _GAIN)
