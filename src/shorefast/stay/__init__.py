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
from shorefast.stay.ask_chain import PullTold, ask_the_chain, pull_told
from shorefast.stay.blown_off import blown_m, touching_alone
from shorefast.stay.by_fetch import SeaByFetch, as_ridden
from shorefast.stay.chain_lead import (
    OF_TWENTY,
    READING_DOUBT_RAD,
    Hanging,
    Led,
    hanging,
    lead_basis,
)
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
from shorefast.stay.equal_wind import equal_winds_mps
from shorefast.stay.ground_swept import GroundSwept, Scoured, bottoms_of, ground_swept
from shorefast.stay.gust_response import GustResponse, PartResponse, gust_response
from shorefast.stay.hove_in import hove_in, in_a_lull, slack_m
from shorefast.stay.judge import Judged, bay_wind, judge
from shorefast.stay.let_go import Side, WhereToLetGo, where_to_let_go
from shorefast.stay.let_off import Pushed, let_off
from shorefast.stay.lines_out import ShoreLeg, rode_segments
from shorefast.stay.odds import SAMPLES, Advice, Chance, DoubtShare, Odds, Question, odds
from shorefast.stay.odds_doubts import NO_DOUBT, Doubts, doubts_of
from shorefast.stay.outlines import neighbour_reach, scope_by_rule_m
from shorefast.stay.over_land import skyline_of
from shorefast.stay.part_rigged import PartRigged, part_rigged
from shorefast.stay.plan import (
    DUTIES,
    LET_GO_ERROR_M,
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
from shorefast.stay.proof import (
    equal_wind_mps,
    need_and_proof,
    out_in_proof_m,
    proof_toward_rad,
    rode_in_proof,
)
from shorefast.stay.reach import MADE_FAST_M, SMALL_PULL_N, PointReach, reach
from shorefast.stay.rigging import RODE, Rigged, height_share, lie_of, rig, wind_form
from shorefast.stay.room import LEAST_WATER_M, room_of, room_use
from shorefast.stay.rooms_there import KEEP_OFF, rooms_there
from shorefast.stay.runs_sifted import Run
from shorefast.stay.sea import Heave, heave, heave_m
from shorefast.stay.shape import chain_shapes
from shorefast.stay.shortened import Shortened, shortened, straight_reach_m, up_and_down_m
from shorefast.stay.stand import what_it_will_stand
from shorefast.stay.taken_in import BedChange, RunIn, TakenIn, bed_changes, take_in
from shorefast.stay.untied import Untied, untied, walked
from shorefast.stay.verdict import shares_past
from shorefast.stay.without import Asked, Losses, if_one_goes, losses, question_of
from shorefast.stay.without_answer import WithoutOne
from shorefast.stay.without_double import Doubled, Doubling

__all__ = [
    "DUTIES",
    "KEEP_OFF",
    "LEAST_WATER_M",
    "LET_GO_ERROR_M",
    "MADE_FAST_M",
    "NO_DOUBT",
    "OF_TWENTY",
    "READING_DOUBT_RAD",
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
    "Hanging",
    "Heave",
    "Judged",
    "Judgement",
    "Least",
    "Led",
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
    "PartRigged",
    "PartUse",
    "Person",
    "PointReach",
    "ProofGiven",
    "PullTold",
    "Pushed",
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
    "ShoreLeg",
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
    "equal_wind_mps",
    "equal_winds_mps",
    "ground_swept",
    "gust_response",
    "hanging",
    "heave",
    "heave_m",
    "height_share",
    "hove_in",
    "if_one_goes",
    "in_a_lull",
    "judge",
    "lead_basis",
    "let_off",
    "lie_of",
    "losses",
    "need_and_proof",
    "neighbour_reach",
    "odds",
    "out_in_proof_m",
    "part_rigged",
    "proof_toward_rad",
    "pull_told",
    "question_of",
    "reach",
    "rig",
    "rode_in_proof",
    "rode_segments",
    "room_of",
    "room_use",
    "rooms_there",
    "scope_by_rule_m",
    "shares_past",
    "shortened",
    "skyline_of",
    "slack_m",
    "straight_reach_m",
    "take_in",
    "touching_alone",
    "untied",
    "up_and_down_m",
    "walked",
    "what_it_will_stand",
    "where_to_let_go",
    "wind_form",
]
