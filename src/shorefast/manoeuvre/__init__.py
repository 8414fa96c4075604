"""Getting her in, proving her, getting her out: who does what, when."""

from shorefast.manoeuvre.alongside import Fenders, TenderPlace
from shorefast.manoeuvre.ashore import Ashore, Handover, LineAshore, ashore
from shorefast.manoeuvre.ashore_steps import Step
from shorefast.manoeuvre.crew import Crew, Duty, crew_for
from shorefast.manoeuvre.flaked import Flake
from shorefast.manoeuvre.practice import Ticked
from shorefast.manoeuvre.practice_contact import Space
from shorefast.manoeuvre.practice_debrief import Answered, CallDone, Debrief, Load, debrief
from shorefast.manoeuvre.practice_deck import Deck, Happening
from shorefast.manoeuvre.practice_orders import (
    FAILURES,
    ORDERS,
    TICK_S,
    Failure,
    Order,
    Setting,
    Timed,
)
from shorefast.manoeuvre.practice_rules import Broken
from shorefast.manoeuvre.practice_run import MOST_S, Practised, Seen, Rehearsal, rehearse
from shorefast.manoeuvre.practice_set import Practice, drawn_value, practice
from shorefast.manoeuvre.sequence import CONDITIONS, EVENTS, Sequence, Taken, may_come, step
from shorefast.manoeuvre.watch_bill import Turn, WatchBill, watch_bill, watch_keepers
from shorefast.manoeuvre.which_first import Stage

__all__ = [
    "CONDITIONS",
    "EVENTS",
    "FAILURES",
    "MOST_S",
    "ORDERS",
    "TICK_S",
    "Answered",
    "Ashore",
    "Broken",
    "CallDone",
    "Crew",
    "Debrief",
    "Deck",
    "Duty",
    "Failure",
    "Fenders",
    "Flake",
    "Handover",
    "Happening",
    "LineAshore",
    "Load",
    "Order",
    "Practice",
    "Practised",
    "Rehearsal",
    "Seen",
    "Sequence",
    "Setting",
    "Space",
    "Stage",
    "Step",
    "Taken",
    "TenderPlace",
    "Ticked",
    "Timed",
    "Turn",
    "WatchBill",
    "ashore",
    "crew_for",
    "debrief",
    "drawn_value",
    "may_come",
    "practice",
    "rehearse",
    "step",
    "watch_bill",
    "watch_keepers",
]
