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
from shorefast.manoeuvre.crossed_chain import CrossedChain, DrillStep, crossed_chain
from shorefast.manoeuvre.falling import falls, free_fall_s
from shorefast.manoeuvre.flaked import Flake
from shorefast.manoeuvre.leaving import leaving
from shorefast.manoeuvre.leaving_cut import Cut
from shorefast.manoeuvre.leaving_heave import Heaving, heave_s
from shorefast.manoeuvre.leaving_hold import Held
from shorefast.manoeuvre.leaving_slip import DoubledBack
from shorefast.manoeuvre.leaving_swing import Swing
from shorefast.manoeuvre.leaving_told import Leaving, LeavingAt, LetGo, Why
from shorefast.manoeuvre.leeway import leeway
from shorefast.manoeuvre.marks import Mark, Transit
from shorefast.manoeuvre.outcomes import Outcome
from shorefast.manoeuvre.practice import Ticked, seen_at, sounded_m, tick, wind_at
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
from shorefast.manoeuvre.practice_run import MOST_S, Practised, Rehearsal, Seen, rehearse
from shorefast.manoeuvre.practice_set import Moment, Practice, drawn_value, practice
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
    "FAILURES",
    "MOST_S",
    "ORDERS",
    "RESERVE_M",
    "TICK_S",
    "USUAL_CREW",
    "Able",
    "AbleAsked",
    "Answered",
    "Approach",
    "Arrival",
    "Ashore",
    "Broken",
    "Call",
    "CallDone",
    "CameIn",
    "ChainPulls",
    "Crew",
    "CrewErrors",
    "CrossedChain",
    "Cut",
    "Debrief",
    "Deck",
    "DoubledBack",
    "DrillStep",
    "Duty",
    "EnginePulls",
    "Failure",
    "Fenders",
    "Flake",
    "Handover",
    "Happening",
    "Heaving",
    "Held",
    "Leaving",
    "LeavingAt",
    "LetGo",
    "Limits",
    "LineAshore",
    "Load",
    "Mark",
    "Moment",
    "OffAt",
    "Order",
    "Outcome",
    "Practice",
    "Practised",
    "Pretension",
    "ProofStep",
    "Proving",
    "Rehearsal",
    "Seen",
    "Sequence",
    "Setting",
    "Settling",
    "Space",
    "Stage",
    "Step",
    "Swing",
    "Taken",
    "TenderPlace",
    "Ticked",
    "Timed",
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
    "crossed_chain",
    "debrief",
    "drawn_value",
    "falls",
    "free_fall_s",
    "hanging_n",
    "heave_s",
    "leaving",
    "leeway",
    "may_come",
    "practice",
    "proving",
    "rehearse",
    "seen_at",
    "settling",
    "sounded_m",
    "spanned_m",
    "started",
    "step",
    "the_calls",
    "tick",
    "waiting",
    "watch_bill",
    "watch_keepers",
    "way_in",
    "wind_at",
    "wind_pulls_n",
]
