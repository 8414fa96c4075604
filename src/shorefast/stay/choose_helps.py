"""Which single change to the best lie helps most: tried for each, judged for the best few."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shorefast.bay import ShorePoint
from shorefast.boat import LongLine
from shorefast.stay.choose_answer import Change, Finalist
from shorefast.stay.choose_ashore import UNPROVEN
from shorefast.stay.choose_final import finalist
from shorefast.stay.choose_lies import Candidate, straight_m
from shorefast.stay.choose_rules import Rules
from shorefast.stay.choose_search import Hunt, Score
from shorefast.stay.choose_stages import (
    anchor_moved,
    as_stay,
    is_aboard,
    one_line_more,
    toward_anchor_rad,
)
from shorefast.stay.lines_out import rounded_down_m
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


def _more(hunt: Hunt, own: Hunt, one: Candidate) -> Iterator[tuple[str, Candidate]]:
    """One line more, or one of hers led out and back; hers where any has enough left."""
    told: set[tuple[str, str, float]] = set()
    for more in (*_led(own, one), *_led(hunt, one)):
        line = more.lie.lines[-1]
        lead = (line.cleat, line.point, line.length_m)
        if lead not in told:
            told.add(lead)
            what = line.line if line.line == ONE_MORE else f"{line.line} as well"
            yield f"{what}: {line.cleat} to {line.point}, {line.length_m:g} m", more
    for more in one_line_more(own, one, hunt.stay.bay.points):
        for was, line in zip(one.lie.lines, more.lie.lines, strict=False):
            if line.doubled and not was.doubled:
                yield f"{line.line} to {line.point} led out and back", more


def _led(hunt: Hunt, one: Candidate) -> Iterator[Candidate]:
    for more in one_line_more(hunt, one, hunt.stay.bay.points):
        if len(more.lie.lines) > len(one.lie.lines):
            yield more


def elsewhere(hunt: Hunt, one: Candidate) -> Iterator[tuple[str, Candidate]]:
    """One of her lines led to another point."""
    level_m = hunt.trier(hunt.coarse).middle_m
    points = {point.name: point for point in hunt.stay.bay.points}
    cleats = {cleat.name: cleat for cleat in hunt.stay.boat.cleats}
    for k, line in enumerate(one.lie.lines):
        taken = {other.point for other in one.lie.lines if other.cleat == line.cleat}
        for point in hunt.stay.bay.points:
            if point.name in taken or _less_known(point, points[line.point]):
                continue
            length_m = rounded_down_m(straight_m(one.berth, cleats[line.cleat], point, level_m))
            moved = replace(line, point=point.name, length_m=length_m, sling=None)
            lines = tuple(moved if i == k else other for i, other in enumerate(one.lie.lines))
            lie = replace(one.lie, lines=lines)
            said = f"{line.line} from {line.cleat} to {point.name} instead of {line.point}"
            yield f"{said}, {length_m:g} m", replace(one, lie=lie)


def _less_known(point: ShorePoint, than: ShorePoint) -> bool:
    return point.kind == UNPROVEN and than.kind != UNPROVEN


def helps(stay: Stay, best: Finalist) -> tuple[Change, ...]:
    """The single changes that help a lie most, each judged in full.

    One more line is one like the longest aboard, where none of hers has enough left.

    Parameters
    ----------
    stay : Stay
        With every point that lines may lead to.
    """
    one = best.candidate
    own = Hunt(stay, Rules(stay))
    hunt = Hunt(with_one_more(stay), Rules(stay))
    said = {
        **dict(_small(one)), **dict(_more(hunt, own, one)), **dict(elsewhere(own, one))
    }  # fmt: skip
    fit = {
        words: made
        for words, made in said.items()
        if is_aboard(hunt, made) and hunt.rules.of(made) is None
    }
    scores = dict(zip(fit, hunt.scored(list(fit.values()), hunt.coarse), strict=True))
    first = sorted(scores, key=lambda words: scores[words].order)[: 2 * _TOLD]
    base = hunt.scored([one], hunt.whole)[0]
    whole = dict(zip(first, hunt.scored([fit[words] for words in first], hunt.whole), strict=True))
    likely = [words for words in first if _likely(hunt, whole[words], base)]
    likely.sort(key=lambda words: whole[words].order)
    judged = [(words, finalist(as_stay(hunt, fit[words]), fit[words])) for words in likely[:_TOLD]]
    found = [(words, score) for words, score in judged if _helps(score, best)]
    found.sort(key=lambda pair: (-pair[1].until.timestamp(), pair[1].use))
    return tuple(_change(words, score) for words, score in found)


def _change(words: str, one: Finalist) -> Change:
    return Change(words, one.until, one.whole, one.told_use, one.first_to_give, one.stay)


def _likely(hunt: Hunt, score: Score, base: Score) -> bool:
    """Whether a change helps as far as it was tried, and nothing speaks against it."""
    longer, less = score.until > base.until, score.use < base.use
    better = longer or (score.until == base.until and less)
    return better and score.proof_holds and hunt.against(score) is None


def _helps(one: Finalist, than: Finalist) -> bool:
    if one.against is not None:
        return False
    if one.until != than.until:
        return one.until > than.until
    return one.use < than.use * (1.0 - _GAIN)
