"""How sure: the sampled odds against closed forms, and what no doubt may break."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

import shorefast
from shorefast.mooring import holding
from shorefast.readers import read_stay
from shorefast.stay import NO_DOUBT, Question, judge, odds
from shorefast.stay.odds import _chance
from shorefast.stay.odds_doubts import DEPTH, EAST, HOLDING, NORTH, SHARING, WINDAGE, draws, normal
from shorefast.stay.odds_shares import share_of, share_of_groups, shared_share_of
from shorefast.stay.odds_solved import drawn_holding_n
from shorefast.stay.parts import Ground
from shorefast.wording import odds_short, odds_words

DEMO = Path(shorefast.__file__).parent / "demo"
LOAD_LOG = 0.3


@pytest.fixture(scope="module")
def ground():
    boat = read_stay(DEMO / "grey_notch" / "stay.toml").boat
    return Ground(holding(boat.anchor, "sand"), None, 0.0)


def sampled(ground, load_n, proof_n, samples, seed=7):
    """The odds that a log-normal load passes the ground, by the odds' own draws and shares."""
    drawn = draws(samples, seed)
    drawn = drawn.reshape(-1, drawn.shape[-1])
    load = load_n * np.exp(LOAD_LOG * normal(drawn[:, WINDAGE]))
    proof = np.full((drawn.shape[0], 1), proof_n)
    holds = drawn_holding_n(ground, drawn[:, HOLDING], proof, 1.0)[:, 0]
    return _chance((load > holds).astype(float))


def closed(ground, load_n):
    """Log-normal load over log-normal holding: the normal law of their logarithms."""
    apart = math.log(load_n / ground.prior.median_n)
    return norm.cdf(apart / math.hypot(LOAD_LOG, ground.prior.log_deviation))


def closed_above(ground, load_n, proof_n):
    """The same with the holding cut off below at a proof, one integral over the load."""
    median, deviation = ground.prior.median_n, ground.prior.log_deviation
    cut = norm.cdf(math.log(proof_n / median) / deviation)

    def given(z):
        held = norm.cdf((math.log(load_n / median) + LOAD_LOG * z) / deviation)
        return norm.pdf(z) * max(held - cut, 0.0) / (1.0 - cut)

    kink = math.log(proof_n / load_n) / LOAD_LOG
    return quad(given, -9.0, 9.0, points=[kink], limit=200)[0]


@pytest.mark.parametrize("share", [0.3, 0.6, 1.0, 1.7])
def test_a_load_passes_the_ground_as_often_as_the_normal_law_says(ground, share):
    load_n = share * ground.prior.median_n
    found = sampled(ground, load_n, 0.0, 4096)
    assert abs(found.share - closed(ground, load_n)) <= 2.5 * found.error


@pytest.mark.parametrize("share", [0.6, 1.0, 1.7])
@pytest.mark.parametrize("proof", [0.5, 0.9, 1.4])
def test_a_proof_cuts_the_odds_as_the_integral_says(ground, share, proof):
    load_n, proof_n = share * ground.prior.median_n, proof * ground.prior.median_n
    found = sampled(ground, load_n, proof_n, 4096)
    expected = closed_above(ground, load_n, proof_n)
    assert abs(found.share - expected) <= 2.5 * found.error
    assert expected < closed(ground, load_n)


def test_four_times_the_samples_halve_the_error_at_least(ground):
    load_n = 0.7 * ground.prior.median_n
    expected = closed(ground, load_n)

    def off(samples):
        found = [sampled(ground, load_n, 0.0, samples, seed).share for seed in range(24)]
        return math.sqrt(np.mean((np.array(found) - expected) ** 2))

    fine, middle, coarse = off(4096), off(1024), off(256)
    # plain sampling halves it; scrambled points do better
    assert fine < 0.5 * middle < 0.25 * coarse


def test_the_stated_error_is_the_error(ground):
    load_n = 0.7 * ground.prior.median_n
    expected = closed(ground, load_n)
    told = [sampled(ground, load_n, 0.0, 1024, seed) for seed in range(60)]
    scaled = np.array([(one.share - expected) / one.error for one in told])
    # Student's law with seven degrees of freedom: root of 7/5, known to a tenth by sixty
    assert 0.8 < math.sqrt(np.mean(scaled**2)) < 1.6


# Ishigami and Homma 1990 (from memory): sin x + 7 sin2 y + 0.1 z4 sin x on -pi to pi has
# first-order shares 0.3139, 0.4424 and 0.
def test_shares_of_a_known_function_are_its_shares():
    drawn = draws(8192, 3).reshape(-1, 10)[:, :3]
    x, y, z = (2.0 * math.pi * (drawn - 0.5)).T
    value = np.sin(x) + 7.0 * np.sin(y) ** 2 + 0.1 * z**4 * np.sin(x)
    found = [share_of(value, drawn[:, [i]]) for i in range(3)]
    # degree six leaves half a hundredth of the squared sine
    assert found == pytest.approx([0.3139, 0.4424, 0.0], abs=0.015)


def test_two_draws_that_only_count_together_explain_all_together():
    drawn = draws(2048, 3).reshape(-1, 10)[:, :2]
    value = (drawn[:, 0] - 0.5) * (drawn[:, 1] - 0.5)
    assert share_of(value, drawn) == pytest.approx(1.0, abs=1e-6)
    assert share_of(value, drawn[:, [0]]) == pytest.approx(0.0, abs=0.01)


# A sum of independent normal draws: each one's share is its variance over all.
@pytest.mark.parametrize("samples", [512, 1024])
@pytest.mark.parametrize(("let_go", "deep"), [(0.0, 1.0), (1.0, 0.0), (0.7, 0.7), (0.0, 0.0)])
def test_what_samples_share_takes_nothing_from_what_else_they_share(samples, let_go, deep):
    places, found = ([EAST, NORTH], [DEPTH]), []
    for seed in range(20):
        z = normal(drawn := draws(samples, seed))
        value = z[..., HOLDING] + let_go * z[..., EAST] + deep * z[..., DEPTH]
        found.append([shared_share_of(value, drawn[..., at], SHARING) for at in places])
    whole = 1.0 + let_go**2 + deep**2
    told, error = np.moveaxis(np.array(found), -1, 0)
    expected = np.array([let_go**2, deep**2]) / whole
    # kept from below nothing, the mean of a share that is none lies a little above it
    assert np.abs(told.mean(axis=0) - expected).max() < 0.03
    assert np.mean(np.abs(told - expected) < 2.5 * np.maximum(error, 0.01)) > 0.9


def test_a_share_between_groups_is_that_of_their_means():
    group = np.repeat(np.arange(50), 40)
    noise = normal(draws(2048, 5).reshape(-1, 10)[:2000, 0])
    value = norm.ppf((np.arange(50) + 0.5) / 50.0)[group] + 2.0 * noise
    # variances of one and four
    assert share_of_groups(value, group) == pytest.approx(0.2, abs=0.03)


@pytest.fixture(scope="module")
def night():
    stay = read_stay(DEMO / "stone_spur" / "stay_k_night.toml")
    return stay, judge(stay)


def test_without_doubt_the_lines_pass_their_limits_as_the_judgement_says(night):
    stay, judged = night
    sure = odds(stay, judged, Question(samples=512, doubts=NO_DOUBT))
    for part in judged.judgement.parts:
        if part.kind != "line":
            continue
        told = sure.part_share[sure.parts.index(part.name)]
        # members are drawn evenly: 51 of them by 512 samples, to one in 64
        assert np.abs(told - (part.use > 1.0).mean(axis=0)).max() < 0.04


def test_the_same_question_has_the_same_answer_by_one_thread_or_two(night):
    one = odds(*night, Question(samples=64, threads=1))
    two = odds(*night, Question(samples=64, threads=2))
    assert np.array_equal(one.part_share, two.part_share)
    assert (one.whole, one.doubts, one.advice) == (two.whole, two.doubts, two.advice)


def test_a_proof_never_worsens_the_odds(night):
    found = odds(*night, Question(samples=128))
    assert found.whole.share <= found.without_proof.share
    assert (found.share[np.isfinite(found.share)] <= 1.0).all()


@pytest.mark.parametrize("lie", ["grey_notch/stay.toml", "stone_spur/stay_k_night.toml"])
def test_what_is_advised_betters_the_odds_by_more_than_their_errors(lie):
    stay = read_stay(DEMO / lie)
    told = odds(stay, judge(stay), Question(samples=256))
    after = None if told.advice is None else told.advice.after
    assert after is None or after.share + after.error < told.whole.share


def test_more_wind_never_betters_the_odds(night):
    stay, judged = night
    more = replace(stay, wind=replace(stay.wind, gust_mps=1.3 * stay.wind.gust_mps))
    assert (
        odds(more, judge(more), Question(samples=128)).whole.share
        >= odds(stay, judged, Question(samples=128)).whole.share
    )


def test_where_nobody_rates_the_bottom_and_nothing_was_proved_the_odds_are_unknown():
    stay = read_stay(DEMO / "stone_spur" / "stay_k_day.toml")
    stay = replace(stay, proof=None, bay=replace(stay.bay, bottom="rock"))
    found = odds(stay, judge(stay), Question(samples=64))
    assert math.isnan(found.whole.share)
    assert odds_words(found.whole.share, found.whole.error) == "unknown"


@pytest.mark.parametrize(
    ("share", "error", "words"),
    [
        (0.0, 0.002, "less than 1 in 200"),
        (0.024, 0.004, "about 1 in 40"),
        (0.071, 0.01, "about 1 in 14"),
        (0.22, 0.02, "about 1 in 5"),
        (0.42, 0.02, "about 4 in 10"),
        (0.97, 0.01, "more than 9 in 10"),
        (0.998, 0.001, "nearly certain"),
        (math.nan, math.nan, "unknown"),
    ],
)
def test_odds_are_told_no_finer_than_they_are_known(share, error, words):
    assert odds_words(share, error) == words


def test_the_strip_leaves_out_what_is_under_one_in_two_hundred():
    assert odds_short(0.004, 0.001) == ""
    assert odds_short(0.024, 0.004) == "1 in 40"
