"""Judging a stay: what is unknown stays unknown, and what decides decides."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, timedelta, timezone

import numpy as np
import pytest

from shorefast.bay import Frame
from shorefast.stay import Current, Stay, judge, what_it_will_stand
from shorefast.weather import Wind


def only(wind: Wind, members: list[int]) -> Wind:
    return replace(
        wind,
        member=wind.member[members],
        wind_mps=wind.wind_mps[members],
        wind_from_rad=wind.wind_from_rad[members],
        gust_mps=wind.gust_mps[members],
    )


def in_wind(stay: Stay, gust_mps: float, from_deg: float | None = None) -> Stay:
    """The stay's first member alone, in a gust that never changes."""
    wind = only(stay.wind, [0])
    turned = wind.wind_from_rad if from_deg is None else np.radians(0.0 * wind.gust_mps + from_deg)
    gust = np.full_like(wind.gust_mps, gust_mps)
    return replace(
        stay, wind=replace(wind, wind_mps=0.6 * gust, gust_mps=gust, wind_from_rad=turned)
    )


def test_by_day_behind_the_spur_she_can_lie(k_judged):
    found = k_judged.judgement
    assert found.verdict == "holds"
    assert found.leave_by_utc is None and found.past_from_utc is None
    assert found.share_past_limit.max() == 0.0
    assert found.greatest_use.shape == found.gust_mps.shape
    assert found.time_utc[0] == np.datetime64("2026-07-22T12:00:00")


def test_a_gust_nobody_knows_makes_its_hour_and_the_verdict_unknown(k_day):
    gust = k_day.wind.gust_mps.copy()
    gust[:, 5] = np.nan
    found = judge(replace(k_day, wind=replace(k_day.wind, gust_mps=gust))).judgement
    assert found.verdict == "unknown"
    assert found.leave_by_utc is None
    assert np.isnan(found.share_past_limit).any()
    assert np.isfinite(found.share_past_limit[:6]).all()


def test_one_member_of_three_unknown_is_unknown_but_not_where_the_others_suffice(k_day):
    gust = k_day.wind.gust_mps.copy()
    gust[2] = np.nan
    stay = replace(k_day, wind=replace(k_day.wind, gust_mps=gust))
    assert judge(stay).judgement.verdict == "unknown"
    # a skipper who accepts one in three may be told: even if that one passes, it is one in three
    assert judge(replace(stay, accepted_share=0.34)).judgement.verdict == "holds"


def test_a_forecast_that_ends_before_the_stay_leaves_the_rest_unknown(k_day):
    wind = k_day.wind
    ends = wind.time_utc <= np.datetime64("2026-07-22T16:00")
    cut = replace(
        wind, time_utc=wind.time_utc[ends], wind_mps=wind.wind_mps[:, ends],
        wind_from_rad=wind.wind_from_rad[:, ends], gust_mps=wind.gust_mps[:, ends],
    )  # fmt: skip
    found = judge(replace(k_day, wind=cut)).judgement
    assert found.verdict == "unknown"
    late = found.time_utc > np.datetime64("2026-07-22T16:00")
    assert np.isnan(found.share_past_limit[late]).all()
    assert np.isfinite(found.share_past_limit[~late]).all()


def test_a_tide_table_that_ends_before_the_stay_leaves_the_rest_unknown(k_day):
    water = replace(k_day.water, time_utc=k_day.water.time_utc[:2],
                    height_m=k_day.water.height_m[:2])  # fmt: skip
    assert judge(replace(k_day, water=water)).judgement.verdict == "unknown"


def test_no_wind_at_all_is_an_answer(k_day):
    found = judge(in_wind(k_day, 0.0)).judgement
    assert found.verdict == "holds"
    assert np.isfinite(found.rest.heading_rad).all()
    assert found.parts[0].load_n.max() < 300.0


def test_slack_lines_carry_nothing_and_the_chain_all(k_day):
    slack = tuple(replace(line, length_m=30.0) for line in k_day.lie.lines)
    stay = replace(k_day, lie=replace(k_day.lie, lines=slack))
    found = judge(in_wind(stay, 6.0, 300.0)).judgement
    assert np.isfinite(found.greatest_use).any()
    ashore = np.stack([line.pull_n for line in found.rest.lines[1:]])
    known = np.isfinite(ashore).all(axis=0)
    assert ashore[:, known].min() == 0.0


def test_where_the_first_hour_is_past_a_limit_the_answer_is_no(k_day):
    found = judge(in_wind(k_day, 30.0, 45.0)).judgement
    assert found.verdict == "no"
    assert found.leave_by_utc is None
    assert found.past_from_utc == k_day.from_utc


def test_leaving_wants_an_hour_and_a_whole_quarter(k_day):
    """Beam gusts from four in the afternoon UTC: by daylight an hour before, rounded down."""
    wind = only(k_day.wind, [0])
    strong = wind.time_utc >= np.datetime64("2026-07-22T16:00")
    gust = np.where(strong, 30.0, 3.0)[None, :]
    late = replace(
        wind, wind_mps=0.5 * gust, gust_mps=gust, wind_from_rad=np.full_like(gust, 0.785)
    )
    found = judge(replace(k_day, wind=late)).judgement
    assert found.verdict == "leave by"
    past, out = found.past_from_utc, found.leave_by_utc
    assert timedelta(hours=1) <= past - out < timedelta(hours=1, minutes=15)
    assert out.minute % 15 == 0 and out.second == 0


def test_one_member_and_no_accepted_share_judge_that_member_alone(k_day):
    one = replace(k_day, wind=only(k_day.wind, [1]), accepted_share=0.0)
    found = judge(one).judgement
    assert found.verdict == "holds"
    assert found.share_past_limit.shape == found.time_utc.shape


def test_with_no_accepted_share_one_member_in_three_is_one_too_many(k_day):
    gust = k_day.wind.gust_mps.copy()
    gust[1] = 30.0
    stay = replace(k_day, wind=replace(k_day.wind, gust_mps=gust), accepted_share=0.0)
    assert judge(stay).judgement.verdict in ("no", "leave by")
    assert judge(replace(stay, accepted_share=0.34)).judgement.verdict == "holds"


def test_the_worst_of_several_gusts_of_one_hour_is_the_members(k_day):
    """Two entries with one number: one calm, one past the limit."""
    wind = only(k_day.wind, [0, 0])
    gust = np.stack([np.full(wind.time_utc.size, 3.0), np.full(wind.time_utc.size, 30.0)])
    both = replace(wind, gust_mps=gust, wind_from_rad=np.full_like(gust, 0.785))
    found = judge(replace(k_day, wind=both)).judgement
    assert found.verdict == "no"
    assert found.share_past_limit.max() == 1.0


def test_a_point_that_is_known_passes_its_limit(k_day):
    weak = tuple(
        replace(point, strength_n=50.0) if point.name.startswith("spur ring") else point
        for point in k_day.bay.points
    )
    stay = replace(k_day, bay=replace(k_day.bay, points=weak))
    found = judge(in_wind(stay, 14.0, 290.0)).judgement
    ring = next(part for part in found.parts if part.name == "spur ring south ashore")
    other = next(part for part in found.parts if part.name == "spur ring north ashore")
    assert np.nanmax(ring.use) > 1.0 or np.nanmax(other.use) > 1.0
    assert found.verdict in ("no", "leave by")
    assert ring.limit_source == "bay file"


def test_a_point_nobody_knows_has_a_load_and_no_limit(k_judged):
    ring = next(part for part in k_judged.judgement.parts if part.kind == "point")
    assert np.isnan(ring.limit_n).all() and np.isnan(ring.use).all()
    assert np.isfinite(ring.load_n).all()
    assert ring.limit_source == "unknown: the bay file does not tell"


def test_two_parts_of_a_doubled_line_share_its_pull(k_day):
    doubled = (replace(k_day.lie.lines[0], doubled=True), k_day.lie.lines[1])
    stay = in_wind(replace(k_day, lie=replace(k_day.lie, lines=doubled)), 16.0, 225.0)
    found = judge(stay).judgement
    name = f"{doubled[0].line} to {doubled[0].point}"
    line = next(part for part in found.parts if part.name == name)
    point = next(part for part in found.parts if part.name == f"{doubled[0].point} ashore")
    assert point.load_n.max() > 50.0
    assert line.load_n == pytest.approx(0.5 * point.load_n)


def test_the_same_moments_told_by_another_clock_are_the_same_stay(k_day, k_judged):
    # summer time begins and ends on other clocks; ours is told in UTC whatever zone said it
    east = timezone(timedelta(hours=13, minutes=45))
    told = replace(
        k_day,
        from_utc=k_day.from_utc.astimezone(east),
        until_utc=k_day.until_utc.astimezone(east),
    )
    found = judge(told).judgement
    assert np.array_equal(found.greatest_use, k_judged.judgement.greatest_use)
    assert found.verdict == k_judged.judgement.verdict


def test_midnight_is_an_hour_like_any_other(k_day, k_judged):
    """The whole stay moved so that midnight UTC falls into it."""
    shift = np.timedelta64(8, "h")
    moved = replace(
        k_day,
        from_utc=k_day.from_utc + timedelta(hours=8),
        until_utc=k_day.until_utc + timedelta(hours=8),
        wind=replace(k_day.wind, time_utc=k_day.wind.time_utc + shift),
        water=replace(k_day.water, time_utc=k_day.water.time_utc + shift),
    )
    found = judge(moved).judgement
    assert moved.until_utc.astimezone(UTC).date() > moved.from_utc.astimezone(UTC).date()
    assert np.array_equal(found.greatest_use, k_judged.judgement.greatest_use)


@pytest.mark.parametrize("origin", [(-47.5, -40.0), (47.5, 179.999), (-47.5, -179.999), (0.0, 0.0)])
def test_the_same_bay_anywhere_on_earth_is_the_same_lie(k_day, k_judged, origin):
    stay = replace(k_day, bay=replace(k_day.bay, frame=Frame(*origin)))
    found = judge(stay).judgement
    assert np.array_equal(found.greatest_use, k_judged.judgement.greatest_use)
    assert found.verdict == k_judged.judgement.verdict


def test_less_water_is_less_room_by_just_as_much(k_day, k_judged):
    water = replace(k_day.water, height_m=k_day.water.height_m - 0.8)
    found = judge(replace(k_day, water=water)).judgement
    before, after = k_judged.judgement.room[0], found.room[0]
    assert after.of == before.of
    fall = before.room_m - after.room_m
    # eight tenths less, but for where she comes to lie on a longer scope
    assert np.all(fall > 0.3)
    assert np.median(fall) == pytest.approx(0.8, abs=0.35)


def test_a_stay_of_ten_minutes_has_two_moments(k_day):
    brief = replace(k_day, until_utc=k_day.from_utc + timedelta(minutes=10))
    found = judge(brief).judgement
    assert found.time_utc.size == 2
    odd = replace(k_day, until_utc=k_day.from_utc + timedelta(minutes=14))
    assert judge(odd).judgement.time_utc[-1] == np.datetime64("2026-07-22T12:14:00")


def test_a_current_across_her_moves_her_with_it(k_day):
    still = judge(in_wind(k_day, 0.0)).judgement
    toward = math.radians(225.0)
    swept = judge(replace(in_wind(k_day, 0.0), current=Current(1.0, toward))).judgement
    moved = np.array(
        [swept.rest.east_m - still.rest.east_m, swept.rest.north_m - still.rest.north_m]
    )
    along = moved[0] * math.sin(toward) + moved[1] * math.cos(toward)
    assert np.all(along > 0.2)


def test_what_it_will_stand_is_less_on_the_beam_than_on_the_bow(k_day, k_judged):
    found = what_it_will_stand(k_day, k_judged)
    around = np.degrees(found.wind_from_rad)
    bow = found.limit_mps[:, np.argmin(np.abs(around - 315.0))]
    beam = found.limit_mps[:, np.argmin(np.abs(around - 45.0))]
    assert np.all(np.nan_to_num(bow, nan=found.sought_to_mps) > beam)
    assert len(found.first_to_give) == found.water_level_m.size
    # a gust of a tenth less than the limit is stood, one of a tenth more is not
    less, more = (in_wind(k_day, share * float(beam.min()), 45.0) for share in (0.85, 1.15))
    assert judge(less).judgement.verdict == "holds"
    assert judge(more).judgement.verdict == "no"
