"""Forces, lines over the bottom, what the ground holds, where she comes to rest."""

from shorefast.mooring.batch import Moored, Path, Rests, moored, rests
from shorefast.mooring.branch_moves import (
    BranchMove,
    BranchMoves,
    branch_moves,
    move_findings,
    other_findings,
    other_rests,
    others_at,
)
from shorefast.mooring.by_hand import Answer, ByHand, by_hand
from shorefast.mooring.coarse_tables import (
    Blown,
    LineNodes,
    blown,
    coarse_rode,
    put_together,
    rests_alone,
    shore_table,
)
from shorefast.mooring.copied_lines import with_copies
from shorefast.mooring.crossed import BarTight, Crossing, bar_tight, crossings
from shorefast.mooring.current_force import CurrentForce, Underbody, current_force, underbody
from shorefast.mooring.drift import DRIFT_BASIS, Drift, afloat_of, drift
from shorefast.mooring.drift_steps import (
    DRIFT_COLUMNS,
    GOES_ON,
    GONE_OUT,
    LIES_STILL,
    NOT_KNOWN,
    Afloat,
    Seconds,
)
from shorefast.mooring.driven import driven_of
from shorefast.mooring.every_rest import AllRests, all_rests
from shorefast.mooring.exact_check import Checked, Off, held_exactly
from shorefast.mooring.following import apart_m as same_place_m
from shorefast.mooring.gust_motion import Moving, Winds
from shorefast.mooring.gust_runs import GustRuns, Moved, Timing, moved_by_gusts, moving_of
from shorefast.mooring.handled import (
    HANDLED_BASIS,
    Breeze,
    Handled,
    Lying,
    Orders,
    astern_balance,
    forces_driven,
)
from shorefast.mooring.handled_forces import Driven
from shorefast.mooring.handled_kept import Kept, kept, put_back, stopped_at
from shorefast.mooring.holding import (
    Holding,
    chosen_fractile,
    holding,
    power_law_holding_n,
    proof_here_n,
    proof_lifted_share,
    proven_share,
    slope_note,
    slope_widening,
    uplift_share,
)
from shorefast.mooring.lift_off import lift_off
from shorefast.mooring.line_tables import Spread
from shorefast.mooring.natural import Inertia, Natural, inertia, natural
from shorefast.mooring.one_rest import OneRest
from shorefast.mooring.quick import (
    L_BEARING,
    L_DISTANCE,
    L_DOWN,
    L_FAR,
    L_LYING,
    L_PULL,
    L_TENSION,
    L_UPLIFT,
)
from shorefast.mooring.released import Laid, released_rests
from shorefast.mooring.relined import relined
from shorefast.mooring.rest import FOUND, LEFT, UNKNOWN, UNSETTLED, Load
from shorefast.mooring.rode import rode_at_distance, rode_at_pull
from shorefast.mooring.scene import Domain, GridBed, PlaneBed, RodeLine, Scene, ShoreLine
from shorefast.mooring.shapes import BedLine, LineSegments, RodeForm, ShoreLineForm, ShoreRope
from shorefast.mooring.shore_line import shore_line_at_distance
from shorefast.mooring.solve import Rest, solve_rest
from shorefast.mooring.trace import rode_trace
from shorefast.mooring.two_anchors import InLine, two_in_line
from shorefast.mooring.warming import warm
from shorefast.mooring.wave_drift import Sea, SeaSpread, drift_bound, fetch_sea, sea_spread
from shorefast.mooring.wave_motion import (
    Follows,
    Ride,
    deep_wavelength_m,
    dip_share,
    follows,
    highest_share,
    ride,
    snap_load_n,
)
from shorefast.mooring.wave_push import WavePush, wave_push
from shorefast.mooring.weighed_body import weighed_underbody
from shorefast.mooring.wind_compared import (
    ShipShape,
    WindCompared,
    merchant_coefficients,
    ship_shape,
    wind_compared,
)
from shorefast.mooring.wind_load import (
    AIR_KGPM3,
    WATER_KGPM3,
    WindForm,
    wind_coefficients,
    wind_force,
)
from shorefast.mooring.wind_parts import PartsForce, cruising_parts, parts_force

__all__ = [
    "AIR_KGPM3",
    "DRIFT_BASIS",
    "DRIFT_COLUMNS",
    "FOUND",
    "GOES_ON",
    "GONE_OUT",
    "HANDLED_BASIS",
    "LEFT",
    "LIES_STILL",
    "L_BEARING",
    "L_DISTANCE",
    "L_DOWN",
    "L_FAR",
    "L_LYING",
    "L_PULL",
    "L_TENSION",
    "L_UPLIFT",
    "NOT_KNOWN",
    "UNKNOWN",
    "UNSETTLED",
    "WATER_KGPM3",
    "Afloat",
    "AllRests",
    "Answer",
    "BarTight",
    "BedLine",
    "Blown",
    "BranchMove",
    "BranchMoves",
    "Breeze",
    "ByHand",
    "Checked",
    "Crossing",
    "CurrentForce",
    "Domain",
    "Drift",
    "Driven",
    "Follows",
    "GridBed",
    "GustRuns",
    "Handled",
    "Holding",
    "InLine",
    "Inertia",
    "Kept",
    "Laid",
    "LineNodes",
    "LineSegments",
    "Load",
    "Lying",
    "Moored",
    "Moved",
    "Moving",
    "Natural",
    "Off",
    "OneRest",
    "Orders",
    "PartsForce",
    "Path",
    "PlaneBed",
    "Rest",
    "Rests",
    "Ride",
    "RodeForm",
    "RodeLine",
    "Scene",
    "Sea",
    "SeaSpread",
    "Seconds",
    "ShipShape",
    "ShoreLine",
    "ShoreLineForm",
    "ShoreRope",
    "Spread",
    "Timing",
    "Underbody",
    "WavePush",
    "WindCompared",
    "WindForm",
    "Winds",
    "afloat_of",
    "all_rests",
    "astern_balance",
    "bar_tight",
    "blown",
    "branch_moves",
    "by_hand",
    "chosen_fractile",
    "coarse_rode",
    "crossings",
    "cruising_parts",
    "current_force",
    "deep_wavelength_m",
    "dip_share",
    "drift",
    "drift_bound",
    "driven_of",
    "fetch_sea",
    "follows",
    "forces_driven",
    "held_exactly",
    "highest_share",
    "holding",
    "inertia",
    "kept",
    "lift_off",
    "merchant_coefficients",
    "moored",
    "move_findings",
    "moved_by_gusts",
    "moving_of",
    "natural",
    "other_findings",
    "other_rests",
    "others_at",
    "parts_force",
    "power_law_holding_n",
    "proof_here_n",
    "proof_lifted_share",
    "proven_share",
    "put_back",
    "put_together",
    "released_rests",
    "relined",
    "rests",
    "rests_alone",
    "ride",
    "rode_at_distance",
    "rode_at_pull",
    "rode_trace",
    "same_place_m",
    "sea_spread",
    "ship_shape",
    "shore_line_at_distance",
    "shore_table",
    "slope_note",
    "slope_widening",
    "snap_load_n",
    "solve_rest",
    "stopped_at",
    "two_in_line",
    "underbody",
    "uplift_share",
    "warm",
    "wave_push",
    "weighed_underbody",
    "wind_coefficients",
    "wind_compared",
    "wind_force",
    "with_copies",
]
