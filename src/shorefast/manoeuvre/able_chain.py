"""What her chain can do: the pull before the shank lifts, the chain a wind asks for."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from shorefast.boat import Yacht
from shorefast.errors import BadInput
from shorefast.manoeuvre.able_kinds import (
    ALL_OUT,
    LESS_OUT,
    NO_ROOM,
    TOO_DEEP,
    ChainNeeded,
    ChainPulls,
    Floats,
    WindRange,
)
from shorefast.mooring import AIR_KGPM3, lift_off, wind_force
from shorefast.stay import (
    LEAST_WATER_M,
    SMALL_PULL_N,
    Doubts,
    equal_winds_mps,
    height_share,
    rode_segments,
    wind_form,
)

RESERVE_M = 5.0
"""Rode that stays inboard, on the windlass and at the bitter end: common practice, no source."""
CHAIN_DOUBT = 0.03
"""How far a chain's weight may be off the table's: our estimate."""
_DEEPEST_M = 100.0


def usable_m(boat: Yacht) -> float:
    """All that may go out. [m]

    Raises
    ------
    BadInput
        Where no more is aboard than stays inboard.
    """
    usable = boat.rode_aboard_m - RESERVE_M
    if usable < 1.0:
        raise BadInput(
            f"{boat.name}, rode",
            f"{boat.rode_aboard_m:g} m aboard",
            f"{RESERVE_M:g} m of it stay inboard",
            "Add the missing length to the boat file.",
        )
    return usable


def force_doubt(boat: Yacht) -> float:
    """How far the wind's force on her may be off, one standard deviation, as a share."""
    return max(boat.windage.deviation, Doubts().windage_log)


def wind_shares(boat: Yacht) -> tuple[float, float]:
    """The least and the most wind over the one reckoned, chain and windage out to one side."""
    doubt = force_doubt(boat)
    low = math.sqrt((1.0 - CHAIN_DOUBT) / (1.0 + doubt))
    return low, math.sqrt((1.0 + CHAIN_DOUBT) / (1.0 - doubt))


def winds_of(boat: Yacht, pull_n: Floats, off_bow_rad: float) -> WindRange:
    """The winds that pull as hard, the doubt of chain and windage both to one side."""
    form, share = wind_form(boat.windage, boat.hull.length_m), height_share(boat.windage.height_m)
    nominal = equal_winds_mps(form, share, pull_n, off_bow_rad)
    low, high = wind_shares(boat)
    return WindRange(nominal, low * nominal, high * nominal)


def wind_pulls_n(boat: Yacht, wind_mps: Floats, off_bow_rad: float) -> Floats:
    """Force on the free boat of steady winds at 10 m. [N]"""
    form = wind_form(boat.windage, boat.hull.length_m)
    fx, fy, _ = wind_force(form, 1.0, off_bow_rad, AIR_KGPM3)
    felt_mps = height_share(boat.windage.height_m) * np.asarray(wind_mps, float)
    return np.asarray(math.hypot(fx, fy) * felt_mps**2)


def water_left_m(boat: Yacht, depth_m: Floats, slope_rad: Floats, distance_m: Floats) -> Floats:
    """Least water under keel and rudder, her bow toward the anchor, arrays broadcast. [m]

    Parameters
    ----------
    depth_m, slope_rad : arrays
        Where the anchor lies; of the bed from there toward her.
    distance_m : array
        Level, from the anchor to the roller.
    """
    parts = [(one.x_m, 0.5 * one.length_m, one.draught_m) for one in boat.underwater]
    parts = parts or [(0.0, 0.0, boat.hull.draught_m)]
    ends = [(x_m + half_m * end, down_m) for x_m, half_m, down_m in parts for end in (-1.0, 1.0)]
    rises = np.tan(slope_rad)
    left = [depth_m - rises * (distance_m + boat.roller.x_m - x) - down for x, down in ends]
    return np.asarray(np.minimum.reduce(left))


@dataclass(frozen=True)
class LiftTable:
    """Pulls at which the shank begins to lift, arrays (length, depth, slope).

    out_m (length,), depth_m (depth,), slope_rad (slope,); pull_n 0 where it cannot lie,
    infinite where none lifts it; left_m : water under her then, less what she keeps at least
    """

    out_m: Floats
    depth_m: Floats
    slope_rad: Floats
    pull_n: Floats
    left_m: Floats

    @property
    def afloat(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Whether she keeps her least water; not where she would be up the beach."""
        return np.asarray(self.left_m >= 0.0)


def lift_table(boat: Yacht, out_m: Floats, depth_m: Floats, slope_rad: Floats) -> LiftTable:
    """The table for lengths out, depths and slopes; her snubber set where it can be.

    Raises
    ------
    BadInput
        For more than is aboard.
    """
    depth, slope = depth_m[:, None], slope_rad[None, :]
    pulls, left = [], []
    for one_m in out_m.tolist():
        pull, left_m = _lifts(boat, one_m, depth, slope)
        pulls.append(pull)
        left.append(left_m)
    return LiftTable(out_m, depth_m, slope_rad, np.stack(pulls), np.stack(left))


def _lifts(boat: Yacht, out_m: float, depth_m: Floats, slope_rad: Floats) -> tuple[Floats, Floats]:
    """Pull before the shank lifts, and the water she then has beyond what she keeps."""
    segments = rode_segments(boat, out_m)
    pull, distance = lift_off(segments, slope_rad, depth_m + boat.roller.z_m)
    return pull, water_left_m(boat, depth_m, slope_rad, distance) - LEAST_WATER_M


def whole_table(boat: Yacht, depth_m: Floats, slope_rad: Floats) -> LiftTable:
    """The table for every whole metre of rode up to all that may go out, that last."""
    most_m = usable_m(boat)
    whole = np.arange(1.0, math.floor(most_m) + 0.5)
    lengths = whole if whole[-1] == most_m else np.append(whole, most_m)
    return lift_table(boat, lengths, depth_m, slope_rad)


def depths_for(boat: Yacht, asked_m: Floats) -> Floats:
    """Every metre of depth her rode can reach at all, and those asked. [m]"""
    every = np.arange(2.0, min(_DEEPEST_M, max(usable_m(boat), 3.0)) + 0.5)
    return np.union1d(every, asked_m)


def all_out(boat: Yacht, table: LiftTable) -> ChainPulls:
    """The greatest pull of all lengths with which she keeps her least water."""
    return _pulls(boat, table, None)


def asked_out(boat: Yacht, out_m: float, depth_m: Floats, slope_rad: Floats) -> ChainPulls:
    """The same with just so much out.

    Raises
    ------
    BadInput
        For more than is aboard, or none.
    """
    if not out_m > 0.0:
        raise BadInput(
            "--chain-out", f"{out_m:g} m", "more than 0 wanted", "Give what is out in metres."
        )
    return _pulls(boat, lift_table(boat, np.array([out_m]), depth_m, slope_rad), out_m)


def _pulls(boat: Yacht, table: LiftTable, asked_m: float | None) -> ChainPulls:
    """The best length at every depth and slope; what less than one hand lifts counts as none."""
    fits = np.where(table.afloat, table.pull_n, 0.0)
    best = fits.argmax(axis=0)
    pull, out = np.take_along_axis(fits, best[None], axis=0)[0], table.out_m[best]
    less = best < len(table.out_m) - 1
    for d, k in zip(*np.nonzero(less & (pull > 0.0)), strict=True):
        out[d, k] = _just_afloat_m(table, int(best[d, k]), (d, k))
        at = (table.depth_m[d : d + 1], table.slope_rad[k : k + 1])
        pull[d, k] = _lifts(boat, float(out[d, k]), *at)[0][0]
    none = pull < SMALL_PULL_N
    lies = (table.pull_n >= SMALL_PULL_N).any(axis=0)
    why = np.where(less, LESS_OUT, ALL_OUT)
    why = np.where(none, np.where(lies, NO_ROOM, TOO_DEEP), why)
    pull = np.where(none, np.nan, pull)
    return ChainPulls(
        asked_m, table.depth_m, table.slope_rad, pull, np.where(none, np.nan, out),
        tuple(tuple(str(one) for one in row) for row in why),
        winds_of(boat, pull, 0.0), winds_of(boat, pull, 0.5 * math.pi),
    )  # fmt: skip


def _just_afloat_m(table: LiftTable, length: int, at: tuple[int, int]) -> float:
    """The length with which just her least water is left, past one with which more is. [m]"""
    out_m, next_m = table.out_m[length : length + 2].tolist()
    left, after = table.left_m[length : length + 2, *at].tolist()
    # a longer one with more water is no longer pulled to the shore
    share = left / (left - after) if after < 0.0 else 0.0
    return float(out_m + (next_m - out_m) * share)


def at_depths(whole: ChainPulls, depth_m: Floats) -> ChainPulls:
    """The rows of some depths of a table that has them."""
    rows = np.searchsorted(whole.depth_m, depth_m)

    def cut(winds: WindRange) -> WindRange:
        return WindRange(winds.nominal_mps[rows], winds.low_mps[rows], winds.high_mps[rows])

    return ChainPulls(
        whole.asked_m, whole.depth_m[rows], whole.slope_rad, whole.pull_n[rows],
        whole.out_m[rows], tuple(whole.why[row] for row in rows.tolist()),
        cut(whole.ahead), cut(whole.abeam),
    )  # fmt: skip


def deepest_m(curve: ChainPulls, pull_n: Floats) -> Floats:
    """The deepest water in which the shank stays down under a pull, (slope, pull). [m]

    Between two depths straight; NaN where it does at none.
    """
    held = np.nan_to_num(curve.pull_n, nan=0.0)
    out = np.full((held.shape[1], len(pull_n)), np.nan)
    for k, column in enumerate(held.T):
        for i, pull in enumerate(pull_n.tolist()):
            rows = np.flatnonzero(column >= pull)
            if rows.size:
                out[k, i] = _between(curve.depth_m, column, int(rows[-1]), pull)
    return out


def _between(depth_m: Floats, held_n: Floats, row: int, pull_n: float) -> float:
    if row == len(held_n) - 1:
        return float(depth_m[row])
    share = (held_n[row] - pull_n) / (held_n[row] - held_n[row + 1])
    return float(depth_m[row] + share * (depth_m[row + 1] - depth_m[row]))


def needed_out(
    boat: Yacht, table: LiftTable, curve: ChainPulls, depth_m: Floats, wind_mps: Floats
) -> ChainNeeded:
    """The least rode that keeps the shank down in winds ahead, depth by depth."""
    pull_n = wind_pulls_n(boat, wind_mps, 0.0)
    rows = np.searchsorted(table.depth_m, depth_m)
    holds = table.pull_n[:, rows, :][..., None] >= pull_n
    first = holds.argmax(axis=0)
    found = holds.any(axis=0)
    floats = np.take_along_axis(table.afloat[:, rows, :][..., None], first[None], axis=0)[0]
    out = np.where(found, np.where(floats, table.out_m[first], np.nan), np.inf)
    return ChainNeeded(
        np.asarray(wind_mps, float), pull_n, depth_m, table.slope_rad, out,
        deepest_m(curve, pull_n),
    )  # fmt: skip
