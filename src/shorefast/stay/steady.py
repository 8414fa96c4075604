"""What pushes her beside the wind: current and waves, steady over the stay."""

from __future__ import annotations

import math
from typing import NamedTuple

from shorefast.basis import Assumption, Basis
from shorefast.mooring import AIR_KGPM3, Load, underbody, wave_push
from shorefast.stay.answer import WaveLoad
from shorefast.stay.by_fetch import SeaByFetch
from shorefast.stay.current import current_load
from shorefast.stay.outlines import hull_outline
from shorefast.stay.plan import Stay, Waves
from shorefast.stay.rigging import Rigged, lie_of


class Steady(NamedTuple):
    """The load beside the wind; the waves' part of it, None where none are told."""

    load: Load
    waves: WaveLoad | None
    basis: Basis


def steady_load(stay: Stay, rigged: Rigged, level_m: float) -> Steady:
    """Current and waves together, taken at the heading she is meant to lie at.

    How they change as she turns is left out. The waves push at their bound; what her own
    pitching adds, and the slow swing of wave groups, are left out.

    Raises
    ------
    OutsideModel
        For a current or waves outside their formulas.

    Source
    ------
    ufc-4-159-03 (current); maruo-1960; faltinsen-1990, ch. 5; ursell-1947 (waves).
    """
    current, current_basis = current_load(stay, rigged, level_m)
    waves = wave_load(stay)
    if waves is None:
        return Steady(current, None, current_basis)
    heading = lie_of(stay).heading_rad
    pushed = pushed_by(waves.forward_n, waves.starboard_n, waves.turning_nm, heading)
    load = current._replace(
        east_n=current.east_n + pushed.east_n,
        north_n=current.north_n + pushed.north_n,
        moment_npm=current.moment_npm + pushed.moment_npm,
    )
    return Steady(load, waves, current_basis | _basis(waves))


def pushed_by(forward_n: float, starboard_n: float, turning_nm: float, heading_rad: float) -> Load:
    """A force on board as a steady load east and north."""
    sine, cosine = math.sin(heading_rad), math.cos(heading_rad)
    east_n, north_n = (
        forward_n * sine + starboard_n * cosine,
        forward_n * cosine - starboard_n * sine,
    )
    return Load(east_n, north_n, turning_nm, 0.0, 0.0, AIR_KGPM3)


def wave_load(stay: Stay) -> WaveLoad | None:
    """The waves' mean push on her as she is meant to lie; None where there are none."""
    if stay.waves is None or stay.lie is None or stay.waves.height_m == 0.0:
        return None
    return _pushed(stay, stay.waves, stay.lie.heading_rad)


def _pushed(stay: Stay, sea: Waves, heading_rad: float) -> WaveLoad:
    hull = stay.boat.hull
    push = wave_push(
        (sea.height_m, sea.period_s),
        sea.from_rad - heading_rad,
        hull_outline(hull.waterline_m, hull.beam_m),
        hull.beam_m,
        underbody(hull).body_m,
    )
    return WaveLoad(
        float(push.forward_n),
        float(push.starboard_n),
        float(push.turning_nm),
        float(push.turned_back),
        math.hypot(float(push.least_forward_n), float(push.least_starboard_n)),
    )


def _basis(waves: WaveLoad) -> Basis:
    push_n = math.hypot(waves.forward_n, waves.starboard_n)
    said = Assumption(
        f"The waves push steadily with {push_n:.0f} N, the most they can: she turns back"
        f" {waves.turned_back:.0%} of their height over her whole width as they see her",
        f"By the form for short waves it is {waves.least_n:.0f} N; a group as high as the"
        " significant height pushes twice as hard while it passes",
    )
    sources = ("maruo-1960", "longuet-higgins-1977", "faltinsen-1990", "ursell-1947")
    return Basis(assumptions=(said,), sources=sources)


def sea_push_basis(ridden: Stay, sea: SeaByFetch | None) -> Basis:
    """How hard the highest waves by fetch push: told, and no part of the loads.

    Parameters
    ----------
    ridden : Stay
        With those waves as its own.
    """
    push = None if sea is None else wave_load(ridden)
    if push is None:
        return Basis()
    push_n = math.hypot(push.forward_n, push.starboard_n)
    said = Assumption(
        f"The waves the wind raises push with at most {push_n:.0f} N in their highest hour; that"
        " is left out of the loads",
        "Where it is a good part of the wind's force, tell the waves in [waves]: then it counts",
    )
    return Basis(assumptions=(said,), sources=("maruo-1960", "ursell-1947"))
