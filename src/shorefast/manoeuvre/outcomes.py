"""What the proof may show, what it means and what to do, as keys of the catalogue of words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Outcome:
    """One outcome; all are short names of sentences in the catalogue.

    Attributes
    ----------
    sign, means, do : str
        What is seen, what it means, what to do.
    tempts : str or None
        What one is tempted to do instead, where that makes it worse.
    """

    sign: str
    means: str
    do: str
    tempts: str | None = None


STANDS = Outcome("marks_stand", "holds", "up")
LATE = Outcome("marks_open_then_stand", "bites_late", "from_first", "go_on_up")
CREEPS = Outcome("marks_open_slowly", "creeps", "ease_and_wait", "more_revs")
DRAGS = Outcome("marks_run", "drags", "go_out", "heave_in")
TREMBLES = Outcome("chain_trembles", "scrapes", "ease_and_again", "more_revs")
STEEP = Outcome("leads_steeper", "less_pull_or_heaped", "wait_and_count")
FLAT = Outcome("leads_flatter", "more_pull_or_caught", "count_and_stay")
SHEERS = Outcome("stern_swings", "pulls_aside", "steer")
LIFTED = Outcome("angle_stands", "all_lifted", "look_at_marks")
SHORT = Outcome("revs_are_full", "need_not_reached", "take_it")
SHOAL = Outcome("water_short", "would_touch", "prove_deeper")


def outcomes_of(*, lifts: bool, short: bool, shoal: bool) -> tuple[Outcome, ...]:
    """The outcomes of a proof.

    Parameters
    ----------
    lifts : bool
        Whether some step lifts all chain.
    short : bool
        Whether the engine may not reach what the stay asks.
    shoal : bool
        Whether at some step too little water is left under her.
    """
    always = (STANDS, LATE, CREEPS, DRAGS, TREMBLES, STEEP, FLAT, SHEERS)
    some = ((SHOAL, shoal), (LIFTED, lifts), (SHORT, short))
    return (*always, *(one for one, applies in some if applies))
