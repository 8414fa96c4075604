"""What a boat can do, against closed forms and tables in print, hand arithmetic shown."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest

import shorefast
from shorefast.boat import Anchor, Engine, Hull, LongLine, estimate_windage
from shorefast.manoeuvre import (
    AbleAsked,
    able,
    ahead_n,
    falls,
    free_fall_s,
    hanging_n,
    leeway,
    spanned_m,
)
from shorefast.mooring import (
    BedLine,
    Domain,
    Laid,
    LineSegments,
    Path,
    Scene,
    Seconds,
    ShoreLine,
    Spread,
    WindForm,
    afloat_of,
    drift,
    lift_off,
    moored,
    rode_at_pull,
    weighed_underbody,
)
from shorefast.readers import read_boat
from shorefast.stay import equal_winds_mps, height_share, wind_form

DEMO = File(shorefast.__file__).parent / "demo"
BOATS = {name: read_boat(DEMO / name / "boat.toml") for name in ("grey_notch", "stone_spur",
         "tres_sombras")}  # fmt: skip
NOTCH = BOATS["grey_notch"]
KNOT_MPS = 1852.0 / 3600.0


def ten_millimetres(length_m):
    """The worked tables' chain: 19.2 N a metre in water, no stretch."""
    return LineSegments(np.array([length_m]), np.array([19.2]), np.array([1e12]))


# Worked table, slope effect: 60 m of 10 mm, the roller 29 m above the bed at the anchor,
# pulled up-slope; uplift of the shank above the bed in degrees, metres on the bottom (None:
# nothing printed there); closed forms of the catenary.
SLOPED = {
    0: {0.5: (0.0, 11.5), 1: (2.4, None), 2: (15.7, None), 3: (20.2, None), 5: (23.7, None),
        8: (25.7, None)},
    10: {0.5: (0.0, 19.5), 1: (0.0, 7.7), 2: (5.7, None), 3: (10.2, None), 5: (13.7, None),
         8: (15.7, None)},
    20: {0.5: (0.0, 31.7), 1: (0.0, 22.7), 2: (0.0, 9.6), 3: (0.2, None), 5: (3.7, None),
         8: (5.7, None)},
    25: {0.5: (0.0, 41.6), 1: (0.0, 35.1), 2: (0.0, 25.9), 3: (0.0, 18.8), 5: (0.0, 7.4),
         8: (0.7, None)},
}  # fmt: skip
CASES = [(slope, kn) for slope, row in SLOPED.items() for kn in row]


@pytest.mark.parametrize(("slope_deg", "pull_kn"), CASES)
def test_a_slope_toward_her_keeps_the_shank_down_as_the_worked_table_has_it(slope_deg, pull_kn):
    rise = math.tan(math.radians(slope_deg))
    bed = BedLine(np.array([-200.0, 200.0]), np.array([-200.0 * rise, 200.0 * rise]))
    # friction has no say in the shape of what hangs
    form = rode_at_pull(ten_millimetres(60.0), bed, 0.6, 29.0, 1e3 * pull_kn)
    uplift_deg, lying_m = SLOPED[slope_deg][pull_kn]
    # printed to a tenth
    assert math.degrees(form.uplift_rad) == pytest.approx(uplift_deg, abs=0.055)
    if lying_m is not None:
        assert form.on_bottom_m == pytest.approx(lying_m, abs=0.055)


@pytest.mark.parametrize("slope_deg", sorted(SLOPED))
def test_the_shank_lifts_between_the_last_pull_without_uplift_and_the_first_with_some(slope_deg):
    row = SLOPED[slope_deg]
    last = max(kn for kn, (uplift, _) in row.items() if uplift == 0.0)
    first = min(kn for kn, (uplift, _) in row.items() if uplift > 0.0)
    pull_n, _ = lift_off(ten_millimetres(60.0), math.radians(slope_deg), 29.0)
    assert 1e3 * last < float(pull_n) < 1e3 * first


# The same page: and the reverse, pulled down-slope, is worse by the slope's angle. Hand arithmetic
# by the catenary whose foot points 20 degrees down, H = w (s2 - h2) / (2 (h c + s p)), p = tan 20
# = 0.36397, c = 1/cos 20 = 1.06418: 19.2 x 2759 / (2 x (30.861 + 21.838)) = 502.6 N.
def test_pulled_down_a_slope_of_twenty_degrees_it_lifts_at_about_half_of_the_level_pull():
    level, down = lift_off(ten_millimetres(60.0), np.radians([0.0, -20.0]), 29.0)[0]
    # level: 19.2 x 2759 / 58 = 913.3 N
    assert level == pytest.approx(913.3, abs=0.06)
    assert down == pytest.approx(502.6, abs=0.06)


# Same page, lifted length of 10 mm chain on a level bed, s = sqrt(h2 + 2 h H / w), to 0.1 m.
LIFTED = {
    (12.0, 0.5): 27.7, (12.0, 1.0): 37.3, (12.0, 2.0): 51.4, (12.0, 3.0): 62.4, (12.0, 5.0): 80.0,
    (20.0, 0.5): 38.0, (20.0, 1.0): 49.8, (20.0, 2.0): 67.6, (20.0, 3.0): 81.5, (20.0, 5.0): 104.0,
}  # fmt: skip


@pytest.mark.parametrize(("rise_m", "pull_kn"), sorted(LIFTED))
def test_a_chain_just_as_long_as_what_a_pull_lifts_is_lifted_by_that_pull(rise_m, pull_kn):
    length_m = LIFTED[rise_m, pull_kn]
    pull_n, _ = lift_off(ten_millimetres(length_m), 0.0, rise_m)
    # 0.05 m of rounding (0.5 m of the whole metres 80 and 104) is w s / h newtons a metre
    by_m = 0.5 if length_m == round(length_m) and length_m >= 80.0 else 0.055
    assert float(pull_n) == pytest.approx(1e3 * pull_kn, abs=19.2 * length_m / rise_m * by_m)


# Worked page: a free boat with 11 m2 x 0.9 ahead and 30 m2 x 1.0 abeam; 2.0 kN are 35 kn on the
# bow, 20 kn abeam, printed to the knot.
def test_the_winds_a_pull_of_two_kilonewtons_equals_are_the_printed_ones():
    form = WindForm(11.0, 30.0, 12.0, 0.0, 1.0, 0.9, 0.9, 0.0)
    ahead = float(equal_winds_mps(form, 1.0, 2000.0, 0.0)) / KNOT_MPS
    abeam = float(equal_winds_mps(form, 1.0, 2000.0, 0.5 * math.pi)) / KNOT_MPS
    assert (ahead, abeam) == pytest.approx((35.0, 20.0), abs=0.55)


# Same page, free wind force on the bow in kN by knots.
@pytest.mark.parametrize(
    ("knots", "force_kn"), [(25, 1.0), (30, 1.44), (35, 1.97), (40, 2.57), (50, 4.0), (60, 5.8)]
)
def test_a_printed_wind_force_gives_its_wind_back(knots, force_kn):
    form = WindForm(11.0, 30.0, 12.0, 0.0, 1.0, 0.9, 0.9, 0.0)
    found = float(equal_winds_mps(form, 1.0, 1e3 * force_kn, 0.0)) / KNOT_MPS
    # two or three digits printed: half a digit of 1.0 is 5 % of the force
    assert found == pytest.approx(knots, rel=0.025)


# Worked page: windlass 10, 15, 20 m a minute = 0.32, 0.49, 0.65 kn; heaving 30, 45, 60 and 90 m
# takes 3.0/2.0/1.5, 4.5/3.0/2.3, 6/4/3 and 9/6/4.5 minutes.
@pytest.mark.parametrize(("speed", "knots"), [(10, 0.32), (15, 0.49), (20, 0.65)])
def test_she_may_go_astern_as_fast_as_the_windlass_veers(speed, knots):
    boat = replace(NOTCH, windlass=replace(NOTCH.windlass, veer_mps=speed / 60.0))
    found = able(boat, AbleAsked((7.0,), (7.0,), depth_m=(10.0,), slope_rad=(0.0,)))
    assert found.heaving.veer_mps / KNOT_MPS == pytest.approx(knots, abs=0.005)


MINUTES = {30: (3.0, 2.0, 1.5), 45: (4.5, 3.0, 2.3), 60: (6.0, 4.0, 3.0), 90: (9.0, 6.0, 4.5)}


@pytest.mark.parametrize("all_m", sorted(MINUTES))
def test_heaving_all_that_may_go_out_takes_the_printed_minutes(all_m):
    # five metres of what is aboard stay inboard
    rode = (replace(NOTCH.rode[0], length_m=all_m + 5.0),)
    for speed, minutes in zip((10, 15, 20), MINUTES[all_m], strict=True):
        windlass = replace(NOTCH.windlass, heave_mps=speed / 60.0)
        boat = replace(NOTCH, rode=rode, windlass=windlass)
        found = able(boat, AbleAsked((7.0,), (7.0,), depth_m=(10.0,), slope_rad=(0.0,)))
        # printed to a tenth of a minute; 2.25 stands as 2.3
        assert found.heaving.heave_all_s / 60.0 == pytest.approx(minutes, abs=0.051)


# Allen and Plourde's leeway taxonomy with later additions, as in an open drift model's table of
# objects (read): "sailboat mono-hull bare-masted average", drift through the water downwind:
# 5.23 % of the wind at 10 m, no offset, standard deviation 18.52 cm/s.
LEEWAY = {"slope_pct": 5.23, "offset_cmps": 0.0, "deviation_cmps": 18.52}
WINDS_MPS = np.array([5.0, 7.5, 10.0, 12.5, 15.0, 17.5, 20.0])


def within_scatter(speed_mps):
    printed = (LEEWAY["slope_pct"] * WINDS_MPS + LEEWAY["offset_cmps"]) / 100.0
    return np.abs(speed_mps - printed) <= LEEWAY["deviation_cmps"] / 100.0


# One worked number of the same row: 10 m/s of wind, 0.523 m/s downwind.
def test_the_printed_leeway_stands_beside_ours():
    found = leeway(NOTCH, np.array([10.0]))
    assert float(found.printed_mps[0]) == pytest.approx(0.523, rel=0.01)
    assert found.scatter_mps == pytest.approx(0.185, rel=0.01)


@pytest.mark.parametrize("name", sorted(BOATS))
def test_each_demo_boat_drifts_within_one_deviation_of_the_leeway_table(name):
    assert within_scatter(leeway(BOATS[name], WINDS_MPS).speed_mps).all()


# Beam, draught and displacement of ordinary cruising yachts of a length: common practice, no
# source; all else by our estimate from length and beam.
ORDINARY = {
    8: (2.8, 1.4, 3200.0), 10: (3.3, 1.7, 5200.0), 12: (3.85, 2.0, 8500.0),
    14: (4.2, 2.2, 13000.0), 16: (4.6, 2.4, 19000.0), 18: (5.0, 2.6, 26000.0),
    20: (5.3, 2.8, 34000.0),
}  # fmt: skip


@pytest.mark.parametrize("length_m", sorted(ORDINARY))
def test_a_boat_known_by_five_sizes_drifts_within_one_deviation_of_the_leeway_table(length_m):
    beam_m, draught_m, displacement_kg = ORDINARY[length_m]
    hull = Hull(float(length_m), beam_m, draught_m, displacement_kg, 0.91 * length_m)
    boat = replace(NOTCH, hull=hull, windage=estimate_windage(hull), engine=None)
    assert within_scatter(leeway(boat, WINDS_MPS).speed_mps).all()


@pytest.mark.parametrize("name", sorted(BOATS))
def test_let_go_beam_on_and_followed_in_time_she_settles_within_the_same_scatter(name):
    """The model of what follows a loss, free to turn, ten minutes from standing still."""
    boat, count = BOATS[name], len(WINDS_MPS)
    form = wind_form(boat.windage, boat.hull.length_m)
    gone = ShoreLine("gone", 0.0, 0.0, 1.0, 0.0, -9000.0, 2.0, 9500.0, 1.0, 4e5)
    scene = Scene((gone,), Domain(-9000.0, 9000.0, -9000.0, 9000.0), form)
    ready = moored(scene, form, 6.0, np.zeros(3), Spread(0.0, 1.0, 2, 3))
    felt = WINDS_MPS * height_share(boat.windage.height_m)
    states = Path(np.zeros(count), felt, np.full(count, -0.5 * math.pi))
    afloat = afloat_of(weighed_underbody(boat.hull, boat.engine))
    laid = Laid(np.zeros((count, 3)), np.zeros((count, 1)))
    found = drift(ready, afloat, states, laid, Seconds(600.0, 0.1, 10.0))
    downwind_mps = (found.q[:, -1, 0] - found.q[:, -7, 0]) / 60.0
    assert within_scatter(downwind_mps).all()
    # and the closed form says what the steps come to; she ends a degree off beam-on
    assert leeway(boat, WINDS_MPS).speed_mps == pytest.approx(downwind_mps, rel=0.01)


# Propeller handbook, T lbf = 62.72 (hp in / 12)^0.67; rows worked out: 30 kW and 0.45 m at the
# shaft: handbook 4.31 kN, encyclopaedia 5.67 (a tenth off for losses), ideal bound 6.65 kN; and
# 40 hp, 16 in: 900.5 lbf = 4.01 kN.
def test_thrust_ahead_lies_in_the_range_of_the_printed_formulas():
    shaft = Engine(30e3 / 0.9, 0.45, "fixed 3-blade")
    nominal, low, high = (ahead_n(shaft) / 1e3).tolist()
    assert nominal == pytest.approx(4.31, rel=0.005)
    assert high == pytest.approx(0.9 * 5.67, rel=0.005)
    assert low < nominal < high < 6.65
    small = Engine(40 * 745.6998715822702 / 0.9, 16 * 0.0254, "fixed 3-blade")
    assert float(ahead_n(small)[0]) / 1e3 == pytest.approx(4.01, rel=0.005)


# The worked page's rough pulls astern in kN by engine and propeller: within what we say may be.
@pytest.mark.parametrize(
    ("power_kw", "wide_m", "pull_kn"),
    [(20.0, 0.42, 1.5), (30.0, 0.45, 2.0), (40.0, 0.48, 2.6), (55.0, 0.53, 3.4)],
)
def test_the_pull_astern_spans_the_printed_rough_ones(power_kw, wide_m, pull_kn):
    engine = Engine(1e3 * power_kw, wide_m, "fixed 3-blade")
    found = able(
        replace(NOTCH, engine=engine),
        AbleAsked((7.0,), (7.0,), depth_m=(10.0,), slope_rad=(0.0,)),
    )
    assert found.engine is not None
    _, low, high = found.engine.astern_n.tolist()
    assert low <= 1e3 * pull_kn <= high


# Hand arithmetic: 20 m of water, roller 1.5 m up, veered at 0.45 m/s: 21.5 / 0.45 = 47.8 s.
def test_veered_by_the_motor_the_anchor_takes_the_length_over_the_speed():
    assert float(falls(NOTCH, np.array([20.0])).motor_s[0]) == pytest.approx(47.8, abs=0.05)


# Hand arithmetic of the speed at 70 m out, run free: 25 kg of anchor weigh 25 x 9.807 x 0.869 =
# 213 N in water, 70 m of chain 70 x 19.18 = 1343 N: 1556 N. Drag a metre a second squared:
# the anchor 0.5 x 1025 x 1.5 x (25/7850)^(2/3) = 16.6, chain 0.5 x 1025 x 1.15 x 0.01 x 70 =
# 412.6, chain taken along from rest 2.25: 431.5 kg/m. v = sqrt(1556 / 431.5) = 1.90 m/s.
def test_run_free_it_falls_at_the_speed_at_which_drag_is_weight():
    boat = replace(NOTCH, anchor=Anchor("scoop", 25.0))
    t_s = free_fall_s(boat, np.array([69.5, 70.5]), 0.0, 1.5)
    # what is not yet settled is a hundredth by then
    assert 1.0 / float(t_s[1] - t_s[0]) == pytest.approx(1.90, rel=0.01)


# Hand arithmetic: 213.2 N of anchor; 20 m of chain in water at 19.18 N and 1.5 m above it at
# 22.06 N a metre: 213.2 + 383.7 + 33.1 = 630.0 N.
def test_anchor_and_chain_straight_down_in_twenty_metres_weigh_their_sum():
    assert float(hanging_n(NOTCH, np.array([20.0]))[0]) == pytest.approx(630.0, abs=0.2)


# Hand arithmetic, sag of a line under 100 N: 60 m less 3 (knot, turns), 2 (round the point) and
# 3 (to ease) are 52 m of 1.079 N a metre; a line so flat, a = H / w = 92.7 m, spans
# L - L3 / (24 a2) + 3 L5 / (640 a4) = 52 - 0.682 + 0.024 = 51.34 m; doubled back 26 m:
# 26 - 0.085 + 0.001 = 25.92 m.
def test_a_line_of_sixty_metres_spans_what_knots_and_sag_leave_of_it():
    line = LongLine("stern line", "polypropylene", 0.016, 60.0)
    assert spanned_m(line) == pytest.approx(51.34, abs=0.006)
    assert spanned_m(line, doubled=True) == pytest.approx(25.92, abs=0.006)
