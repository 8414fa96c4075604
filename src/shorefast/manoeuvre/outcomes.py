"""What the proof may show, what it means and what to do, as keys of the catalogue of words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Outcome:
    """One outcome; all are short names of sentences in the catalogue.

    Attributes
    ----------
    sign : str
        What is seen.
    means : str
    do : tuple of str
        What to do, in order.
    tempts : str or None
        What one is tempted to do instead, where that makes it worse.
    """

    sign: str
    means: str
    do: tuple[str, ...]
    tempts: str | None = None


STANDS = Outcome("marks_stand", "holds", ("next_step", "hold_to_the_end"))
LATE = Outcome(
    "marks_open_then_stand",
    "bites_late",
    ("hold_longer", "from_the_first_step", "measure_off"),
    "stop_when_it_bites",
)
CREEPS = Outcome(
    "marks_open_slowly", "creeps", ("ease_engine", "wait_for_mud", "veer_and_again"), "more_revs"
)
DRAGS = Outcome(
    "marks_run", "drags", ("ease_engine", "do_not_heave_in", "go_out_and_again"), "heave_in"
)
TREMBLES = Outcome("chain_trembles", "scrapes", ("ease_engine", "go_out_and_again"), "more_revs")
STEEP = Outcome("leads_steeper", "less_pull_or_heaped", ("wait_for_straight", "count_chain"))
FLAT = Outcome("leads_flatter", "more_pull_or_caught", ("count_chain", "not_go_up"))
LIFTED = Outcome("angle_stands", "all_lifted", ("look_at_marks",))
SHEERS = Outcome("stern_swings", "pulls_aside", ("steer_straight", "in_short_bursts"))
SHORT = Outcome(
    "revs_are_full", "need_not_reached", ("counts_what_was_pulled", "more_chain", "less_need")
)


def outcomes_of(*, lifts: bool, short: bool) -> tuple[Outcome, ...]:
    """The outcomes of a proof.

    Parameters
    ----------
    lifts : bool
        Whether some step lifts all chain.
    short : bool
        Whether the engine may not reach what the stay asks.
    """
    always = (STANDS, LATE, CREEPS, DRAGS, TREMBLES, STEEP, FLAT, SHEERS)
    return (*always, *((LIFTED,) if lifts else ()), *((SHORT,) if short else ()))
