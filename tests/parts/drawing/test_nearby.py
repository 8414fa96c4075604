"""On the plan: the least water with its number, neighbours with their swing and the gap."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import numpy as np
import pytest

from shorefast.boat import Tender
from shorefast.briefing import sheet_svg
from shorefast.briefing.sheet import front_page
from shorefast.drawing import make_scene
from shorefast.drawing.nearby import least_water, near_m
from shorefast.stay import Neighbour, Room

PLOVER = Neighbour("Grey Plover", 30.0, 16.0, 10.0, 3.2, 1.5, 2.0)


def with_room(content, *rooms: Room, neighbours=()):
    stay = replace(content.stay, neighbours=neighbours)
    return replace(content, stay=stay, judgement=replace(content.judgement, room=rooms))


def water(content, by_m: float = 0.0) -> Room:
    """Water under the rudder as told, its place a step to the east every hour."""
    told = content.judgement.room[0]
    place = np.broadcast_to(np.arange(told.room_m.shape[1]), told.room_m.shape) * 0.1 + 24.0
    return Room(told.of, told.room_m + by_m, 0.5, None, place, np.full_like(place, -1.0))


def words(content) -> list[str]:
    return [text for _, text in front_page(content).labels]


def test_the_least_water_stands_on_the_plan_where_it_is(made_up):
    content = made_up()
    room = water(content, 0.4)
    content = with_room(content, room)
    found = least_water(make_scene(content.stay, content.judgement))
    member, hour = divmod(int(np.argmin(room.room_m)), room.room_m.shape[1])
    # every member has the same water here
    assert found.room_m == pytest.approx(room.room_m[member, hour])
    assert found.east_m == pytest.approx(24.0 + 0.1 * hour)
    assert not found.short
    assert f"least water {found.room_m:.1f} m" in words(content)


def test_of_several_parts_the_one_with_least_water_is_marked(made_up):
    content = made_up()
    keel = replace(water(content, 1.0), of="water under the keel")
    content = with_room(content, keel, water(content))
    scene = make_scene(content.stay, content.judgement)
    assert least_water(scene).room_m == pytest.approx(np.min(water(content).room_m), abs=1.1)
    assert least_water(scene) == least_water(
        make_scene(content.stay, replace(content.judgement, room=(content.judgement.room[1],)))
    )


def test_too_little_water_is_marked_as_what_gives(made_up):
    content = made_up()
    short = with_room(content, water(content, 0.3 - float(np.min(water(content).room_m))))
    assert least_water(make_scene(short.stay, short.judgement)).short
    assert "least water 0.3 m" in words(short)
    aground = with_room(content, water(content, -20.0))
    assert "she may touch" in words(aground)


def test_water_nobody_knows_is_marked_nowhere(made_up):
    content = made_up()
    unknown = replace(water(content), room_m=np.full_like(water(content).room_m, np.nan))
    content = with_room(content, unknown)
    assert least_water(make_scene(content.stay, content.judgement)) is None
    assert not [row for row in words(content) if row.startswith("least water")]


def test_a_neighbour_is_named_with_the_least_gap(made_up):
    content = made_up()
    gap = Room("hull to Grey Plover", water(content).room_m * 0.0 + 4.2, 3.0)
    said = words(with_room(content, gap, neighbours=(PLOVER,)))
    assert "Grey Plover" in said
    assert "gap 4.2 m at least" in said
    assert "gap unknown" in words(with_room(content, neighbours=(PLOVER,)))


def test_a_near_neighbour_comes_into_the_picture_and_a_far_one_does_not(made_up):
    content = made_up()
    near = with_room(content, neighbours=(PLOVER, replace(PLOVER, name="Far", east_m=400.0)))
    scene = make_scene(near.stay, near.judgement)
    corners = near_m(scene, np.array([(26.0, -1.5), (30.0, 2.0)]))
    assert len(corners) > 4
    assert corners[:, 0].max() < 60.0
    assert "Far" not in words(near)


def test_the_drawing_stays_sound_with_neighbours_and_a_tender(made_up):
    content = with_room(made_up(), neighbours=(PLOVER, replace(PLOVER, name="B", swing_m=0.0)))
    boat = replace(content.stay.boat, tender=Tender(3.0, 1.5, 0.3, -7.5, 1.0))
    content = replace(content, stay=replace(content.stay, boat=boat))
    for palette in ("day", "night", "print"):
        ElementTree.fromstring(sheet_svg(content, palette))
