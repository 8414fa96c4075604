"""A loss said in one sentence: what is unknown is not told as fine, and no two things as one."""

import math
from dataclasses import replace
from datetime import UTC, datetime
from types import SimpleNamespace

import pytest

from shorefast.stay import Doubled, Doubling, WithoutOne
from shorefast.wording import double_words, loss_words, night_words

AT, LATER = datetime(2026, 6, 25, 3, 10, tzinfo=UTC), datetime(2026, 6, 25, 6, 0, tzinfo=UTC)
NIGHT = SimpleNamespace(
    from_utc=datetime(2026, 6, 24, 19, 30, tzinfo=UTC),
    until_utc=datetime(2026, 6, 25, 12, 0, tzinfo=UTC),
    bay=SimpleNamespace(zone_name="Etc/GMT+2"),
)
PLAIN = WithoutOne(
    "port line to birch", True, 1.0, 2.0, math.radians(40.0), 3.0, "starboard line to rock",
    0.9, False, 4.0, 12.0, at_utc=AT, turned_rad=math.radians(15.0), of_breaking=0.6,
    share_followed=0.0, share_touches=0.0, share_unknown=0.0,
    breaking_part="starboard line to rock",
)  # fmt: skip
START = "If the port line to birch goes at 01:10: bow 040, 15 degrees right of before; "


def said(**changed):
    return loss_words(NIGHT, replace(PLAIN, **changed))


def test_what_is_used_most_and_what_is_nearest_to_parting_are_told_apart():
    carries = "starboard line to rock at 0.90 of its limit (0.60 of what parts it); "
    assert said() == f"{START}{carries}nothing follows."
    apart = "anchor at 3.43 of its limit, starboard line to rock at 0.60 of what parts it; "
    told = said(next_part="anchor", next_use=3.43, drags=True)
    assert told == f"{START}{apart}the anchor may drag; nothing follows."


@pytest.mark.parametrize(
    ("unrated", "words"),
    [
        ((), "nothing follows."),
        (("birch ashore", "port bow cleat"), "no line parts after it."),
        (("birch ashore", "old line to rock"), "whether old line to rock parts is unknown."),
    ],
)
def test_nothing_follows_is_said_only_where_everything_that_pulls_is_known(unrated, words):
    assert said(unrated=unrated).endswith(words)


def test_a_swing_past_what_parts_a_line_is_not_told_as_nothing():
    told = said(swing_part="starboard line to rock", swing_of_breaking=1.1)
    assert told.endswith(
        "nothing follows once she lies still; swinging there starboard line to rock up to 1.10 of"
        " what parts it."
    )
    assert "swinging" not in said(swing_part="starboard line to rock", swing_of_breaking=0.99)


def test_an_hour_not_known_is_said_after_what_is():
    assert said(share_unknown=0.02).endswith("nothing follows; in some hours unknown.")


def test_where_she_touches_soonest_at_another_hour_that_hour_is_said():
    touches = {"touches": "water under the rudder", "seconds_to_contact": 17.0}
    assert "with the rudder, at the soonest after 17 s;" in said(**touches, contact_utc=AT)
    other = said(**touches, contact_utc=LATER)
    assert "with the rudder, at the soonest after 17 s if at 04:00;" in other


def test_what_parts_and_what_she_touches_is_said_though_no_rest_is_found():
    lost = replace(
        PLAIN, found=False, east_m=math.nan, heading_rad=math.nan, moved_m=math.nan,
        turned_rad=math.nan, follows=("starboard line to rock",), breaks=True,
        touches="hull to the shore", seconds_to_contact=14.0, contact_utc=AT,
    )  # fmt: skip
    assert night_words(NIGHT, [PLAIN, lost]) == (
        "If the port line to birch goes at 01:10: then starboard line to rock parts too; may touch"
        " the shore, at the soonest after 14 s; where she ends up is unknown."
    )


def test_an_anchor_trusted_with_nothing_is_past_its_limit_and_no_share_of_it():
    assert "anchor past its limit" in said(next_part="anchor", next_use=math.inf)


def test_which_line_to_double_is_unknown_where_a_loss_is_unknown():
    plain = Doubled("", (0.8, 0.4), ("port line", "anchor"))
    fine = double_words(Doubling(None, False, plain, ()))
    assert fine == "No line needs doubling: the worst loss is that of port line, with 0.80 of a" \
        " limit carried."  # fmt: skip
    dark = Doubling(None, False, replace(plain, unknown=True), ())
    assert double_words(dark).startswith("Whether a line needs doubling is unknown: ")


def test_a_loss_after_which_nobody_knows_where_she_ends_is_not_told_as_one_more_part():
    plain = Doubled("", (1102.0, 103.0, 1.5), ("port line", "anchor", "rock ashore"))
    stays = double_words(Doubling(None, True, plain, ()))
    assert stays.endswith(
        "that of port line, after which it is unknown where she ends up."
    )  # fmt: skip
    less = replace(plain, name="port line", worst=(103.0, 1.5, 1.2), gone=("anchor", "rock ashore",
                   "port line"), from_line="warp", alike=False)  # fmt: skip
    helps = double_words(Doubling(less, True, plain, (less,)))
    assert "the warp has enough left, but is another rope than is reckoned here" in helps
    assert helps.endswith("that of anchor, after which more parts go.")
