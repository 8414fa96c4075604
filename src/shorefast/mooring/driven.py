"""How a yacht moves under engine, from her file: propeller, rudder, keel, hull."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from shorefast.boat import SHAFT_SHARE, Yacht, ahead_share, astern_pull, static_thrust_n
from shorefast.errors import BadInput
from shorefast.mooring.current_force import SIDE_DRAG, along_force
from shorefast.mooring.handled_forces import Blade, Driven
from shorefast.mooring.natural import SURGE_SHARE, inertia
from shorefast.mooring.weighed_body import weighed_underbody
from shorefast.mooring.wind_load import WATER_KGPM3, WindForm

# where nobody tells: common practice, no source
RUDDER_SHARE, MOST_HELM_RAD, WALK_SHARE = 0.04, math.radians(35.0), 0.08
_HELM_RADPS, _REVS_S, _STRIPS = math.radians(12.0), 2.0, 6
# a blade's greatest force: moving with its thick edge first, and last
_MOST_AHEAD, _MOST_ASTERN, _KEEL_MOST = 1.2, 0.8, 0.9
# of the race, what meets the rudder: it stands in half of it, not yet drawn together
_RACED = 0.5
# of the hull's own speed for its length, at which full revs push no more: it slips by 40 in
# 100 at that speed, common practice, no source
_FREE_AHEAD, _FREE_ASTERN = 1.6, 1.1
_HULL_SPEED = 0.4
# how much of the turning of a body in a flow that clings to it is left where it parts from her
# stern: our choice
_MUNK = 0.5


def blade_slope(aspect: float) -> float:
    """Lift of a short blade for a radian of angle, straight along its quarter line.

    Parameters
    ----------
    aspect : float
        Span over chord, twice that where one end is closed by the hull.

    Source
    ------
    whicker-fehlner-1958 (from memory): 1.8 pi a / (1.8 + sqrt(a2 + 4)).
    """
    return 1.8 * math.pi * aspect / (1.8 + math.sqrt(aspect * aspect + 4.0))


def driven_of(boat: Yacht, form: WindForm) -> Driven:
    """How a yacht moves under engine, as far as her file tells; else by common practice.

    Parameters
    ----------
    boat : Yacht
    form : WindForm

    Raises
    ------
    BadInput
        For a boat without an engine.

    Source
    ------
    fossen-2021, ch. 6; whicker-fehlner-1958; gerr-propeller; actuator-disc (all from memory
    but the thrust formula); shares where nobody tells: common practice, no source.
    """
    engine = boat.engine
    if engine is None:
        raise BadInput(
            boat.name,
            "no [engine]",
            "this question is about her under engine",
            "Add [engine] with power and propeller to the boat file.",
        )
    body = weighed_underbody(boat.hull, boat.engine)
    moved = inertia(body)
    hull_kg = math.pi / 3.0 * WATER_KGPM3 * body.body_m**2 * body.waterline_m
    per_m2 = 0.5 * WATER_KGPM3 * SIDE_DRAG
    place_m = body.waterline_m * ((np.arange(_STRIPS) + 0.5) / _STRIPS - 0.5)
    each = np.full(_STRIPS, per_m2 * body.waterline_m * body.body_m / _STRIPS)
    free_mps = _HULL_SPEED * math.sqrt(9.80665 * body.waterline_m)
    disc_m2 = 0.25 * math.pi * engine.propeller_diameter_m**2
    rudder = _rudder(boat)
    walk = {"port": -WALK_SHARE, "starboard": WALK_SHARE}.get(engine.walks_astern or "", 0.0)
    ahead_n = ahead_share(engine.propeller) * static_thrust_n(
        SHAFT_SHARE * engine.power_w, engine.propeller_diameter_m
    )
    thruster = boat.thruster
    return Driven(
        moved.surge_kg, moved.sway_kg, moved.yaw_kgm2,
        _MUNK * max(0.0, hull_kg - SURGE_SHARE * body.displacement_kg),
        # her propeller turns: it is no drag of its own
        float(along_force(replace(body, propeller_m2=0.0), 1.0, 0.0).whole_n),
        np.ascontiguousarray(np.stack([place_m, each], axis=-1)),
        _keel(boat, rudder), rudder,
        ahead_n, astern_pull(engine).nominal_n,
        _FREE_AHEAD * free_mps, _FREE_ASTERN * free_mps,
        walk, rudder.x_m + 0.1 * body.waterline_m,
        _RACED * 2.0 / (WATER_KGPM3 * disc_m2),
        0.0 if thruster is None else thruster.push_n,
        0.0 if thruster is None else thruster.x_m,
        _most_helm_rad(boat), _HELM_RADPS, _REVS_S, form,
    )  # fmt: skip


def _most_helm_rad(boat: Yacht) -> float:
    return MOST_HELM_RAD if boat.rudder is None else boat.rudder.most_rad


def _rudder(boat: Yacht) -> Blade:
    """The rudder as told, else by a share of waterline times draught where it stands."""
    hull = boat.hull
    told = next((part for part in boat.underwater if part.name == "rudder"), None)
    x_m = -0.45 * hull.waterline_m if told is None else told.x_m
    area_m2 = RUDDER_SHARE * hull.waterline_m * hull.draught_m
    if boat.rudder is not None:
        x_m, area_m2 = boat.rudder.x_m, boat.rudder.area_m2
    deep_m = 0.7 * (hull.draught_m if told is None else told.draught_m)
    slope = blade_slope(2.0 * deep_m**2 / area_m2)
    return Blade(x_m, 0.5 * WATER_KGPM3 * area_m2, slope, 1.0, _MOST_AHEAD, _MOST_ASTERN)


def _keel(boat: Yacht, rudder: Blade) -> Blade:
    body = weighed_underbody(boat.hull, boat.engine)
    area_m2 = max(0.2 * body.keel_m2, body.keel_m2 - rudder.per / (0.5 * WATER_KGPM3))
    deep_m = body.draught_m - body.body_m
    told = next((part for part in boat.underwater if part.name == "keel"), None)
    x_m = body.keel_x_m if told is None else told.x_m
    slope = blade_slope(2.0 * deep_m**2 / area_m2)
    return Blade(x_m, 0.5 * WATER_KGPM3 * area_m2, slope, SIDE_DRAG, _KEEL_MOST, _KEEL_MOST)
