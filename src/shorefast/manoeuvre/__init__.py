"""Getting her in, proving her, getting her out: who does what, when."""

from shorefast.manoeuvre.alongside import Fenders, TenderPlace
from shorefast.manoeuvre.ashore import Ashore, Handover, LineAshore, ashore
from shorefast.manoeuvre.ashore_steps import Step
from shorefast.manoeuvre.crew import Crew, Duty, crew_for
from shorefast.manoeuvre.flaked import Flake
from shorefast.manoeuvre.sequence import CONDITIONS, EVENTS, Sequence, Taken, may_come, step
from shorefast.manoeuvre.watch_bill import Turn, WatchBill, watch_bill, watch_keepers
from shorefast.manoeuvre.which_first import Stage

__all__ = [
    "CONDITIONS",
    "EVENTS",
    "Ashore",
    "Crew",
    "Duty",
    "Fenders",
    "Flake",
    "Handover",
    "LineAshore",
    "Sequence",
    "Stage",
    "Step",
    "Taken",
    "TenderPlace",
    "Turn",
    "WatchBill",
    "ashore",
    "crew_for",
    "may_come",
    "step",
    "watch_bill",
    "watch_keepers",
]
