"""A stay made up for the drawing: a straight shore in the west, a slope under it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from shapely.geometry import Polygon, box

from shorefast.basis import Assumption, Basis, Finding, Input
from shorefast.bay import Bay, Frame, ShorePoint, Soundings, Zone, fit_surface
from shorefast.boat import (
    Anchor,
    Cleat,
    Engine,
    Hull,
    LongLine,
    RodePiece,
    Spot,
    Underwater,
    Windage,
    Windlass,
    Yacht,
)
from shorefast.briefing import SheetContent
from shorefast.stay.answer import (
    ChainShape,
    Judgement,
    LineAtRest,
    NeedAndProof,
    PartUse,
    RestOverStay,
    Room,
    Stands,
)
from shorefast.stay.plan import Lie, LieLine, ProofGiven, Stay
from shorefast.stay.without_answer import WithoutOne
from shorefast.weather import WaterLevel, Wind

START = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)
BASIS = Basis()


@dataclass(frozen=True)
class Asked:
    """What a made-up sheet shall be like."""

    members: int = 21
    hours: float = 16.5
    names: tuple[str, str] = ("birch, 30 cm", "rock, sling")
    bay_name: str = "Grey Notch, Torvane Inlet"
    land: bool = True
    unknown: bool = False
    without: int = 4
    first: str | None = "stern line to rock, sling"
    tide_m: float = 2.0
    rest: bool = True
    other_points: int = 2


def bed_level_m(east: Any, north: Any) -> Any:
    """A slope from the shore at east 0, wavy, with a knoll at (38, 28)."""
    shore = 3.0 * np.sin(north / 19.0)
    off = east - shore
    knoll = 7.0 * np.exp(-((east - 38.0) ** 2 + (north - 28.0) ** 2) / 60.0)
    return 3.5 - 0.33 * off - 0.0006 * off**2 + knoll + 0.4 * np.sin(east / 9) * np.sin(north / 7)


def make_bay(asked: Asked) -> Bay:
    draw = np.random.default_rng(5)
    east, north = draw.uniform(-8, 150, 900), draw.uniform(-95, 95, 900)
    keep = ~((east > 60) & (north > 40)) if asked.unknown else np.ones(900, bool)
    east, north = east[keep], north[keep]
    soundings = Soundings(east, north, bed_level_m(east, north), np.full(len(east), 0.2))
    edge = np.linspace(-160, 160, 81)
    shore = [(3.0 * math.sin(n / 19.0), n) for n in edge]
    land = Polygon([*shore, (-120, 160), (-120, -160)]) if asked.land else None
    points = [
        ShorePoint(asked.names[0], "tree", -4.0, 11.0, 4.5),
        ShorePoint(asked.names[1], "rock", -3.0, -14.0, 3.5, 9000.0),
    ]
    others = [
        ShorePoint(f"ring {n}", "ring", -2.0, 40.0 + 9 * n, 3) for n in range(asked.other_points)
    ]
    zones = (
        Zone("rock", "the Calf", box(37, 27, 39, 29), "skipper"),
        Zone("cable", "power cable", box(20, -80, 200, -45), "chart"),
    )
    return Bay(
        asked.bay_name, Frame(47.5, -40.0), "Etc/GMT+2", "lowest astronomical tide",
        "mud over clay", fit_surface(soundings), soundings,
        None if land is None else land.boundary, land, (*points, *others), zones, (), BASIS,
    )  # fmt: skip


def make_boat() -> Yacht:
    return Yacht(
        "Salt Thistle", Hull(13.2, 4.1, 2.1, 11500.0, 12.0), Windage(14.3, 31.0, 3.0, 0.37, 0.1),
        Spot(6.6, 0.0, 1.5),
        (
            Cleat("port quarter", Spot(-6.4, -1.6, 1.3)),
            Cleat("starboard quarter", Spot(-6.4, 1.6, 1.3)),
        ),
        (Underwater("keel", 0.3, 0.0, 2.1), Underwater("rudder", -5.4, 0.0, 1.9)),
        None, None, Engine(40e3, 0.48, "fixed 3-blade", 2600.0), Windlass(), Anchor("scoop", 25.0),
        (RodePiece("chain", 0.01, 80.0, grade=30),), None,
        (LongLine("line 1", "polypropylene", 0.016, 60.0),) * 2, (), BASIS,
    )  # fmt: skip


def make_stay(asked: Asked) -> Stay:
    until = START + timedelta(hours=asked.hours)
    times = np.array([START.replace(tzinfo=None), until.replace(tzinfo=None)], "datetime64[s]")
    shape = (1, 2)
    wind = Wind(
        np.array([0]), times, np.full(shape, 9.0), np.zeros(shape), np.full(shape, 12.0), 0.0,
        10.0, BASIS,
    )  # fmt: skip
    lie = Lie(
        78.0, -2.0, 62.0, math.pi / 2,
        (
            LieLine("line 1", "port quarter", asked.names[0], 23.0),
            LieLine("line 2", "starboard quarter", asked.names[1], 24.0),
        ),
    )  # fmt: skip
    return Stay(
        "made up", make_boat(), make_bay(asked), wind, WaterLevel(times, np.zeros(2), False, BASIS),
        START, until, 0.05, ProofGiven(2600.0, None, None, 3.0), None, lie, BASIS,
    )  # fmt: skip


def make_judgement(asked: Asked) -> Judgement:
    draw = np.random.default_rng(7)
    count = max(2, round(asked.hours * (6 if asked.hours < 30 else 2)) + 1)
    begun = np.datetime64(START.replace(tzinfo=None), "s")
    time = begun + np.round(np.linspace(0, asked.hours * 3600, count)).astype("timedelta64[s]")
    hours = np.linspace(0, asked.hours, count)[None, :]
    members = np.arange(asked.members)
    vary = (
        np.zeros((asked.members, 1))
        if asked.members == 1
        else draw.normal(0, 1, (asked.members, 1))
    )
    rise = np.clip((hours - 3.0 + 0.6 * vary) / 9.0, 0, 1)
    mean = (4.5 + 7.5 * rise) * np.exp(0.10 * vary)
    gust = mean * (1.5 + 0.08 * vary + 0.2 * rise)
    turn = np.radians(150.0 + 9.0 * hours + 10.0 * vary)
    water = 2.2 + asked.tide_m * np.sin((hours + 0.5) / 12.4 * 2 * np.pi) + 0 * vary
    if asked.unknown:
        gust[:, count // 2 : count // 2 + 4] = np.nan
    load = 22.0 * gust**2
    sway = np.sin(turn) * gust**2 / 240.0
    blank = np.nan if not asked.rest else 0.0
    rest = RestOverStay(
        26.0 + 0.3 * water + 0.6 * sway + blank, -1.5 - 3.0 * sway + blank,
        math.pi / 2 + 0.12 * sway + blank, (),
    )  # fmt: skip
    parts = [
        PartUse("anchor", "anchor", load * 0 + 9000, "class", load, load / 9000, math.nan),
        PartUse(
            f"stern line to {asked.names[0]}", "line", np.full_like(load, 6700.0), "half",
            0.02 * load, 0.02 * load / 6700, 13400.0,
        ),
        PartUse(
            f"stern line to {asked.names[1]}", "line", np.full_like(load, 6700.0), "half",
            0.9 * load, 0.9 * load / 6700, 13400.0,
        ),
    ]  # fmt: skip
    use = np.maximum(parts[0].use, parts[2].use)
    known = np.where(np.isnan(use), -1.0, use)
    worst = np.unravel_index(int(np.argmax(known)), use.shape)
    lines = (LineAtRest("rode", load, load, load, load * 0 + 0.7, load * 0, load * 0 + 20),)
    room = (Room("water under the rudder", water + 0.2, 0.5), Room("hull to shore", water + 8, 2.0))
    past = np.nanmean(use > 1.0, axis=0)
    return Judgement(
        "leave by", members, time, water, mean, gust, turn, past, use, tuple(parts), room,
        replace(rest, lines=lines), (int(worst[0]), int(worst[1])), asked.first,
        START + timedelta(hours=0.6 * asked.hours), START + timedelta(hours=0.7 * asked.hours),
        "made up", BASIS,
    )  # fmt: skip


def make_stands(asked: Asked) -> Stands:
    turn = np.radians(np.arange(0, 360, 5.0))
    limit = 15.0 + 5.0 * np.cos(turn - 1.2) - 4.0 * np.exp(-((turn - 4.0) ** 2) / 0.3)
    limit = np.where(np.abs(turn - 1.4) < 0.5, np.nan, limit)
    name = np.where(turn > 3.4, f"stern line to {asked.names[1]}", "anchor")
    name = np.where(turn < 2.6, f"stern line to {asked.names[0]}", name)
    row = tuple(None if np.isnan(v) else str(n) for v, n in zip(limit, name, strict=True))
    return Stands(
        np.array([0.4, 4.2]), turn, np.stack([limit, limit * 1.1]), (row, row), 40.0, BASIS
    )


def make_shape(said: str, pull_n: float, lying: int) -> ChainShape:
    along = np.linspace(0.0, 45.0, 46)
    bed = np.asarray(bed_level_m(78.0 - along, -2.0))
    lift = np.clip((along - lying) / (45.0 - lying), 0, 1)
    level = bed + lift**1.8 * (1.5 + 0.9 - bed[-1])
    level = np.where(np.arange(46) <= lying, bed, level)
    return ChainShape(said, along, level, np.arange(46) < lying, 0.9, pull_n, 0.75)


def make_without(asked: Asked) -> tuple[WithoutOne, ...]:
    first, second = (f"stern line to {name}" for name in asked.names)
    rows = [
        WithoutOne(first, True, 30, 4, 1.2, 9.0, "anchor", 0.7, False, 3.4, 11.3),
        WithoutOne(second, True, 30, 4, 1.2, 12.0, first, 1.8, True, 1.4, None),
        WithoutOne("anchor", True, 5, 4, 1.2, 21.0, None, math.nan, False, -0.4, None),
        WithoutOne("snubber", False, 0, 0, 0, math.nan, None, math.nan, False, math.nan, None),
        WithoutOne("port quarter cleat", True, 30, 4, 1.2, 9.0, "anchor", 0.7, False, 3.4, 11.3),
    ]  # fmt: skip
    return tuple(rows[: asked.without])


def make_content(**wanted: Any) -> SheetContent:
    """A sheet's content, plausible and made up."""
    asked = Asked(**wanted)
    proof = NeedAndProof(4100.0, 0.1, START, 2600.0, 2200.0, 3000.0, 0.05, 3100.0, 10.8, 6.2, BASIS)
    shapes = (make_shape("calm", 300.0, 28), make_shape("worst hour", 4100.0, 12))
    night = ((datetime(2026, 6, 24, 22, 40, tzinfo=UTC), datetime(2026, 6, 25, 6, 45, tzinfo=UTC)),)
    basis = Basis(
        (Input("displacement", "11500 kg", "skipper"), Input("depths", "900", "soundings.csv")),
        (Assumption("A gust is taken as if it blew for good.", "Loads are higher in a squall."),),
        ("made-up-1",), (Finding("forecast", "2 hours left out"),),
    )  # fmt: skip
    return SheetContent(
        make_stay(asked), make_judgement(asked), make_stands(asked), shapes, make_without(asked),
        proof, "Lie here until 03:20, then leave.",
        f"Worst hour 06:00: the stern line to {asked.names[1]} carries 690 kg, 1.01 of its limit, "
        "in gusts of 40 kn from the south-west. At 06:00 3 of the forecast's 21 members are past.",
        CAUTIONS, night, None, basis,
    )  # fmt: skip


CAUTIONS = (
    "Arithmetic on your numbers and a forecast. You decide. Unseen rock, mud, weed and other "
    "people's chains are not in it. Not for navigation.",
    "A proof counts for the direction it was pulled in. An anchor that held may let go when pulled "
    "from another side.",
    "The wind across is the worst; decide before dark; do not untie while it is building.",
    "The rudder touches first, and the sounder looks elsewhere: sound under the stern.",
    "Tighter is not safer: bar-tight lines use up the anchor before the wind comes.",
)


@pytest.fixture
def made_up() -> Callable[..., SheetContent]:
    """Makes a sheet's content from a few wishes."""
    return make_content
