"""How fast she is handled: the approach worked out, one whole arrival moved through in time."""

from __future__ import annotations

from collections.abc import Sequence

from measures.commands import NOTCH
from measures.figure import Figure, best_s, measured

from shorefast.manoeuvre import approach, come_in
from shorefast.readers import read_stay


def handling_speed() -> Sequence[Figure]:
    """The notch's approach, and one arrival to lying still, beside the time it takes at sea."""
    stay = read_stay(NOTCH / "stay.toml")
    found = approach(stay)
    arrival = found.way.arrival
    wind = arrival.felt_mps(arrival.wind.mean_mps), arrival.wind.from_rad
    lines_s = tuple((number + 1, 60.0) for number in range(len(arrival.rigged.legs)))
    came = come_in(found.way, lambda _t_s: wind, lines_s)
    at_sea_s = float(came.track[-1, 0])
    took_s = best_s(lambda: come_in(found.way, lambda _t_s: wind, lines_s))
    return (
        measured("approach", best_s(lambda: approach(stay)), "s", "< 2"),
        measured("arrival-in-time", took_s, "s", "< 1", ("the same at sea", at_sea_s)),
    )
