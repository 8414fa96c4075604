"""The JSON of every command: its keys, their kinds and shapes, and nothing that is no JSON."""

import json
import shutil
from pathlib import Path

import pytest

import shorefast
from shorefast.app.answer import to_json

DEMO = Path(shorefast.__file__).parent / "demo"
HEAD = ["schema", "version", "basis", "findings"]


@pytest.fixture(scope="module")
def stay(tmp_path_factory):
    """A short stay: one evening in the notch, so that every command is quick."""
    folder = tmp_path_factory.mktemp("notch")
    shutil.copytree(DEMO / "grey_notch", folder, dirs_exist_ok=True)
    text = (folder / "stay.toml").read_text(encoding="utf-8")
    text = text.replace("2026-06-25T12:00:00Z", "2026-06-24T22:30:00Z")
    (folder / "stay.toml").write_text(text, encoding="utf-8")
    return folder / "stay.toml"


def told(answer):
    """The answer as a reader of its JSON sees it; NaN is refused by the parser."""

    def refused(word):
        raise AssertionError(f"{word} is no JSON")

    return json.loads(to_json(answer), parse_constant=refused)


def shape(values):
    return (len(values), len(values[0]))


def test_judge_says_what_the_design_promises(stay):
    keys = told(shorefast.judge(stay))
    assert list(keys)[:4] == HEAD
    assert keys["schema"] == "shorefast/judge/1"
    assert list(keys)[4:] == [
        "verdict", "sentence", "leave_by_utc", "worst_hour_utc", "first_to_give", "member",
        "time_utc", "water_level_m", "share_past_limit", "parts", "room", "rest",
        "waves", "heave", "sea", "skyline", "comfort", "snatch", "natural_period_s",
        "gust_answered", "wind_to_side",
    ]  # fmt: skip
    assert keys["verdict"] == "holds"
    members, times = len(keys["member"]), len(keys["time_utc"])
    assert (members, times) == (51, 19)
    assert keys["time_utc"][0] == "2026-06-24T19:30:00Z"
    assert len(keys["water_level_m"]) == len(keys["share_past_limit"]) == times
    for part in keys["parts"]:
        assert list(part) == [
            "name", "kind", "limit_n", "limit_source", "load_n", "use", "breaking_n",
        ]  # fmt: skip
        assert shape(part["limit_n"]) == shape(part["load_n"]) == shape(part["use"]) == (51, 19)
    for room in keys["room"]:
        assert {"of", "room_m"} <= set(room)
        assert shape(room["room_m"]) == (51, 19)
        if room["of"].startswith("water"):
            assert shape(room["expected_m"]) == (51, 19)
    assert list(keys["rest"]) == ["east_m", "north_m", "heading_rad"]
    assert all(0.0 <= h < 6.2832 for row in keys["rest"]["heading_rad"] for h in row)


def test_judge_tells_her_response_to_gusts_when_asked(stay):
    keys = told(shorefast.judge(stay, gust_response=True))
    assert list(keys)[-1] == "gust_response"
    found = keys["gust_response"]
    assert list(found) == [
        "records", "valid", "parts", "verdict", "leave_by_utc", "share_past_limit", "greatest_use",
    ]  # fmt: skip
    assert found["valid"]["gust_low_mps"] <= found["valid"]["gust_high_mps"]
    assert shape(found["greatest_use"]) == (51, 19)
    assert len(found["share_past_limit"]) == 19
    parts = {part["name"]: part for part in found["parts"]}
    for part in parts.values():
        assert list(part) == [
            "name", "kind", "member", "at_utc", "steady_use", "peak_use", "ratio", "low", "high",
            "squall_use", "squall_ratio",
        ]  # fmt: skip
        assert len(part["peak_use"]) == found["records"] == 12
        assert (part["ratio"] is None) == (part["steady_use"] < 0.2)
    anchor = parts["anchor"]
    assert anchor["low"] < anchor["ratio"] < anchor["high"]
    assert anchor["ratio"] == pytest.approx(
        sum(anchor["peak_use"]) / 12.0 / anchor["steady_use"], rel=1e-6
    )


def test_a_birch_of_unknown_strength_has_null_for_its_limit(stay):
    parts = {part["name"]: part for part in told(shorefast.judge(stay))["parts"]}
    birch = parts["notch birch ashore"]
    assert birch["limit_n"][0][0] is None
    assert birch["use"][0][0] is None
    assert birch["load_n"][0][0] is not None


def test_ease_says_what_the_design_promises(stay):
    keys = told(shorefast.ease(stay, "19:00"))
    assert list(keys)[:4] == HEAD
    assert keys["schema"] == "shorefast/ease/1"
    assert list(keys)[4:] == [
        "at_utc", "worst_hour_utc", "verdict", "deciding_use", "parts", "rooms", "now", "metre",
        "least",
    ]  # fmt: skip
    assert keys["at_utc"] == "2026-06-24T21:00:00Z"
    parts, rooms = len(keys["parts"]), len(keys["rooms"])
    # chain and four lines, out and in, at this hour and at the worst
    assert len(keys["metre"]) == 5 * 2 * 2
    for one in keys["metre"]:
        assert list(one) == [
            "of", "call", "by_m", "at", "at_utc", "now_m", "use_per_m", "room_per_m", "bent",
        ]  # fmt: skip
        assert (len(one["use_per_m"]), len(one["room_per_m"])) == (parts, rooms)
    assert {one["call"] for one in keys["metre"]} == {"veer", "heave in", "ease", "take in"}
    assert list(keys["least"]) == [
        "kind", "changes", "verdict", "worst_use", "first_to_give", "worst_hour_utc", "room_m",
        "cost", "deciding_use", "still_past", "sentence",
    ]  # fmt: skip
    assert keys["least"]["kind"] == "inside" and keys["least"]["verdict"] == "holds"


def test_judge_tells_the_ground_swept_where_it_is_asked(stay, tmp_path):
    answer = shorefast.judge(stay, ground_swept=tmp_path / "drawn")
    keys = told(answer)["ground_swept"]
    assert list(keys) == [
        "sentence", "member", "kinds", "lying_m2", "swinging_m2", "chain_m", "aboard_m",
        "aground_share", "lost", "lost_swinging",
    ]  # fmt: skip
    assert keys["sentence"].startswith("Lying to lines her chain sweeps about")
    assert keys["kinds"] == ["mud over clay"]
    assert shape(keys["lying_m2"]) == shape(keys["swinging_m2"]) == (51, 1)
    assert keys["sentence"] in answer.text
    names = [path.name for path in answer.written]
    assert names == ["ground_swept.svg", "ground_swept.pdf"]
    assert all(path.stat().st_size > 10_000 for path in answer.written)


def test_stand_says_what_the_design_promises(stay):
    keys = told(shorefast.stand(stay))
    assert list(keys)[4:] == ["water_level_m", "wind_from_rad", "limit_mps", "first_to_give"]
    levels = len(keys["water_level_m"])
    assert shape(keys["limit_mps"]) == shape(keys["first_to_give"]) == (levels, 72)
    pairs = [
        (limit, first)
        for row, names in zip(keys["limit_mps"], keys["first_to_give"], strict=True)
        for limit, first in zip(row, names, strict=True)
    ]
    assert all((limit is None) == (first in (None, "unknown")) for limit, first in pairs)
    assert all(limit is None or 0.0 <= limit <= 40.0 for limit, _ in pairs)


def test_cards_say_who_has_which_and_what_is_still_to_be_written(stay, tmp_path):
    made = shorefast.cards(stay, tmp_path, "a6", "fr")
    keys = told(made)
    assert list(keys)[4:] == [
        "language", "unreviewed", "paper", "cards", "watch", "to_fill_in", "written",
    ]  # fmt: skip
    assert (keys["language"], keys["unreviewed"], keys["paper"]) == ("fr", True, "a6")
    whose = {one["name"]: one["people"] for one in keys["cards"]}
    # of those the stay file tells of; the sea has 12 degrees, so nobody swims
    assert whose["helm"] == ["Sigrun"] and whose["bow"] == ["Anselm"]
    assert "rower" in whose and "swimmer" not in whose
    assert keys["cards"][-1]["name"] == "night"
    assert all(one["faces"] % 2 == 0 for one in keys["cards"])
    assert keys["watch"][0]["from_utc"] == "2026-06-24T19:30:00Z"
    assert keys["watch"][-1]["until_utc"] == "2026-06-24T22:30:00Z"
    assert "call sign" in keys["to_fill_in"]
    names = {Path(path).name for path in keys["written"]}
    assert names == {"cards.pdf", "night-card.pdf", "bay.pdf", "watch.ics"}
    assert all((tmp_path / name).stat().st_size > 1000 for name in names)
    assert "No native seaman has read this language's cards yet" in made.text


def test_proof_says_what_the_design_promises(stay):
    keys = told(shorefast.proof(stay))
    assert list(keys)[4:] == [
        "need_n", "need_uplift_rad", "proof_n", "proof_low_n", "proof_high_n",
        "wind_ahead_mps", "wind_abeam_mps", "toward_rad", "water_level_m", "steps", "asked",
        "needed", "shoal_from", "need_turned_rad", "wind_adds_n", "wind_across_n", "transits",
        "moving", "outcomes", "settling",
    ]  # fmt: skip
    assert keys["proof_low_n"] < keys["proof_n"] < keys["proof_high_n"]
    assert keys["wind_abeam_mps"] < keys["wind_ahead_mps"]


def test_proof_tells_the_steps_the_marks_and_how_she_is_settled(stay):
    keys = told(shorefast.proof(stay))
    assert [step["number"] for step in keys["steps"]] == [1, 2, 3, 4, 5]
    # the boat file's own full revs and pull, the stay file's three minutes
    last = keys["steps"][-1]
    assert (last["revs_rpm"], last["revs_share"], last["hold_s"]) == (3000.0, 1.0, 180.0)
    assert last["pull_n"] == pytest.approx(2600.0)
    for step in keys["steps"]:
        assert step["angle_low_rad"] < step["angle_rad"] < step["angle_high_rad"]
    kinds = {(one["along"], one["by_night"]) for one in keys["transits"]}
    assert kinds == {(True, False), (False, False), (True, True), (False, True)}
    for one in keys["transits"]:
        assert one["moved_m"] > 0.0
        assert one["near"]["name"] in {"breast rock", "notch rock", "notch birch", "breast slab"}
    assert keys["moving"]["marks_m"] < keys["moving"]["fix_m"] < keys["moving"]["fix_last_m"]
    tempted = {one["sign"]: one["tempts"] for one in keys["outcomes"]}
    assert tempted["marks_run"] == "heave_in"
    assert all(one["sentence"] for one in keys["outcomes"])
    lines = keys["settling"]["lines"]
    assert [line["name"] for line in lines][:1] == ["port stern line to notch birch"]
    # the evening ends before high water
    assert [one["at_utc"] for one in keys["settling"]["at"]] == [
        "2026-06-24T20:00:00Z", "2026-06-24T21:00:00Z", "2026-06-24T22:00:00Z",
    ]  # fmt: skip


def test_chain_says_what_the_design_promises(stay):
    keys = told(shorefast.chain(stay, 40.0))
    assert list(keys)[4:] == [
        "angle_below_horizontal_rad", "pull_n", "pull_low_n", "pull_high_n", "all_lifted",
        "on_bottom_m", "may_be_lifted",
    ]  # fmt: skip
    assert keys["angle_below_horizontal_rad"] == pytest.approx(0.8727, abs=1e-4)
    assert keys["pull_low_n"] < keys["pull_n"] < keys["pull_high_n"]
    assert keys["all_lifted"] is False


def test_weather_says_what_the_design_promises(stay):
    keys = told(shorefast.weather([stay.parent / "forecast.nc"], 47.5, -40.0))
    assert list(keys)[4:] == [
        "files", "place", "member", "time_utc", "wind_mps", "wind_from_rad", "gust_mps",
        "gust_over_s", "height_m",
    ]  # fmt: skip
    assert list(keys["files"][0]) == ["file", "kind", "read", "left_out"]
    assert list(keys["place"]) == ["lat_deg", "lon_deg", "distance_m"]
    assert shape(keys["wind_mps"]) == (len(keys["member"]), len(keys["time_utc"]))


def test_bay_says_what_the_design_promises(stay):
    told_of = {"depth": None, "crs": None, "datum": None, "no_data": None}
    place, line = (47.5003, -39.9993), (47.5, -39.9999, 45.0, 60.0)
    answer = shorefast.bay([stay.parent / "bay"], [place], None, line, told_of)
    keys = told(answer)
    assert {"files", "at", "along", "zones", "points"} <= set(keys)
    assert set(keys["files"][0]) >= {
        "file", "kind", "taken", "left_out", "least_depth_m", "greatest_depth_m", "west_deg",
        "south_deg", "east_deg", "north_deg", "crs", "chart_datum", "spacing_m",
    }  # fmt: skip
    assert set(keys["at"][0]) == {"lat_deg", "lon_deg", "charted_depth_m", "deviation_m"}
    assert {"distance_m", "charted_depth_m", "deviation_m"} <= set(keys["along"][0])
    assert {"kind", "name", "source", "from_utc", "until_utc"} <= set(keys["zones"][0])


def test_verify_says_what_the_design_promises(tmp_path):
    keys = told(shorefast.verify([]))
    assert list(keys)[4:] == ["passed", "rows"]
    assert keys["passed"] is True
    assert set(keys["rows"][0]) == {
        "file", "case", "field", "got", "expected", "tolerance", "pass", "source",
    }  # fmt: skip


def test_judge_tells_how_sure_it_is_and_where_to_let_go_when_asked(stay):
    keys = told(shorefast.judge(stay, odds=64, let_go=True))
    assert list(keys)[-2:] == ["odds", "let_go"]
    odds = keys["odds"]
    assert list(odds) == [
        "samples", "until_utc", "any", "any_unknown_share", "any_without_proof", "time_utc",
        "share", "error", "unknown_share", "parts", "doubts", "advice",
    ]  # fmt: skip
    assert odds["samples"] == 64
    assert len(odds["time_utc"]) == len(odds["share"]) == len(odds["error"]) == 19
    assert 0.0 <= odds["any"]["share"] <= odds["any_without_proof"]["share"] <= 1.0
    for part in odds["parts"]:
        assert list(part) == ["name", "share", "error", "by_time"]
        assert len(part["by_time"]["share"]) == 19
    assert all(0.0 <= one["variance_share"] <= 1.0 for one in odds["doubts"])
    where = keys["let_go"]
    assert list(where) == [
        "until_utc", "area_m2", "area_is_least", "error_m", "hit_share", "along_m", "across_m",
        "along_rad", "aim", "sides", "outline", "tried",
    ]  # fmt: skip
    assert [side["way"] for side in where["sides"]] == [
        "farther out", "to the right", "nearer in", "to the left",
    ]  # fmt: skip
    assert all(47.0 < lat < 48.0 for ring in where["outline"] for lat in ring["lat_deg"])
    assert all(-41.0 < lon < -39.0 for ring in where["outline"] for lon in ring["lon_deg"])


def test_judge_tells_every_loss_and_which_line_to_double_when_asked(stay):
    keys = told(shorefast.judge(stay, if_one_goes=True))
    assert {"if_one_goes", "night_card", "double"} <= set(keys)
    assert [one["gone"] for one in keys["if_one_goes"]][-1] == "anchor"
    assert keys["double"]["sentence"].endswith(".")


def test_approach_says_how_she_is_brought_in(stay):
    answer = shorefast.approach(stay)
    keys = told(answer)
    assert list(keys) == [
        *HEAD, "sentence", "at_utc", "can_be_held", "heading_rad", "line_in_rad", "start",
        "to_windward_m", "stopped_drift_m", "windward_side", "let_go_off_m", "hold_off_m",
        "astern_most_mps", "fall_s", "leeway_mps", "falls_off", "walks_astern", "crosswind",
        "look_round", "turning_room_m", "turning_needs_m", "way_out", "limits", "calls",
        "waiting", "lines", "carried_by", "steps",
    ]  # fmt: skip
    assert keys["can_be_held"] is True and keys["carried_by"] == "row"
    assert keys["calls"][0]["kind"] == "let go" and keys["calls"][0]["chain_m"] == 0.0
    assert answer.text.startswith("17:30: Astern along ")
    assert "The engine is STOPPED" in answer.text
