"""Contents for cards, made up: plain, with everything, with nothing known, and of great length."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from shorefast.briefing import (
    CardApproach,
    CardCall,
    CardContent,
    CardDoubledBack,
    CardLeaving,
    CardLetGo,
    CardLine,
    CardLoss,
    CardMark,
    CardNight,
    CardOff,
    CardOutcome,
    CardPerson,
    CardPlace,
    CardProof,
    CardStep,
    CardTransit,
    CardTurn,
    CardVessel,
)
from shorefast.wording import card_words

START = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)
NAN = math.nan
DUTIES = ("helm", "bow", "line", "rower", "swimmer", "guest", "watch")


def calls(count: int) -> tuple[CardCall, ...]:
    kinds = ["let go", "bottom", *["veer"] * (count - 6), "snub", "hold", "line", "prove"]
    who = {"let go": "helm", "bottom": "bow", "line": "line", "prove": "helm"}
    return tuple(
        CardCall(
            at + 1, kind, who.get(kind, "bow"), 70.0 - 4.0 * at, 27.0 + 3.0 * at, 27.0 - at,
            math.radians(85 - at), math.radians(48), math.radians(12),
        )
        for at, kind in enumerate(kinds)
    )  # fmt: skip


def approach(count: int = 12) -> CardApproach:
    return CardApproach(
        math.radians(225), 22.0, "starboard", 0.9, 0.55, "port", "starboard",
        6.5, 8.1, 90.0, 31.0, math.radians(120), 4.5, calls(count),
        crosswind_turns_back_mps=9.3, abort_depths=((20.0, 4.5), (40.0, 6.0), (60.0, NAN)),
        heading_rad=math.radians(37),
    )  # fmt: skip


def line(at: int, long: str) -> CardLine:
    return CardLine(
        f"stern line {at}{long}", f"port quarter{long}", f"notch birch {at}{long}", 23.4,
        at + 1, at == 0, 26.0, 44.0, 16.0, 95.0, 60.0, 800.0, 1.2, 0.6, at == 1,
    )  # fmt: skip


def proof() -> tuple[CardProof, ...]:
    return tuple(
        CardProof(
            at + 1, 1000.0 + 400 * at, 0.35 + 0.2 * at, 700.0 * (at + 1), 500.0 * (at + 1),
            900.0 * (at + 1), 6.0 + at, 4.0 + at, math.radians(50 - 12 * at),
            math.radians(46 - 12 * at), math.radians(54 - 12 * at), at == 3,
            60.0 + 30 * at, 14.0 - at,
        )
        for at in range(4)
    )  # fmt: skip


def leaving(long: str) -> tuple[CardLeaving, ...]:
    names = tuple(
        CardLetGo(
            f"stern line {n}{long} to birch {n}",
            ("cast off", "from ashore", "from ashore", "slip")[n],
        )
        for n in range(4)
    )
    unknown = tuple(("unknown", of) for of in ("lines", "engine", "wind"))
    why = (
        (),
        (("past limit", f"stern line 1{long} to birch"), ("not held", ""), ("building", "no room")),
        (("dark", ""), ("no room", "hull to the shore"), ("unknown", "room"), *unknown),
    )
    last = (
        CardDoubledBack(f"stern line 3{long} to birch"),
        CardDoubledBack(f"stern line 3{long} to birch", False, f"long line{long}"),
        CardDoubledBack(f"stern line 3{long} to birch", False),
    )
    return tuple(
        CardLeaving(
            when, START + timedelta(hours=at), feasible, why[at], names, last[at], 12.0,
            "hull to the shore" if at else "", 260.0, 1800.0 + 3600.0 * at, 9.0, 3.3,
        )
        for at, (when, feasible) in enumerate(
            (("first_light", True), ("worst", False), ("planned", None))
        )
    )  # fmt: skip


def outcomes() -> tuple[CardOutcome, ...]:
    """As many of each as there are: every sign, meaning, deed and temptation once or more."""
    texts = card_words("en").texts
    signs, means, does, tempts = (
        [key.split(".")[1] for key in texts if key.startswith(f"outcome_{of}.")]
        for of in ("sign", "means", "do", "tempts")
    )
    extra = [*tempts, *[None] * len(signs)]
    return tuple(map(CardOutcome, signs, means, does, extra))


def steps() -> tuple[CardStep, ...]:
    """Every step there is a text for."""
    names = [key.split(".")[1] for key in card_words("en").texts if key.startswith("step.")]
    whos = ("helm", "bow", "line", "rower", "swimmer")
    return tuple(
        CardStep(at + 1, name, whos[at % 5], names[at - 1] if at else None, at % 3 == 2)
        for at, name in enumerate(names)
    )


def transits(long: str) -> tuple[CardTransit, ...]:
    kinds = ("point", "headland", "bight", "rock", "behind")
    named = CardMark(f"white rock{long}", "point", 3.9, 30.0)
    bare = [CardMark("", kind, 3.5, 120.0) for kind in kinds]
    return (
        CardTransit(named, bare[4], 3.9, 0.6, False, True),
        CardTransit(bare[0], bare[1], 5.5, 0.9, True, False, True),
        CardTransit(bare[2], bare[3], 5.5, 0.9, True, False, False),
    )


def night(long: str) -> CardNight:
    parts = ("port quarter cleat", f"stern line 1{long} to birch{long}", "both legs of bow-north")
    touching = (None, "water under the rudder", "hull to the shore")
    losses = tuple(
        CardLoss(
            name, 1.1, 9.0, touches, 15.0 if at == 1 else NAN,
            (f"stern line 2{long}",) if at == 0 else (), at != 2,
        )
        for at, (name, touches) in enumerate(zip(parts, touching, strict=True))
    )  # fmt: skip
    return CardNight(
        math.radians(14), math.radians(31), "water under the rudder", 2.8, START,
        START + timedelta(hours=8), 20.6, 5.1, f"stern line 1{long} to birch{long}", 0.81,
        "leave by", START + timedelta(hours=6), 21.6, 2.5, math.radians(2),
        math.radians(43), losses, 5.1, f"stern line 1{long} to birch{long}", START, START,
        (CardMark(f"white rock{long}", "point", 3.9, 30.0), CardMark("birch", "point", 1.0, 12.0)),
        wake_off_m=8.4,
        wake_elsewhere_mps=30.9,
        stuck=((START, START), (START + timedelta(hours=3), START + timedelta(hours=9))),
    )  # fmt: skip


def people(count: int, long: str) -> tuple[CardPerson, ...]:
    return tuple(
        CardPerson(f"Sigrun {at}{long}", (DUTIES[at % len(DUTIES)],)) for at in range(count)
    )


def turns(count: int, long: str) -> tuple[CardTurn, ...]:
    return tuple(
        CardTurn(
            f"Sigrun {at % 4}{long}", START + timedelta(hours=2 * at),
            START + timedelta(hours=2 * at + 2),
        )
        for at in range(count)
    )  # fmt: skip


def make_full(
    names: int = 0, count: int = 7, lines: int = 3, length_m: float = 13.2, **also: Any
) -> CardContent:
    """Everything worked out; ``names``: so many letters more in every name."""
    long = "" if not names else " " + ("Windermere-Altenhof " * 9)[:names].strip()
    told: dict[str, Any] = {
        "vessel": CardVessel(f"Salt Thistle{long}", length_m, 2.1, "ZQST7", "999000123"),
        "place": CardPlace(f"Grey Notch{long}", 47.5005, -40.0007, "Etc/GMT+2"),
        "from_utc": START,
        "until_utc": START + timedelta(hours=14.5),
        "heading_rad": math.radians(24),
        "chain_m": 64.0,
        "water_m": 26.4,
        "lines": tuple(line(at, long) for at in range(lines)),
        "people": people(count, long),
        "approach": approach(),
        "by": None,
        "water_k": 285.2,
        "ahead": True,
        "tends": f"Torvid{long}",
        "steps": steps(),
        "fenders": ("port", "starboard"),
        "tender_side": "port",
        "painter_m": 1.5,
        "handover_to": f"Anselm{long}",
        "off": tuple(
            CardOff(START + timedelta(hours=6 * n), "low" if n % 2 else "high", 8.0, 12.0, 9.0)
            for n in range(4)
        ),
        "proof": proof(),
        "need_rpm": 1650.0,
        "moving_m": 3.0,
        "transits": transits(long),
        "outcomes": outcomes(),
        "leaving": leaving(long),
        "night": night(long),
        "turns": turns(8, long),
    }
    return CardContent(**(told | also))


def make_bare(count: int = 0, lines: int = 2) -> CardContent:
    """Nothing known but the plan itself."""
    return CardContent(
        CardVessel("Quill", 11.8, 1.9), CardPlace("Stone Spur", NAN, NAN, "Etc/GMT+2"),
        START, START + timedelta(hours=8), NAN, 48.0, NAN,
        tuple(CardLine(f"line {n}", "quarter", "ring", 20.2) for n in range(lines)),
        people(count, ""),
    )  # fmt: skip


def variants() -> tuple[CardContent, ...]:
    """Contents in which the rarer sentences stand."""
    lee = replace(
        approach(), to_windward_m=-4.0, blown_off="", walks=None, can_be_held=False,
        abort_rad=NAN, pass_off_m=30.0, pass_toward_rad=1.0, pass_water_m=2.0,
        landing_limit_m=5.0, lie_limit_m=6.0,
        crosswind_most_thruster_mps=NAN,
    )  # fmt: skip
    still = replace(approach(), walks="no", to_windward_m=0.3, calls=calls(12)[:1] + kinds())
    short = replace(line(0, ""), left_m=-3.0, row_s=math.inf, take_in_m=0.0)
    eased = replace(
        line(1, ""), name=short.name, take_in_m=-2.0, pretension_n=10.0, sag_m=NAN,
        reserve_m=1.5, reserve_wanted_m=5.8, left_m=0.0,
    )  # fmt: skip
    by_share = (replace(proof()[0], revs_rpm=NAN),)
    short_first = ({}, {"first_room_m": 0.3}, {"first_room_m": -0.1})
    verdicts = [
        {
            "night": replace(
                night(""), verdict=verdict, leave_by_utc=None, first_wanted_m=0.5, **short
            )
        }
        for verdict, short in zip(("holds", "no", "unknown"), short_first, strict=True)
    ]
    quiet = CardLoss("snubber", NAN, NAN, None, NAN, (), True)
    changes: tuple[dict[str, Any], ...] = (
        {"approach": lee, "lines": (short, eased)},
        {
            "approach": still,
            "proof": by_share,
            "transits": (),
            "need_rpm": NAN,
            "need_short_n": 7300.0,
            "night": replace(night(""), breaks=None),
            "leaving": (replace(leaving("")[0], room_m=NAN, hove_m=2.0), leaving("")[0]),
            "leaves_rad": 0.7,
            "leaves_clear_m": 185.0,
            "water_k": 295.0,
        },
        {
            "night": replace(night(""), losses=(quiet,), room_m=-0.2, leaves_never=True),
            "leaving": (replace(leaving("")[1], room_m=-0.3),),
            "by": "swim",
        },
        *verdicts,
    )
    return tuple(replace(make_full(), **change) for change in changes)


def kinds() -> tuple[CardCall, ...]:
    """A call of every kind and of everybody who may make one."""
    texts = card_words("en").texts
    names = [key.split(".")[1].replace("_", " ") for key in texts if key.startswith("call.")]
    whos = [key.split(".")[1] for key in texts if key.startswith("who.")]
    count = max(len(names), len(whos))
    return tuple(
        CardCall(at + 1, names[at % len(names)], whos[at % len(whos)], 40.0 - at, 30.0, 20.0)
        for at in range(count)
    )


class _Full:
    """Makes contents in which everything is worked out."""

    variants = property(lambda self: variants())

    def __call__(self, **wanted: Any) -> CardContent:
        return make_full(**wanted)


@pytest.fixture
def full() -> _Full:
    """Makes a content in which everything is worked out."""
    return _Full()


@pytest.fixture
def bare() -> Callable[..., CardContent]:
    """Makes a content in which nothing is known but the plan."""
    return make_bare
