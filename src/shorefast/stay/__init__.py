"""Good enough, hour by hour?"""

from shorefast.stay.answer import (
    ChainReading,
    ChainShape,
    Comfort,
    GustAnswer,
    Judgement,
    LineAtRest,
    NeedAndProof,
    PartUse,
    RestOverStay,
    Room,
    Snatch,
    Stands,
    WaveLoad,
    WindToSide,
)
from shorefast.stay.ask_chain import ask_the_chain
from shorefast.stay.by_fetch import SeaByFetch, as_ridden
from shorefast.stay.check import check
from shorefast.stay.judge import Judged, judge
from shorefast.stay.outlines import neighbour_reach, scope_by_rule_m
from shorefast.stay.over_land import skyline_of
from shorefast.stay.plan import Current, Lie, LieLine, Neighbour, ProofGiven, Stay, Wash, Waves
from shorefast.stay.proof import need_and_proof
from shorefast.stay.reach import MADE_FAST_M, SMALL_PULL_N, PointReach, reach
from shorefast.stay.runs_sifted import Run
from shorefast.stay.sea import Heave, heave, heave_m
from shorefast.stay.shape import chain_shapes
from shorefast.stay.stand import what_it_will_stand
from shorefast.stay.taken_in import BedChange, RunIn, TakenIn, bed_changes, take_in
from shorefast.stay.without import Losses, if_one_goes, losses
from shorefast.stay.without_answer import WithoutOne
from shorefast.stay.without_double import Doubled, Doubling

__all__ = [
    "MADE_FAST_M",
    "SMALL_PULL_N",
    "BedChange",
    "ChainReading",
    "ChainShape",
    "Comfort",
    "Current",
    "Doubled",
    "Doubling",
    "GustAnswer",
    "Heave",
    "Judged",
    "Judgement",
    "Lie",
    "LieLine",
    "LineAtRest",
    "Losses",
    "NeedAndProof",
    "Neighbour",
    "PartUse",
    "PointReach",
    "ProofGiven",
    "RestOverStay",
    "Room",
    "Run",
    "RunIn",
    "SeaByFetch",
    "Snatch",
    "Stands",
    "Stay",
    "TakenIn",
    "Wash",
    "WaveLoad",
    "Waves",
    "WindToSide",
    "WithoutOne",
    "as_ridden",
    "ask_the_chain",
    "bed_changes",
    "chain_shapes",
    "check",
    "heave",
    "heave_m",
    "if_one_goes",
    "judge",
    "losses",
    "need_and_proof",
    "neighbour_reach",
    "reach",
    "scope_by_rule_m",
    "skyline_of",
    "take_in",
    "what_it_will_stand",
]
