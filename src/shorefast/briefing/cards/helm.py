"""The helm's card: what she reads with wet hands at the wheel."""

from __future__ import annotations

from collections.abc import Iterator

from shorefast.briefing.cards.blocks import bullets, figures, heading, locked
from shorefast.briefing.cards.called import short_calls
from shorefast.briefing.cards.content import CardApproach, CardContent
from shorefast.briefing.cards.faces import Card
from shorefast.briefing.cards.flow import Piece
from shorefast.briefing.cards.proof import short_proof
from shorefast.briefing.cards.warned import cautioned, stopped, what_was
from shorefast.briefing.cards.way_in import (
    abort,
    crosswind,
    drifts,
    goes_ahead,
    start,
    way_out_depths,
)
from shorefast.wording import CardWords


def helm_card(content: CardContent, people: tuple[str, ...], words: CardWords) -> Card:
    """Everything for the one who steers; what is read before stands on the sheet of the bay."""
    pieces = (
        *_key(content, words),
        *short_calls(content, words),
        *cautioned(words, 1),
        *heading(words.say("helm.way_in_title")),
        *bullets(list(_way_in(content, words))),
        *bullets(words.rows("helm.never")[:-1], "×"),
        *stopped(words),
        *short_proof(content, words),
        *locked(words.say("outcome_sign.marks_run"), words.say("caution.5"), lock=False),
    )
    return Card("helm", words.say("helm.title"), people, pieces, was=what_was(words, "helm.was"))


def _key(content: CardContent, words: CardWords) -> tuple[Piece, ...]:
    """The numbers of the way in and of the way out."""
    approach = content.approach
    if approach is None:
        return figures(((words.say("bow.heading"), words.bearing(content.heading_rad)),))
    let_go, stop = _let_go_and_stop(approach, words)
    steered = (
        (words.say("helm.line_in"), words.bearing(approach.line_in_rad)),
        (words.say("helm.bow_in"), words.bearing(approach.heading_rad)),
        (words.say("helm.let_go_off"), let_go),
        (words.say("helm.stop_off"), stop),
    )
    then = (
        (words.say("helm.astern_most"), words.slow_knots(approach.astern_most_mps)),
        (words.say("helm.abort"), words.bearing(approach.abort_rad)),
        (words.say("bow.heading"), words.bearing(content.heading_rad)),
    )
    return (*figures(steered), *figures(then))


def _let_go_and_stop(approach: CardApproach, words: CardWords) -> tuple[str, str]:
    """Stern to the high-water line where the anchor goes and where she stops."""
    off = {one.kind: words.metres(one.off_m) for one in reversed(approach.calls)}
    return off.get("let go", words.unknown), off.get("hold", words.unknown)


def _way_in(content: CardContent, words: CardWords) -> Iterator[str]:
    """Where she begins, how she drifts, where it is broken off and by whom."""
    approach = content.approach
    if content.ahead:
        yield words.say(goes_ahead(content))
    if approach is not None:
        if not approach.can_be_held:
            yield words.say("helm.cannot")
        yield f"{start(approach, words)} {drifts(approach, words)}"
        yield f"{crosswind(approach, words)} {words.say('helm.who_breaks_off')}"
        yield " ".join((abort(approach, words), *way_out_depths(approach, words)))
    yield words.say("helm.bursts")
