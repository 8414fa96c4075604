"""The lines ashore: which first, who carries it and how, how much to flake, step by step."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis, Finding
from shorefast.manoeuvre.alongside import Fenders, TenderPlace, fenders, tender_place
from shorefast.manoeuvre.ashore_steps import Plan, Step, steps_of
from shorefast.manoeuvre.carried import carried_basis
from shorefast.manoeuvre.crew import Crew
from shorefast.manoeuvre.flaked import Flake, flake, flaked_basis, loop_m
from shorefast.manoeuvre.which_first import Stage, WhichFirst, which_first
from shorefast.manoeuvre.who_carries import Carried, Trip, carries_basis, who_carries
from shorefast.stay import Judged, ShoreLeg, Stay

Floats = NDArray[np.float64]
# her stern is looked for at most so far out or in along her own line [m]
_MOST_SHIFT_M = 80.0
_WITHIN_M = 0.01


@dataclass(frozen=True)
class LineAshore:
    """One line on its way ashore.

    Attributes
    ----------
    name, line, cleat, point : str
        The leg, and the line aboard, cleat and point it runs between.
    order : int
        When it goes, counted from one.
    weather : bool
        Whether it is the weather line: the one that has to go first.
    distance_m : float
        Level, from the cleat to the point with her held where she waits. [m]
    flake_m : float
        Line to flake: what it needs and its reserve, as far as there is line for it. [m]
    spare_m : float
        What is left of that line aboard when all its legs have what they need, reserve
        not counted; below 0: so much too short. [m]
    left_m : float
        What stays aboard when every leg of that line is flaked with its reserve: that and
        ``flake_m`` of all its legs are the whole line; below 0: so much too short. [m]
    swim_s, row_s : float
        From the ladder until it is fast; NaN: not to be done so; infinite: no headway. [s]
    second_leg : bool
        Whether it is a second line from a cleat, to be led when each cleat has one.
    flaked : Flake
        The length piece by piece.
    instead : str or None
        Where it is too short: a line aboard that is long enough and not in use.
    set_m, to_spare_m : float
        Once this one is fast too: the farthest bow or stern is set with the engine idle,
        and the room then left beyond what is wanted; NaN unknown. [m]
    """

    name: str
    line: str
    cleat: str
    point: str
    order: int
    weather: bool
    distance_m: float
    flake_m: float
    spare_m: float
    left_m: float
    swim_s: float
    row_s: float
    second_leg: bool
    flaked: Flake
    instead: str | None
    set_m: float
    to_spare_m: float

    @property
    def reserve_m(self) -> float:
        """What of ``flake_m`` is in reserve. [m]"""
        return self.flake_m - self.flaked.need_m


@dataclass(frozen=True)
class Handover:
    """Who hands the helm to whom: with the engine stopped, all lines fast, all aboard."""

    from_person: str
    to_person: str


@dataclass(frozen=True)
class Ashore:
    """The lines ashore.

    Attributes
    ----------
    lines : tuple of LineAshore
        In the order they go.
    by : str
        "row", "swim" or "nobody".
    why : str
        "tender", "warm water", "quicker"; of nobody: "cold and no tender", "unknown and no
        tender", "nobody to row", "nobody to swim", "nobody to row or swim", "no line".
    water_k : float or None
        Of the sea; None unknown. [K]
    temperature_rule : str
        "cold", "warm", or "unknown", which counts as cold.
    tends : str or None
        Who tends the slack line and watches the propeller, and does nothing else.
    steps : tuple of Step
    crew : Crew
    fenders : Fenders
    tender : TenderPlace or None
    handover : Handover or None
        None where nobody else can take the helm.
    held : (east_m, north_m, heading_rad)
        Where she waits while the lines go.
    hold_off_m : float
        Her stern there to the high-water line; NaN where no shore is known. [m]
    alone : tuple of Stage
        Each line that might go first, as the only one fast; by the lie's count.
    free : bool
        Whether it does not matter which goes first.
    takes_s : float
        All lines one after the other, with the way back each time; NaN where nobody
        carries them or it is unknown, infinite where the wind lets no headway. [s]
    """

    lines: tuple[LineAshore, ...]
    by: str
    why: str
    water_k: float | None
    temperature_rule: str
    tends: str | None
    steps: tuple[Step, ...]
    basis: Basis
    crew: Crew
    fenders: Fenders
    tender: TenderPlace | None
    handover: Handover | None
    held: tuple[float, float, float]
    hold_off_m: float
    alone: tuple[Stage, ...]
    free: bool
    takes_s: float


class _There(NamedTuple):
    """Her arrival: where she is held, the water then and at its lowest [m], the mean wind."""

    held: tuple[float, float, float]
    off_m: float
    level_m: float
    lowest_m: float
    wind_east_mps: float
    wind_north_mps: float

    @property
    def wind_from_rad(self) -> float:
        """Where the wind comes from; NaN unknown."""
        if math.hypot(self.wind_east_mps, self.wind_north_mps) < 1e-6:
            return math.nan
        return math.atan2(self.wind_east_mps, self.wind_north_mps)


def ashore(stay: Stay, judged: Judged, hold_off_m: float | None = None) -> Ashore:
    """How the lines of a lie go ashore as she comes in.

    Parameters
    ----------
    stay, judged :
        The stay and its judgement; its first moment counts.
    hold_off_m : float, optional
        How far her stern is held off the high-water line while they go: she lies on her
        own line farther out or in; where left out she waits where she is to lie. [m]

    Returns
    -------
    Ashore
        That a line is too short, that nobody may carry it, that hands are missing are
        results in it.
    """
    there = _there(stay, judged, hold_off_m)
    trips = tuple(_trip(leg, there) for leg in judged.rigged.legs)
    order = which_first(stay, judged)
    chosen = who_carries(stay, trips)
    fendered = fenders(stay, there.held, there.wind_from_rad)
    lying = tender_place(stay.boat, fendered, there.wind_from_rad, there.held[2])
    handover = _handover(stay, chosen.crew)
    plan = _plan(order, chosen, lying, handover)
    lines = tuple(
        _line(stay, there, trips, order, (place, chosen)) for place in range(len(order.order))
    )
    return Ashore(
        lines, chosen.by, chosen.why, stay.water_k, chosen.rule, chosen.crew.who("line"),
        steps_of(plan), _basis(stay, there, order, chosen), chosen.crew, fendered, lying,
        handover, there.held, there.off_m, order.alone, order.known and order.weather is None,
        chosen.takes_s,
    )  # fmt: skip


def _there(stay: Stay, judged: Judged, hold_off_m: float | None) -> _There:
    found = judged.judgement
    rest = found.rest
    q = np.stack([rest.east_m[:, 0], rest.north_m[:, 0], rest.heading_rad[:, 0]], -1)
    known = q[np.isfinite(q).all(axis=-1)]
    lies = _middle(known if len(known) else judged.rigged.start[None, :])
    held = lies if hold_off_m is None else _held_off(stay, lies, hold_off_m)
    level_m = np.broadcast_to(found.water_level_m, found.gust_mps.shape)
    now, lowest = _least(level_m[:, 0]), _least(level_m)
    speed, blow = found.wind_mps[:, 0], found.wind_from_rad[:, 0]
    east, north = (_median(speed * turn(blow)) for turn in (np.sin, np.cos))
    return _There(held, _off_m(stay, held), now, lowest, east, north)


def _middle(q: Floats) -> tuple[float, float, float]:
    """The middle of some places, and the mean of how she heads there."""
    heading = math.atan2(float(np.sin(q[:, 2]).mean()), float(np.cos(q[:, 2]).mean()))
    return float(np.median(q[:, 0])), float(np.median(q[:, 1])), heading % (2.0 * math.pi)


def _least(values: Floats) -> float:
    return float(np.nanmin(values)) if np.isfinite(values).any() else math.nan


def _median(values: Floats) -> float:
    return float(np.nanmedian(values)) if np.isfinite(values).any() else math.nan


def _above_nought(value: float) -> float:
    """The value where it is above 0; what is unknown stays so."""
    return value if math.isnan(value) else max(0.0, value)


def _off_m(stay: Stay, q: tuple[float, float, float]) -> float:
    """Her stern's middle to the high-water line; NaN where no shore is known. [m]"""
    if stay.bay.shore is None:
        return math.nan
    back_m = 0.5 * stay.boat.hull.length_m
    stern = shapely.Point(q[0] - back_m * math.sin(q[2]), q[1] - back_m * math.cos(q[2]))
    return float(stay.bay.shore.distance(stern))


def _shifted(q: tuple[float, float, float], ahead_m: float) -> tuple[float, float, float]:
    return q[0] + ahead_m * math.sin(q[2]), q[1] + ahead_m * math.cos(q[2]), q[2]


def _held_off(
    stay: Stay, lies: tuple[float, float, float], off_m: float
) -> tuple[float, float, float]:
    """Her place on her own line with the stern so far off; as she lies where there is none."""
    if stay.bay.shore is None:
        return lies
    step_m = math.copysign(1.0, off_m - _off_m(stay, lies))
    low_m, high_m = 0.0, 0.0
    while (_off_m(stay, _shifted(lies, high_m)) - off_m) * step_m < 0.0:
        low_m, high_m = high_m, high_m + step_m
        if abs(high_m) > _MOST_SHIFT_M:
            return lies
    while abs(high_m - low_m) > _WITHIN_M:
        middle_m = 0.5 * (low_m + high_m)
        if (_off_m(stay, _shifted(lies, middle_m)) - off_m) * step_m < 0.0:
            low_m = middle_m
        else:
            high_m = middle_m
    return _shifted(lies, high_m)


def _trip(leg: ShoreLeg, there: _There) -> Trip:
    east_m, north_m, heading = there.held
    spot, sine, cosine = leg.cleat.spot, math.sin(heading), math.cos(heading)
    de = leg.point.east_m - (east_m + spot.x_m * sine + spot.y_m * cosine)
    dn = leg.point.north_m - (north_m + spot.x_m * cosine - spot.y_m * sine)
    far_m = math.hypot(de, dn)
    # a wind that comes from where the point lies is from ahead
    ahead = (de * there.wind_east_mps + dn * there.wind_north_mps) / max(far_m, 1e-9)
    return Trip(leg, far_m, ahead)


def _flaked(trip: Trip, there: _There) -> Flake:
    leg = trip.leg
    dry_m = _above_nought(leg.point.height_m - there.level_m)
    falls_m = _above_nought(there.level_m - there.lowest_m)
    round_m = loop_m(leg.point.kind, leg.plan.sling is not None)
    height_m = leg.cleat.spot.z_m + dry_m
    return flake(trip.distance_m, height_m, falls_m, round_m, leg.parts)


def _line(
    stay: Stay,
    there: _There,
    trips: tuple[Trip, ...],
    order: WhichFirst,
    which: tuple[int, Carried],
) -> LineAshore:
    place, chosen = which
    number = order.order[place]
    trip, stage = trips[number], order.stages[place]
    leg, flaked = trip.leg, _flaked(trip, there)
    same = [_flaked(one, there) for one in trips if one.leg.line.name == leg.line.name]
    need_m = sum(one.need_m for one in same)
    spare_m = leg.line.length_m - need_m
    share_m = _above_nought(spare_m) / len(same)
    return LineAshore(
        name=leg.name,
        line=leg.line.name,
        cleat=leg.cleat.name,
        point=leg.point.name,
        order=place + 1,
        weather=number == order.weather,
        distance_m=trip.distance_m,
        flake_m=flaked.need_m + min(flaked.reserve_m, share_m),
        spare_m=spare_m,
        left_m=spare_m - sum(min(one.reserve_m, share_m) for one in same),
        swim_s=trip.swim_s if chosen.can_swim else math.nan,
        row_s=trip.row_s if chosen.can_row else math.nan,
        second_leg=order.second[number],
        flaked=flaked,
        instead=_instead(stay, trips, need_m) if spare_m < 0.0 else None,
        set_m=stage.set_m,
        to_spare_m=stage.to_spare_m,
    )


def _instead(stay: Stay, trips: tuple[Trip, ...], need_m: float) -> str | None:
    """The shortest line aboard that is long enough and in no other use."""
    used = {trip.leg.line.name for trip in trips}
    free = [one for one in stay.boat.lines if one.name not in used and one.length_m >= need_m]
    return min(free, key=lambda one: one.length_m).name if free else None


def _handover(stay: Stay, crew: Crew) -> Handover | None:
    """To whom the helm goes: one with that duty who has no other now, else who has the bow."""
    helm, bow = crew.who("helm"), crew.who("bow")
    busy = {one.person for one in crew.duties}
    free = [one for one in stay.people if one.able and one.name not in busy]
    spare = [one.name for one in free if "helm" in one.duties]
    to = spare[0] if spare else bow
    return None if helm is None or to is None or to == helm else Handover(helm, to)


def _plan(
    order: WhichFirst, chosen: Carried, lying: TenderPlace | None, handover: Handover | None
) -> Plan:
    line = next((one for one in chosen.crew.duties if one.duty == "line"), None)
    return Plan(
        carrier=chosen.carrier,
        lift=lying is not None and lying.lift,
        lifejacket=chosen.carrier == "rower",
        quiet=line is None or line.also == "helm",
        lines=len(order.order),
        seconds=sum(order.second),
        bow=len(order.after_proof) - sum(order.second),
        handed=handover is not None,
    )


def _basis(stay: Stay, there: _There, order: WhichFirst, chosen: Carried) -> Basis:
    said = Assumption(
        "She waits where she is to lie, or as far off as she is held, and keeps still while"
        " the lines go",
        "Every metre she is set while they go is a metre more to carry",
    )
    basis = Basis(assumptions=(said,)) | order.basis | chosen.crew.basis
    basis |= carries_basis(stay) | flaked_basis() | carried_basis()
    unknown = []
    if math.isnan(there.level_m):
        unknown.append(Finding("Lines to flake", "unknown: the water level is unknown then"))
    if math.isnan(there.wind_east_mps):
        unknown.append(Finding("Rowing", "how long it takes is unknown: the wind is unknown then"))
    return basis | Basis(findings=tuple(unknown))
