"""Ships heard by AIS that lie still near the bay, as neighbours."""

from __future__ import annotations

import math
from pathlib import Path

from shorefast.basis import Finding
from shorefast.bay import Frame
from shorefast.readers.ais_bits import AT_ANCHOR, MOORED, ShipSaid
from shorefast.readers.ais_log import read_ais_log
from shorefast.stay import Neighbour, scope_by_rule_m

UNDER_WAY_MPS = 0.5
"""Faster than this, and neither at anchor nor moored by her own word: she goes by."""
_LENGTH_M, _BEAM_M = 15.0, 4.5
"""Taken for a boat that does not say her size: our choice."""


def ships_near(
    path: Path, frame: Frame, within_m: float
) -> tuple[tuple[Neighbour, ...], tuple[Finding, ...]]:
    """The ships of a log that lie within a distance of the bay's origin. [m]

    A ship that is not moored by her own word is taken to ride to one anchor: ahead of
    her where she says her heading, else on any side.
    """
    log = read_ais_log(path)
    counted = dict(log.left_out)
    boats: list[Neighbour] = []
    findings: list[Finding] = []
    for _, heard in sorted(log.ships.items()):
        said = heard.said
        why = _not_near(said, frame, within_m)
        if why is not None:
            counted[why] = counted.get(why, 0) + 1
            continue
        boat, taken = _boat(said, frame, {one.name for one in boats})
        boats.append(boat)
        findings.append(Finding(path.name, f"{boat.name}: {taken}"))
    findings += [Finding(path.name, f"{n} left out: {why}") for why, n in counted.items() if n]
    return tuple(boats), tuple(findings)


def _not_near(said: ShipSaid, frame: Frame, within_m: float) -> str | None:
    """Why a ship is no neighbour; None where she is one."""
    if said.lat_deg is None or said.lon_deg is None:
        return "ships that never said where they are"
    east, north = frame.to_plane(said.lat_deg, said.lon_deg)
    if not math.hypot(float(east), float(north)) <= within_m:
        return f"ships farther than {within_m:g} m from the bay's origin"
    if said.status not in (AT_ANCHOR, MOORED) and (said.speed_mps or 0.0) > UNDER_WAY_MPS:
        return "ships under way"
    return None


def _boat(said: ShipSaid, frame: Frame, names: set[str]) -> tuple[Neighbour, str]:
    """A neighbour, and in words what was taken of her beside what she said."""
    east, north = (float(one) for one in frame.to_plane(said.lat_deg or 0.0, said.lon_deg or 0.0))
    length_m, beam_m = _size(said)
    forward_m, right_m, off_m = _middle(said)
    sine, cosine = math.sin(said.heading_rad or 0.0), math.cos(said.heading_rad or 0.0)
    taken = [] if said.sides_m else [f"size unknown, taken as {length_m:g} m by {beam_m:g} m"]
    swing_m = off_m
    if said.heading_rad is None:
        # a hull turned any way about her antenna lies within that of one that heads north
        swing_m += 0.5 * (length_m - beam_m) + 2.0 * math.hypot(forward_m, right_m)
        taken.append("heading unknown, room for any")
    scope_m = None if said.status == MOORED else scope_by_rule_m(length_m)
    taken.append("moored" if scope_m is None else _rides(said, scope_m))
    boat = Neighbour(
        _name(said, names),
        east + forward_m * sine + right_m * cosine,
        north + forward_m * cosine - right_m * sine,
        length_m, beam_m, said.heading_rad or 0.0, swing_m, scope_m, said.heading_rad,
    )  # fmt: skip
    return boat, "; ".join(taken)


def _rides(said: ShipSaid, scope_m: float) -> str:
    where = "on any side of her" if said.heading_rad is None else "ahead of her"
    return f"taken to ride to one anchor {scope_m:.0f} m {where}"


def _name(said: ShipSaid, names: set[str]) -> str:
    number = f"MMSI {said.mmsi:09d}"
    if said.name is None:
        return number
    return f"{said.name} ({number})" if said.name in names else said.name


def _size(said: ShipSaid) -> tuple[float, float]:
    if said.sides_m is None:
        return _LENGTH_M, _BEAM_M
    ahead, astern, port, starboard = said.sides_m
    length_m = max(ahead + astern, 1.0)
    return length_m, min(port + starboard, 0.8 * length_m)


def _middle(said: ShipSaid) -> tuple[float, float, float]:
    """Her middle forward and to starboard of the antenna, and how far it may be off. [m]

    Nothing ahead and nothing to port of it means that only her size is known.
    """
    length_m, _ = _size(said)
    if said.sides_m is None or (said.sides_m[0] == 0.0 and said.sides_m[2] == 0.0):
        return 0.0, 0.0, 0.5 * length_m
    ahead, astern, port, starboard = said.sides_m
    return 0.5 * (ahead - astern), 0.5 * (starboard - port), 0.0
