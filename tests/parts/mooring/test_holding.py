"""What the ground holds, and what a proof says about it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from shorefast.boat import ANCHOR_CLASSES, Anchor
from shorefast.errors import OutsideModel
from shorefast.mooring.holding import (
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

SCOOP = Anchor("scoop", 25.0)
MUD_OVER_CLAY = holding(SCOOP, "mud over clay")


# Worked by hand from the ranges: 25 kg, soft mud 6 to 15, firm clay 15 to 35 times its weight.
@pytest.mark.parametrize(
    ("kind", "mass_kg", "bottom", "low_kn", "high_kn"),
    [
        ("scoop", 25, "soft mud", 1.5, 3.7),
        ("scoop", 25, "firm clay", 3.7, 8.6),
        ("scoop", 25, "mud over clay", 1.5, 8.6),
        ("plough", 16, "sand", 1.6, 3.9),
        ("scoop", 60, "mud", 3.5, 8.8),
    ],
)
def test_the_odds_span_the_range(kind, mass_kg, bottom, low_kn, high_kn):
    found = holding(Anchor(kind, mass_kg), bottom)
    assert found.low_n / 1e3 == pytest.approx(low_kn, abs=0.05)
    assert found.high_n / 1e3 == pytest.approx(high_kn, abs=0.05)
    assert chosen_fractile(found, 0.05) == pytest.approx(found.low_n)
    assert chosen_fractile(found, 0.95) == pytest.approx(found.high_n)
    assert chosen_fractile(found, 0.5) == pytest.approx(found.median_n)


@pytest.mark.parametrize("kind", ANCHOR_CLASSES)
@pytest.mark.parametrize(
    "bottom", ["sand", "mud", "soft mud", "firm clay", "mud over clay", "gravel"]
)
def test_every_anchor_is_rated_in_every_soil(kind, bottom):
    found = holding(Anchor(kind, 20.0), bottom)
    assert found.rated
    assert 0.0 < found.low_n < found.median_n < found.high_n


@pytest.mark.parametrize("bottom", ["weed", "seagrass", "rock", "boulders"])
def test_in_weed_and_rock_nobody_can_say(bottom):
    found = holding(SCOOP, bottom)
    assert not found.rated
    assert math.isnan(found.median_n)
    assert np.isnan(chosen_fractile(found, 0.05))
    assert found.basis.findings[0].said == (
        f"in {bottom} nobody can say what an anchor holds; it may let go without warning"
    )


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: holding(SCOOP, "porridge"),
            "Anchor: scoop in porridge, no holding is known for it. Name the bottom as one of"
            " sand, mud, soft mud, firm clay, mud over clay, gravel, weed, seagrass, rock,"
            " boulders.",
        ),
        (
            lambda: holding(Anchor("mushroom", 25.0), "sand"),
            "Anchor: mushroom in sand, no holding is known for it. Name the anchor as one of"
            " scoop, plough, claw, fluke, fisherman, grapnel, stockless.",
        ),
    ],
)
def test_an_unheard_of_bottom_or_anchor_is_refused(call, sentence):
    with pytest.raises(OutsideModel) as trouble:
        call()
    assert trouble.value.sentence == sentence


def test_an_unheard_of_large_anchor_is_refused():
    with pytest.raises(OutsideModel) as trouble:
        power_law_holding_n("mushroom", "sand", 100.0)
    assert trouble.value.sentence.startswith("Anchor: mushroom in sand, known are pivoting")
    assert trouble.value.sentence.endswith(
        "; large high-holding in hard clay or sand. Take one of these."
    )


def test_uplift_only_ever_takes_and_a_pull_down_takes_nothing():
    at_rad = np.radians(np.linspace(-10.0, 40.0, 101))
    share = uplift_share(at_rad)
    assert np.all(np.diff(share) <= 0.0)
    assert np.all(share[at_rad <= 0.0] == 1.0)
    assert np.all(share[at_rad >= np.radians(30.0)] == 0.0)
    assert np.isnan(uplift_share(math.nan))


def test_a_steep_bed_widens_the_odds_and_says_so():
    gentle, steep = math.radians(9.0), math.radians(17.0)
    assert slope_note(gentle) is None
    note = slope_note(steep)
    assert note is not None
    assert note.said == (
        "the bed slopes 17 degrees; over 10 the tables rate anchors poor,"
        " so the odds of its holding are taken wider"
    )
    assert list(slope_widening([gentle, steep, -steep])) == [1.0, 1.5, 1.5]
    low_n = chosen_fractile(MUD_OVER_CLAY, 0.05, slope_rad=np.array([gentle, steep]))
    assert low_n[1] < low_n[0]


def test_a_proof_counts_full_ahead_and_nothing_square_to_it():
    apart = np.radians([0.0, 10.0, 15.0, 45.0, 89.0, 90.0, 135.0, 180.0])
    worth = proof_here_n(2600.0, math.radians(350.0), math.radians(350.0) + apart)
    assert list(worth[:3]) == [2600.0] * 3
    assert np.all(np.diff(worth) <= 0.0)
    assert 0.0 < worth[4] < 100.0
    assert list(worth[5:]) == [0.0, 0.0, 0.0]
    port = proof_here_n(2600.0, math.radians(350.0), math.radians(350.0) - apart)
    assert port == pytest.approx(worth)


def test_what_was_proven_is_held_and_a_little_more_is_likely():
    share = proven_share(MUD_OVER_CLAY, [0.0, 2600.0, 2700.0, 8000.0], 2600.0)
    assert list(share[:2]) == [1.0, 1.0]
    assert 0.9 < share[2] < 1.0
    assert share[3] < 0.2


def test_a_harder_proof_never_lowers_the_odds():
    proofs_n = np.linspace(0.0, 6000.0, 61)
    share = proven_share(MUD_OVER_CLAY, 5000.0, proofs_n)
    assert np.all(np.diff(share) >= 0.0)


def test_without_a_proof_the_odds_are_the_priors():
    assert proven_share(MUD_OVER_CLAY, MUD_OVER_CLAY.low_n, 0.0) == pytest.approx(0.95)
    assert proven_share(MUD_OVER_CLAY, MUD_OVER_CLAY.median_n, 0.0) == pytest.approx(0.5)


def test_the_odds_against_a_drawn_sample():
    rng = np.random.default_rng(20260624)
    drawn = rng.lognormal(math.log(MUD_OVER_CLAY.median_n), MUD_OVER_CLAY.log_deviation, 400_000)
    passed = drawn[drawn >= 3000.0]
    # 250,000 or so pass the proof: one standard error is about 0.001
    assert proven_share(MUD_OVER_CLAY, 4000.0, 3000.0) == pytest.approx(
        np.mean(passed >= 4000.0), abs=0.004
    )


def test_a_need_with_uplift_is_worth_more_than_a_flat_proof():
    uplift = math.radians(5.0)
    assert proven_share(MUD_OVER_CLAY, 1900.0, 2600.0, need_uplift_rad=uplift) == 1.0
    assert proven_share(MUD_OVER_CLAY, 2100.0, 2600.0, need_uplift_rad=uplift) < 1.0
    assert proven_share(MUD_OVER_CLAY, 100.0, 2600.0, need_uplift_rad=math.radians(35.0)) == 0.0


def test_on_rock_only_the_proof_itself_is_known():
    share = proven_share(holding(SCOOP, "rock"), [2000.0, 3000.0], 2600.0)
    assert share[0] == 1.0
    assert np.isnan(share[1])


def test_an_unknown_need_has_unknown_odds():
    assert np.isnan(proven_share(MUD_OVER_CLAY, math.nan, 2600.0))


def test_a_proof_counts_less_for_a_pull_that_lifts_more_and_fully_for_one_that_lifts_less():
    then = math.radians(5.0)
    now = np.radians([0.0, 5.0, 5.001, 8.0, 12.0, 20.0, 29.0, 30.0, 60.0])
    share = proof_lifted_share(then, now)
    assert list(share[:2]) == [1.0, 1.0]
    assert share[2] == pytest.approx(1.0, abs=1e-3)
    assert np.all(np.diff(share) <= 0.0)
    assert list(share[-2:]) == [0.0, 0.0]


def test_a_proof_with_nothing_to_go_by_counts_only_for_flatter_pulls():
    share = proof_lifted_share(math.radians(35.0), np.radians([0.0, 35.0, 36.0, np.nan]))
    assert list(share[:3]) == [1.0, 1.0, 0.0]
    assert math.isnan(share[3])
