"""The load of a boat case as the rest solver takes it."""

from __future__ import annotations

from shorefast.app.verification.case_frame import turned_moment_nm
from shorefast.app.verification.case_types import FixedLoad, WindLoad
from shorefast.mooring import Load, WindForm
from shorefast.quantities import to_si

_NO_AIR = 1.0


def load_of(load: FixedLoad | WindLoad) -> Load:
    """The forces and the wind of a case; from_deg is a compass bearing in both frames."""
    if isinstance(load, FixedLoad):
        moment_nm = turned_moment_nm(load.moment_nm)
        return Load(load.east_n, load.north_n, moment_nm, 0.0, 0.0, _NO_AIR)
    from_rad = to_si(load.from_deg, "angle", "deg")
    return Load(0.0, 0.0, 0.0, load.speed_mps, from_rad, load.air_kgpm3)


def wind_form(load: FixedLoad | WindLoad) -> WindForm | None:
    """The vectors' simple wind as a case of ours: no cross force, a lever that swings.

    Theirs: side force to port times (lever0 - lever1 u_f), anticlockwise, with u_f
    the forward part of where the wind blows toward, which is minus the cosine of
    the wind off the bow. Both force and moment change sign in our frame, so the
    lever is lever0 + lever1 times that cosine. The length is 1 m: levers are metres.
    """
    if isinstance(load, FixedLoad):
        return None
    return WindForm(
        frontal_m2=load.frontal_m2,
        lateral_m2=load.lateral_m2,
        length_m=1.0,
        lever_m=load.lever_m,
        across=load.lateral_coefficient,
        ahead=load.frontal_coefficient,
        astern=load.frontal_coefficient,
        delta=0.0,
        turn=0.0,
        swing=load.lever_change_m,
    )
