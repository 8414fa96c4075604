"""A lie in which she touches, on strip, profile and terminal; labels stay off her hulls."""

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely

from shorefast.briefing.sheet import _PLAN, front_page
from shorefast.drawing import make_scene, strip_text
from shorefast.drawing.hull import outline_m, placed
from shorefast.drawing.labels import Board
from shorefast.drawing.page import Box
from shorefast.drawing.plan import _pose_row, _poses, _some, _view
from shorefast.stay import Room


def words(content):
    return [text for _, text in front_page(content).labels]


def aground(content, hours=slice(None), members=slice(None)):
    """The rudder 0.4 m short of water in some hours and members, its use as judged then."""
    judgement = content.judgement
    room_m = np.full(judgement.greatest_use.shape, 3.0)
    room_m[members, hours] = -0.4
    use = np.where(room_m <= 0.0, 9.9, judgement.greatest_use)
    room = (Room("water under the rudder", room_m, 0.5),)
    return replace(content, judgement=replace(judgement, room=room, greatest_use=use))


def test_where_she_touches_the_strip_says_so_and_gives_no_number(made_up):
    said = words(aground(made_up(), slice(40, 60)))
    assert "she may touch" in said
    assert not [row for row in said if "times that" in row]


def test_one_of_many_members_is_outside_the_band_and_not_named(made_up):
    # 1 of 21 is less than the one in twenty above nine in ten
    assert "she may touch" not in words(aground(made_up(), slice(40, 60), slice(1)))


def test_a_part_far_past_its_limit_is_still_told_by_its_use(made_up):
    content = made_up()
    use = content.judgement.greatest_use.copy()
    use[:, 50] = 5.0
    judgement = replace(content.judgement, greatest_use=use)
    assert "up to 5.00 times that" in words(replace(content, judgement=judgement))
    both = aground(replace(content, judgement=judgement), slice(70, 80))
    assert {"up to 5.00 times that", "she may touch"} <= set(words(both))
    use[:, 50] = 9.9
    assert "over 9 times that" in words(replace(content, judgement=judgement))


def test_where_she_touches_does_not_flatten_the_rest_of_the_strip(made_up):
    from shorefast.drawing.strip import _top_use

    plain = made_up()
    assert _top_use(aground(plain, slice(40, 41)).judgement) == _top_use(plain.judgement)


def test_the_profile_says_how_much_water_is_wanting(made_up):
    said = words(aground(made_up(), slice(40, 60)))
    assert [
        row
        for row in said
        if re.fullmatch(r"may touch at \d\d:\d\d: 0.4 m too little under the rudder", row)
    ]
    assert not [row for row in said if row.startswith("-")]


def test_the_terminal_ends_with_what_is_true(made_up):
    rows = strip_text(aground(made_up()).judgement, "Etc/GMT+2").splitlines()
    assert rows[-1] == "she may touch"
    assert set("".join(rows[4].split()[1:])) == {"█"}
    assert strip_text(made_up().judgement, "Etc/GMT+2").splitlines()[-1].startswith("greatest use ")


# over the 2, 5, 10 and 15 m lines, swinging little and much
@pytest.mark.parametrize("east_m", [-10.0, 6.0, 12.0, 30.0])
@pytest.mark.parametrize(("members", "swing"), [(1, 1.0), (1, 6.0), (21, 6.0)])
def test_no_depth_is_written_on_her_hull_nor_on_those_drawn_round_it(
    made_up, east_m, members, swing
):
    content = made_up(members=members)
    rest = content.judgement.rest
    middle_m = float(rest.north_m.mean())
    north_m = middle_m + swing * (rest.north_m - middle_m)
    rest = replace(rest, east_m=rest.east_m + east_m, north_m=north_m)
    content = replace(content, judgement=replace(content.judgement, rest=rest))
    scene = make_scene(content.stay, content.judgement)
    view = _view(scene, _PLAN, _poses(scene))
    poses = np.vstack((_pose_row(scene.pose), _some(scene)))
    hulls = placed(outline_m(content.stay.boat.hull), *poses.T)
    drawn = shapely.union_all(shapely.polygons(view.to_page(hulls[..., 0], hulls[..., 1])))
    depths = re.compile(r"\d+( m)?")
    on_her = [
        text
        for box, text in front_page(content).labels
        if depths.fullmatch(text) and _PLAN.holds(box)
        and drawn.intersects(shapely.box(box.left, box.top, box.right, box.bottom))
    ]  # fmt: skip
    assert on_her == []


def test_what_a_ring_encloses_is_kept_clear_and_nothing_else():
    board = Board(Box(0.0, 0.0, 100.0, 100.0))
    board.take_inside(np.array([(20.0, 20.0), (60.0, 20.0), (20.0, 60.0)]))
    assert not board.free(Box(22.0, 22.0, 30.0, 30.0))
    assert board.free(Box(50.0, 50.0, 60.0, 60.0)) and board.free(Box(4.0, 4.0, 16.0, 16.0))
