"""The cards of those who take the lines: the stern hand, and the swimmer or rower."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shorefast.briefing.cards.blocks import (
    Cell,
    Column,
    bullets,
    figures,
    heading,
    paragraph,
    table,
)
from shorefast.briefing.cards.content import CardContent, CardLine, CardOff
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece, together
from shorefast.briefing.cards.hours import hour_told
from shorefast.briefing.cards.signalled import Signal, signals
from shorefast.briefing.cards.warned import cautioned, never, ready, steps, stopped, what_was
from shorefast.wording import CardWords, to_flake_m

_ZERO_C_K = 273.15
_SEEN_M, _SLACK_N = 0.05, 60.0
"""Less is not taken in by hand; a line that pulls less and has no sag to see hangs slack."""
_LINE_CONCERNS, _ASHORE_CONCERNS = (4, 6), (4, 10)
_LINE_GIVEN: tuple[Signal, ...] = tuple((name, "front") for name in ("hold", "swimmer"))
_LINE_TAKEN: tuple[Signal, ...] = tuple(
    (name, "front") for name in ("engine_stopped", "line_fast", "come_away", "abort")
)
_ASHORE_GIVEN: tuple[Signal, ...] = (("line_fast", "front"), ("hold", "front"))
_ASHORE_TAKEN: tuple[Signal, ...] = tuple(
    (name, "front") for name in ("engine_stopped", "come_away", "swimmer", "abort")
)


def line_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the hand at the stern lines."""
    pieces = (
        *_lines(content, words),
        *paragraph(_tends(content, words), above_pt=6.0),
        *heading(words.say("line.rules_title")),
        *bullets(words.rows("line.rules")),
        *never(words, "line.never"),
        *cautioned(words, *_LINE_CONCERNS),
        *stopped(words),
        *steps(content, words, "line"),
        *ready(content, words),
        *_settling(content, words),
        *signals(words, _LINE_GIVEN, _LINE_TAKEN),
    )
    return Card("line", words.say("line.title"), people, pieces, was=what_was(words, "line.was"))


def ashore_card(content: CardContent, duty: str, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the swimmer or the rower ("swimmer", "rower")."""
    way = "swim" if duty == "swimmer" else "row"
    pieces = (
        *_far(content, way, words),
        *_told_off(content, way, words),
        *stopped(words),
        *heading(words.say("line.rules_title")),
        *bullets(words.rows(f"ashore.{way}_rules")),
        *never(words, f"ashore.{way}_never"),
        *cautioned(words, *_ASHORE_CONCERNS),
        *steps(content, words, duty),
        *signals(words, _ASHORE_GIVEN, _ASHORE_TAKEN),
    )
    title = words.say(f"ashore.{duty}_title")
    return Card(duty, title, people, pieces, was=what_was(words, "ashore.was"))


def letter_of(number: int) -> str:
    """A, B, ... in the lie's own order, as on the sheet."""
    return chr(ord("A") + number % 26)


def _in_order(content: CardContent) -> list[tuple[str, CardLine]]:
    """Lines with their letters, in the order they go ashore where that is known."""
    lettered = [(letter_of(at), line) for at, line in enumerate(content.lines)]
    last = len(lettered) + 1
    return sorted(lettered, key=lambda one: one[1].order or last)


def _name(letter: str, line: CardLine, words: CardWords) -> str:
    told = [f"{letter} {line.name}", words.say("line.from_to", cleat=line.cleat, point=line.point)]
    if line.doubled:
        told.append(words.say("line.doubled"))
    if line.weather:
        told.append(words.say("line.weather"))
    return words.say("card.apart").join(told)


def _lines(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    columns = [
        Column(words.say("line.name"), 2.6),
        Column(words.say("line.out"), 1.0),
        Column(words.say("line.flake"), 1.0),
        Column(words.say("line.left"), 1.1),
    ]
    rows = [
        [
            Cell(_name(letter, line, words)),
            Cell(words.number(line.length_m, 1), number=True),
            Cell(words.number(_to_flake_m(line)), number=True),
            Cell(_left(line, content, words), number=True),
        ]
        for letter, line in _in_order(content)
    ]
    return (*table(columns, rows), *bullets(_short(content, words), "!"))


def _to_flake_m(line: CardLine) -> float:
    """Whole metres, as they are laid out; NaN unknown. [m]"""
    return to_flake_m(line.flake_m) if math.isfinite(line.flake_m) else math.nan


def _left(line: CardLine, content: CardContent, words: CardWords) -> str:
    """What stays aboard of a line once all its legs are flaked, told once: with the first leg."""
    legs = [one for one in _in_order(content) if one[1].name == line.name]
    first, whole = legs[0], sum(_to_flake_m(one) - one.flake_m for _, one in legs)
    if first[1] is not line:
        return words.say("line.left_with", letter=first[0])
    if not math.isfinite(line.left_m) or line.left_m < 0.0:
        return words.number(line.left_m)
    return words.number(max(0, math.floor(line.left_m - whole + 1e-6)))


def _short(content: CardContent, words: CardWords) -> list[str]:
    """Lines that are too short, and those with less in reserve than wanted."""
    said = []
    for letter, line in _in_order(content):
        if line.left_m < 0.0:
            said.append(
                words.say("ashore.short", name=line.name, metres=words.metres(-line.left_m))
            )
        elif line.reserve_m < line.reserve_wanted_m - _SEEN_M:
            kept, wanted = words.metres(line.reserve_m), words.metres(line.reserve_wanted_m)
            name = f"{letter} {line.name}"
            said.append(words.say("ashore.reserve", name=name, metres=kept, wanted=wanted))
    return list(dict.fromkeys(said))


def _tends(content: CardContent, words: CardWords) -> str:
    if content.tends is None:
        return words.say("line.tends_unknown")
    return words.say("line.tends", who=content.tends)


def _settling(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    said = [
        words.say("line.settle", name=f"{letter} {line.name}", how=_settled(line, words))
        for letter, line in _in_order(content)
        if math.isfinite(line.take_in_m)
    ]
    title = heading(words.say("line.settle_title"))
    told = bullets(said) if said else paragraph(words.say("card.not_known"))
    return (*title, *told, *_off(content, words))


def _settled(line: CardLine, words: CardWords) -> str:
    """How one line is left: what is taken in or eased, its pull and sag where there are any."""
    turn = "none" if abs(line.take_in_m) < _SEEN_M else "in" if line.take_in_m > 0.0 else "out"
    said = [words.say(f"line.settle_{turn}", metres=words.metres(abs(line.take_in_m)))]
    if line.pretension_n < _SLACK_N and not math.isfinite(line.sag_m):
        return words.say("card.apart").join([*said, words.say("line.settle_slack")])
    said.append(words.say("line.settle_pull", kilograms=words.kilograms(line.pretension_n)))
    if math.isfinite(line.sag_m):
        said.append(words.say("line.settle_sag", sag=words.metres(line.sag_m)))
    return words.say("card.apart").join(said)


def _off(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """How far off her stern is at the tides where least is left, engine astern and at rest."""
    if not content.off:
        return ()
    said = paragraph(words.say("line.off_said"), above_pt=5.0)
    return together((*said, *off_table(_nearest(content.off), content, words)))


def _nearest(off: Sequence[CardOff]) -> list[CardOff]:
    """Of each tide the one at which least is left."""
    least = {
        tide: min((one for one in off if one.tide == tide), key=lambda one: one.least_m)
        for tide in dict.fromkeys(one.tide for one in off)
    }
    return [one for one in off if one is least[one.tide]]


def off_table(some: Sequence[CardOff], content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """Her stern off the high-water line, tide by tide."""
    names = ("tide", "off_engine", "off_rest", "off_least")
    shares = (1.3, 1.0, 1.0, 1.0)
    columns = [
        Column(words.say(f"line.{name}"), share) for name, share in zip(names, shares, strict=True)
    ]
    rows = [
        [
            Cell(f"{hour_told(one.at_utc, content, words)} {words.say(f'line.{one.tide}')}"),
            *(
                Cell(words.number(off_m), number=True)
                for off_m in (one.engine_m, one.rest_m, one.least_m)
            ),
        ]
        for one in some
    ]
    return table(columns, rows, 1.0)


def _far(content: CardContent, way: str, words: CardWords) -> tuple[Piece, ...]:
    columns = [
        Column(words.say("line.name"), 2.6),
        Column(words.say("ashore.far"), 1.0),
        Column(words.say(f"ashore.by_{way}"), 1.0),
    ]
    rows = [
        [
            Cell(_name(letter, line, words)),
            Cell(words.number(line.distance_m), number=True),
            Cell(_minutes(line.swim_s if way == "swim" else line.row_s, words), number=True),
        ]
        for letter, line in _in_order(content)
    ]
    sea = words.unknown
    if content.water_k is not None:
        sea = words.say("ashore.degrees_c", value=words.number(content.water_k - _ZERO_C_K))
    return (*figures(((words.say("ashore.water"), sea),)), *table(columns, rows))


def _minutes(time_s: float, words: CardWords) -> str:
    if time_s == math.inf:
        return words.say("ashore.no_headway")
    return words.number(time_s / 60.0)


def _told_off(content: CardContent, way: str, words: CardWords) -> tuple[Piece, ...]:
    """That nobody swims in cold water, or that nobody goes at all."""
    said = []
    if content.by == "nobody":
        said.append(words.say("ashore.nobody"))
    if way == "swim" and content.is_cold:
        said.append(words.say("ashore.cold"))
    return bullets(said, "!")
