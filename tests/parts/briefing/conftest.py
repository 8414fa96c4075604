"""Contents for cards, made up: plain, with everything, with nothing known, and of great length."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from shorefast.briefing import (
    CardApproach,
    CardCall,
    CardContent,
    CardLeaving,
    CardLine,
    CardLoss,
    CardNight,
    CardOutcome,
    CardPerson,
    CardPlace,
    CardProof,
    CardStep,
    CardTransit,
    CardTurn,
    CardVessel,
)

START = datetime(2026, 6, 24, 19, 30, tzinfo=UTC)
NAN = math.nan
DUTIES = ("helm", "bow", "line", "rower", "swimmer", "guest", "watch")


def calls(count: int) -> tuple[CardCall, ...]:
    kinds = ["let go", "bottom", *["veer"] * (count - 6), "snub", "hold", "line", "prove"]
    who = {"let go": "helm", "bottom": "bow", "line": "line", "prove": "helm"}
    return tuple(
        CardCall(
            at + 1, kind, who.get(kind, "bow"), 70.0 - 4.0 * at, 27.0 + 3.0 * at, 27.0 - at,
            4.0 * at, math.radians(85 - at), math.radians(48), math.radians(12),
        )
        for at, kind in enumerate(kinds)
    )  # fmt: skip


def approach(count: int = 12) -> CardApproach:
    return CardApproach(
        math.radians(225), 70.0, 14.0, 22.0, "starboard", 0.9, 0.55, "port", "starboard",
        6.5, 8.1, 90.0, 31.0, math.radians(120), 4.5, calls(count),
    )  # fmt: skip


def line(at: int, long: str) -> CardLine:
    return CardLine(
        f"stern line {at}{long}", f"port quarter{long}", f"notch birch {at}{long}", "tree", 23.4,
        at + 1, at == 0, 26.0, 44.0, 16.0, 95.0, 60.0, 800.0, 1.2, 0.6, at == 1,
    )  # fmt: skip


def proof() -> tuple[CardProof, ...]:
    return tuple(
        CardProof(
            at + 1, 1000.0 + 400 * at, 0.35 + 0.2 * at, 700.0 * (at + 1), 500.0 * (at + 1),
            900.0 * (at + 1), 6.0 + at, 4.0 + at, math.radians(50 - 12 * at), at == 3,
            60.0 + 30 * at, 14.0 - at,
        )
        for at in range(4)
    )  # fmt: skip


def leaving(long: str) -> tuple[CardLeaving, ...]:
    names = tuple((f"line {n}{long}", "aboard") for n in range(4))
    return tuple(
        CardLeaving(
            when, START + timedelta(hours=at), feasible, "", names, f"line 0{long}", 12.0, 260.0,
            9.0, 3.3,
        )
        for at, (when, feasible) in enumerate(
            (("now", True), ("hour", False), ("first_light", None))
        )
    )  # fmt: skip


def night(long: str) -> CardNight:
    parts = ("port quarter cleat", f"stern line 1{long} to birch{long}", "both legs of bow-north")
    touching = (None, "water under the rudder", "hull to the shore")
    losses = tuple(
        CardLoss(
            name, START, 1.1, 0.4, 9.0, touches, 15.0 if at == 1 else NAN,
            (f"stern line 2{long}",) if at == 0 else (), at != 2,
        )
        for at, (name, touches) in enumerate(zip(parts, touching, strict=True))
    )  # fmt: skip
    return CardNight(
        math.radians(14), math.radians(31), "water under the rudder", 2.8, START,
        START + timedelta(hours=8), 20.6, 5.1, f"stern line 1{long} to birch{long}", 0.81,
        "leave by", START + timedelta(hours=6), 21.6, 2.5, math.radians(2),
        math.radians(43), losses,
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
    steps = tuple(
        CardStep(at + 1, "lines_out", "line", None if at else "engine_stopped", at == 0)
        for at in range(3)
    )
    told: dict[str, Any] = {
        "vessel": CardVessel(f"Salt Thistle{long}", length_m, 4.1, 2.1, "ZQST7", "999000123"),
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
        "tends": f"Torvid{long}",
        "steps": steps,
        "proof": proof(),
        "moving_m": 3.0,
        "transits": (
            CardTransit(f"white rock{long}", f"lone birch{long}", 3.9, 0.6, False),
            CardTransit("ring", "light", 5.5, 0.9, True),
        ),
        "outcomes": (),
        "leaving": leaving(long),
        "night": night(long),
        "turns": turns(8, long),
    }
    return CardContent(**(told | also))


def make_bare(count: int = 0, lines: int = 2) -> CardContent:
    """Nothing known but the plan itself."""
    return CardContent(
        CardVessel("Quill", 11.8, 3.9, 1.9), CardPlace("Stone Spur", NAN, NAN, "Etc/GMT+2"),
        START, START + timedelta(hours=8), NAN, 48.0, NAN,
        tuple(CardLine(f"line {n}", "quarter", "ring", "", 20.2) for n in range(lines)),
        people(count, ""),
    )  # fmt: skip


@pytest.fixture
def full() -> Callable[..., CardContent]:
    """Makes a content in which everything is worked out."""
    return make_full


@pytest.fixture
def bare() -> Callable[..., CardContent]:
    """Makes a content in which nothing is known but the plan."""
    return make_bare


_ = CardOutcome
