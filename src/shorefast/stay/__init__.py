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
from shorefast.stay.blown_off import blown_m, let_off
from shorefast.stay.by_fetch import SeaByFetch, as_ridden
from shorefast.stay.check import check
from shorefast.stay.choose import choose
from shorefast.stay.choose_answer import TIE, Change, Choice, Elsewhere, Finalist
from shorefast.stay.choose_ashore import UNPROVEN
from shorefast.stay.choose_search import Score
from shorefast.stay.ease import Ease, Least, ease
from shorefast.stay.ease_lengths import Length
from shorefast.stay.ease_metre import AtHour, Metre
from shorefast.stay.ease_solved import deciding_use
from shorefast.stay.ease_told import RoomCost
from shorefast.stay.ground_swept import GroundSwept, Scoured, bottoms_of, ground_swept
from shorefast.stay.gust_response import GustResponse, PartResponse, gust_response
from shorefast.stay.hove_in import hove_in, in_a_lull, slack_m
from shorefast.stay.judge import Judged, bay_wind, judge
from shorefast.stay.let_go import LET_GO_ERROR_M, Side, WhereToLetGo, where_to_let_go
from shorefast.stay.lines_out import rode_segments
from shorefast.stay.odds import SAMPLES, Advice, Chance, DoubtShare, Odds, Question, odds
from shorefast.stay.odds_doubts import NO_DOUBT, Doubts, doubts_of
from shorefast.stay.outlines import neighbour_reach, scope_by_rule_m
from shorefast.stay.over_land import skyline_of
from shorefast.stay.plan import (
    DUTIES,
    Current,
    Lie,
    LieLine,
    Neighbour,
    Person,
    ProofGiven,
    Stay,
    Wash,
    Waves,
)
from shorefast.stay.proof import need_and_proof
from shorefast.stay.reach import MADE_FAST_M, SMALL_PULL_N, PointReach, reach
from shorefast.stay.rigging import RODE, Rigged, height_share, lie_of, rig, wind_form
from shorefast.stay.room import room_use
from shorefast.stay.rooms_there import KEEP_OFF, rooms_there
from shorefast.stay.runs_sifted import Run
from shorefast.stay.sea import Heave, heave, heave_m
from shorefast.stay.shape import chain_shapes
from shorefast.stay.shortened import Shortened, shortened, straight_reach_m, up_and_down_m
from shorefast.stay.stand import what_it_will_stand
from shorefast.stay.taken_in import BedChange, RunIn, TakenIn, bed_changes, take_in
from shorefast.stay.untied import Untied, untied
from shorefast.stay.verdict import shares_past
from shorefast.stay.without import Asked, Losses, if_one_goes, losses, question_of
from shorefast.stay.without_answer import WithoutOne
from shorefast.stay.without_double import Doubled, Doubling

__all__ = [
    "DUTIES",
    "KEEP_OFF",
    "LET_GO_ERROR_M",
    "MADE_FAST_M",
    "NO_DOUBT",
    "RODE",
    "SAMPLES",
    "SMALL_PULL_N",
    "TIE",
    "UNPROVEN",
    "Advice",
    "Asked",
    "AtHour",
    "BedChange",
    "ChainReading",
    "ChainShape",
    "Chance",
    "Change",
    "Choice",
    "Comfort",
    "Current",
    "Doubled",
    "Doubling",
    "DoubtShare",
    "Doubts",
    "Ease",
    "Elsewhere",
    "Finalist",
    "GroundSwept",
    "GustAnswer",
    "GustResponse",
    "Heave",
    "Judged",
    "Judgement",
    "Least",
    "Length",
    "Lie",
    "LieLine",
    "LineAtRest",
    "Losses",
    "Metre",
    "NeedAndProof",
    "Neighbour",
    "Odds",
    "PartResponse",
    "PartUse",
    "Person",
    "PointReach",
    "ProofGiven",
    "Question",
    "RestOverStay",
    "Rigged",
    "Room",
    "RoomCost",
    "Run",
    "RunIn",
    "Score",
    "Scoured",
    "SeaByFetch",
    "Shortened",
    "Side",
    "Snatch",
    "Stands",
    "Stay",
    "TakenIn",
    "Untied",
    "Wash",
    "WaveLoad",
    "Waves",
    "WhereToLetGo",
    "WindToSide",
    "WithoutOne",
    "as_ridden",
    "ask_the_chain",
    "bay_wind",
    "bed_changes",
    "blown_m",
    "bottoms_of",
    "chain_shapes",
    "check",
    "choose",
    "deciding_use",
    "doubts_of",
    "ease",
    "ground_swept",
    "gust_response",
    "heave",
    "heave_m",
    "height_share",
    "hove_in",
    "if_one_goes",
    "in_a_lull",
    "judge",
    "let_off",
    "lie_of",
    "losses",
    "need_and_proof",
    "neighbour_reach",
    "odds",
    "question_of",
    "reach",
    "rig",
    "rode_segments",
    "room_use",
    "rooms_there",
    "scope_by_rule_m",
    "shares_past",
    "shortened",
    "skyline_of",
    "slack_m",
    "straight_reach_m",
    "take_in",
    "untied",
    "up_and_down_m",
    "what_it_will_stand",
    "where_to_let_go",
    "wind_form",
]
