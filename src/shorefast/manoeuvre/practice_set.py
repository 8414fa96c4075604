"""What is practised: the bay as she comes into it, the wind, her gear, what will fail."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from datetime import UTC

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.boat import line_in_use, rope
from shorefast.errors import BadInput
from shorefast.manoeuvre.arrival import Arrival, arrival
from shorefast.manoeuvre.practice_deck import Deck, Hand
from shorefast.manoeuvre.practice_orders import FAILURES, Failure, Setting, check_line
from shorefast.manoeuvre.practice_wind import GUST_FACTOR, Air, air_basis, air_of
from shorefast.manoeuvre.sequence import Sequence
from shorefast.manoeuvre.start import started
from shorefast.manoeuvre.way_in import WayIn, way_in
from shorefast.manoeuvre.who_carries import Trip, who_carries
from shorefast.mooring import HANDLED_BASIS, Handled, Kept, holding, kept
from shorefast.stay import ShoreLeg, Stay
from shorefast.weather import Wind

# failures are drawn within this from the start of the run [s]
_DRAWN_FROM_S, _DRAWN_SPAN_S = 20.0, 300.0


@dataclass(frozen=True)
class Moment:
    """All there is at one moment: her, to the bit, and the deck."""

    she: Kept
    deck: Deck

    @property
    def t_s(self) -> float:
        """Since practice began. [s]"""
        return self.she.t_s


@dataclass(frozen=True)
class Gear:
    """One line of the lie as it is aboard.

    most_m : what of it there is for this leg [m]
    parts_n : what parts it [N]; floats : whether it floats
    """

    leg: ShoreLeg
    most_m: float
    parts_n: float
    floats: bool


@dataclass(frozen=True)
class Practice:
    """What is practised, and what is worked out beforehand.

    Attributes
    ----------
    way : WayIn
        The plan.
    air : Air
    gear : tuple of Gear
        By the lie's lines.
    carrier : str or None
        "rower" or "swimmer"; None: nobody may.
    why_carrier : str
        As ``Ashore.why``.
    holding_n : float
        What the anchor holds at the shank. [N]
    windlass_mps : (veering, heaving)
    failures : tuple of Failure
        Those told and those drawn, by time.
    starts : (east, north, heading)
        Where the run begins.
    begins : Moment
    she : Handled
        A yacht to reckon with; brought to each moment anew.
    """

    setting: Setting
    arrival: Arrival
    way: WayIn
    air: Air
    gear: tuple[Gear, ...]
    carrier: str | None
    why_carrier: str
    holding_n: float
    windlass_mps: tuple[float, float]
    failures: tuple[Failure, ...]
    starts: tuple[float, float, float]
    begins: Moment
    basis: Basis
    she: Handled = field(compare=False, repr=False)

    @property
    def stay(self) -> Stay:
        """The stay that is practised."""
        return self.arrival.stay


def practice(stay: Stay, setting: Setting) -> Practice:
    """Make a stay ready to be practised, from where the run astern begins.

    Parameters
    ----------
    stay : Stay
        With a lie and an engine.
    setting : Setting

    Raises
    ------
    BadInput
        As ``arrival`` and ``way_in``; for a failure of a line she does not have.
    """
    for one in setting.failures:
        if FAILURES[one.kind] == "line" and one.line:
            check_line(one.line, len(stay.lie.lines) if stay.lie else 0, f"Failure {one.kind}")
    there = _arrived(stay, setting)
    way = started(way_in(there))
    she = there.handled()
    starts = way.pose_at(way.begins_at_m, way.start_across_m)
    she.put(*starts)
    gear = _gear(there)
    carrier, why = _carrier(there)
    deck = _deck(setting, gear, carrier)
    return Practice(
        setting, there, way, air_of(there, setting.gusts, setting.seed), gear, carrier, why,
        _holding_n(stay), she.windlass_mps,
        _failures(setting, gear, stay.boat.thruster is not None), starts,
        Moment(kept(she), deck), _basis(there, setting), she,
    )  # fmt: skip


def _arrived(stay: Stay, setting: Setting) -> Arrival:
    """Her arrival in the wind that is practised: the plan is made for it too."""
    there = arrival(stay)
    if setting.wind_mps is None and setting.from_rad is None:
        return there
    told = there.wind
    mean = told.mean_mps if setting.wind_mps is None else setting.wind_mps
    factor = told.gust_mps / told.mean_mps if told.gust_mps > told.mean_mps > 0.0 else GUST_FACTOR
    blow = told.from_rad if setting.from_rad is None else setting.from_rad
    # over the berth itself: no sector of the bay changes it
    open_bay = replace(stay.bay, sectors=())
    return arrival(replace(stay, wind=_blowing(stay, mean, factor, blow), bay=open_bay))


def _blowing(stay: Stay, mean_mps: float, factor: float, from_rad: float) -> Wind:
    ends = [one.astimezone(UTC).replace(tzinfo=None) for one in (stay.from_utc, stay.until_utc)]
    times = np.array(ends, "datetime64[s]")
    ones = np.ones((1, 2))
    return Wind(
        np.array([0]), times, mean_mps * ones, from_rad * ones, factor * mean_mps * ones,
        0.0, 10.0, stay.wind.basis,
    )  # fmt: skip


def _gear(there: Arrival) -> tuple[Gear, ...]:
    legs = there.rigged.legs
    gear = []
    for leg in legs:
        same = sum(one.parts for one in legs if one.line.name == leg.line.name)
        parts_n = leg.parts * line_in_use(leg.line, leg.plan.edge_radius_m).usable_n
        floats = rope(leg.line.fibre, leg.line.diameter_m).floats
        gear.append(Gear(leg, leg.line.length_m / same, parts_n, floats))
    return tuple(gear)


def _carrier(there: Arrival) -> tuple[str | None, str]:
    wind, q = there.wind, there.planned
    trips = []
    for leg in there.rigged.legs:
        east, north = aboard_at(q, leg.cleat.spot.x_m, leg.cleat.spot.y_m)
        de, dn = leg.point.east_m - east, leg.point.north_m - north
        ahead = wind.mean_mps * math.cos(wind.from_rad - math.atan2(de, dn))
        trips.append(Trip(leg, math.hypot(de, dn), ahead))
    chosen = who_carries(there.stay, tuple(trips))
    return chosen.carrier, chosen.why


def aboard_at(q: tuple[float, float, float], x_m: float, y_m: float) -> tuple[float, float]:
    """East and north of a place on board. [m]"""
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    return q[0] + x_m * sine + y_m * cosine, q[1] + x_m * cosine - y_m * sine


def _deck(setting: Setting, gear: tuple[Gear, ...], carrier: str | None) -> Deck:
    """The deck as the run begins; a line that is fast ashore already waits with the rower."""
    held = (None,) * len(gear)
    if not setting.ahead:
        return Deck(line_to_m=held)
    check_line(setting.ahead, len(gear), "Line ahead")
    if carrier != "rower":
        raise BadInput(
            "Line ahead",
            f"line {setting.ahead} waits in the tender",
            "nobody aboard carries a line by tender",
            "Let it go ashore once she is held.",
        )
    point = gear[setting.ahead - 1].leg.point
    hand = Hand(setting.ahead, point.east_m, point.north_m, brings=True)
    sequence = Sequence(tended=True, hand="ashore", line="slack ashore")
    return Deck(sequence, line_to_m=held, hand=hand)


def _holding_n(stay: Stay) -> float:
    """The middle of what such an anchor holds in this bottom; without end where not rated."""
    found = holding(stay.boat.anchor, stay.bay.bottom)
    return found.median_n if found.rated else math.inf


def _can_fail(gear: tuple[Gear, ...], thruster: bool) -> tuple[str, ...]:
    """What can fail aboard: nothing that is not there."""
    missing = set() if thruster else {"thruster dead"}
    if not gear:
        missing |= {"line parts", "point gives way", "swimmer in difficulty"}
    return tuple(kind for kind in FAILURES if kind not in missing)


def _failures(setting: Setting, gear: tuple[Gear, ...], thruster: bool) -> tuple[Failure, ...]:
    draw = np.random.default_rng([setting.seed, 1])
    found, kinds = list(setting.failures), _can_fail(gear, thruster)
    for _ in range(setting.drawn):
        kind = kinds[int(draw.integers(len(kinds)))]
        at_s = round(_DRAWN_FROM_S + _DRAWN_SPAN_S * float(draw.random()), 0)
        found.append(Failure(kind, at_s, drawn_value(kind)))
    return tuple(sorted(found, key=lambda one: one.at_s))


def drawn_value(kind: str) -> float | None:
    """What goes with a failure where nobody tells: pull [N] or length [m]. Our choice."""
    return {"anchor drags": 400.0, "sounder wrong": 3.0}.get(kind)


def _basis(there: Arrival, setting: Setting) -> Basis:
    said = (
        Assumption(
            "Where she touches she stops, and comes off where her way is clear",
            "A soft bottom holds her and a rock breaks her rudder",
        ),
        Assumption(
            "The anchor holds the middle of what such anchors hold in that bottom, at once, and"
            " less where all chain is lifted and pulls it upward",
            "One that has not dug in, or fell on weed, drags at the first pull",
        ),
        Assumption(
            "A slack floating line that nobody tends goes into the propeller as soon as it is"
            " long enough to lie there and the propeller turns",
            "It may go later, or at a line that seems too short for it",
        ),
    )
    basis = Basis(assumptions=said) | HANDLED_BASIS | there.basis
    return basis | air_basis(there, setting.gusts)


def with_failures(one: Practice, failures: tuple[Failure, ...]) -> Practice:
    """The same practice with other failures."""
    return replace(one, failures=failures)
