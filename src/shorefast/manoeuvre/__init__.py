"""Getting her in, proving her, getting her out: who does what, when."""

from shorefast.manoeuvre.able import AbleAsked, able
from shorefast.manoeuvre.able_chain import RESERVE_M, wind_pulls_n
from shorefast.manoeuvre.able_gear import ahead_n, hanging_n, spanned_m
from shorefast.manoeuvre.able_kinds import Able, ChainPulls, EnginePulls, WindRange
from shorefast.manoeuvre.alongside import Fenders, TenderPlace
from shorefast.manoeuvre.approach import Approach, approach
from shorefast.manoeuvre.arrival import Arrival, arrival
from shorefast.manoeuvre.ashore import Ashore, Handover, LineAshore, ashore
from shorefast.manoeuvre.ashore_steps import Step
from shorefast.manoeuvre.calls import Call, the_calls
from shorefast.manoeuvre.coming_in import CameIn, come_in
from shorefast.manoeuvre.crew import Crew, Duty, crew_for
from shorefast.manoeuvre.falling import falls, free_fall_s
from shorefast.manoeuvre.flaked import Flake
from shorefast.manoeuvre.leaving import leaving
from shorefast.manoeuvre.leaving_slip import DoubledBack
from shorefast.manoeuvre.leaving_told import Leaving, LeavingAt, LetGo, Why
from shorefast.manoeuvre.leeway import leeway
from shorefast.manoeuvre.marks import Mark, Transit
from shorefast.manoeuvre.outcomes import Outcome
from shorefast.manoeuvre.proof_steps import ProofStep
from shorefast.manoeuvre.proving import Proving, proving
from shorefast.manoeuvre.seen import CrewErrors
from shorefast.manoeuvre.sequence import CONDITIONS, EVENTS, Sequence, Taken, may_come, step
from shorefast.manoeuvre.settling import OffAt, Pretension, Settling, settling
from shorefast.manoeuvre.start import started
from shorefast.manoeuvre.stated_limits import USUAL_CREW, Limits
from shorefast.manoeuvre.waiting import Waiting, waiting
from shorefast.manoeuvre.watch_bill import Turn, WatchBill, watch_bill, watch_keepers
from shorefast.manoeuvre.way_in import WayIn, way_in
from shorefast.manoeuvre.which_first import Stage

__all__ = [
    "CONDITIONS",
    "EVENTS",
    "RESERVE_M",
    "USUAL_CREW",
    "Able",
    "AbleAsked",
    "Approach",
    "Arrival",
    "Ashore",
    "Call",
    "CameIn",
    "ChainPulls",
    "Crew",
    "CrewErrors",
    "DoubledBack",
    "Duty",
    "EnginePulls",
    "Fenders",
    "Flake",
    "Handover",
    "Leaving",
    "LeavingAt",
    "LetGo",
    "Limits",
    "LineAshore",
    "Mark",
    "OffAt",
    "Outcome",
    "Pretension",
    "ProofStep",
    "Proving",
    "Sequence",
    "Settling",
    "Stage",
    "Step",
    "Taken",
    "TenderPlace",
    "Transit",
    "Turn",
    "Waiting",
    "WatchBill",
    "WayIn",
    "Why",
    "WindRange",
    "able",
    "ahead_n",
    "approach",
    "arrival",
    "ashore",
    "come_in",
    "crew_for",
    "falls",
    "free_fall_s",
    "hanging_n",
    "leaving",
    "leeway",
    "may_come",
    "proving",
    "settling",
    "spanned_m",
    "started",
    "step",
    "the_calls",
    "waiting",
    "watch_bill",
    "watch_keepers",
    "way_in",
    "wind_pulls_n",
]
