"""What this boat can do, as an answer: her chain, engine, lines, windlass and leeway."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Basis

Floats = NDArray[np.float64]

ALL_OUT, LESS_OUT, TOO_DEEP, NO_ROOM = "all out", "less out", "too deep", "no room"


@dataclass(frozen=True)
class WindRange:
    """Steady winds at 10 m, arrays of one shape: as reckoned, at the least, at the most. [m/s]"""

    nominal_mps: Floats
    low_mps: Floats
    high_mps: Floats


@dataclass(frozen=True)
class ChainPulls:
    """Greatest steady pull before the shank lifts, arrays (depth, slope).

    Attributes
    ----------
    asked_m : float or None
        So much is out, in all of it; None: as much as may go out and leaves her water. [m]
    depth_m : array (depth,)
        Of the water where the anchor lies. [m]
    slope_rad : array (slope,)
        Of the bed from the anchor toward her: above 0 it comes up, she is pulled up-slope.
    pull_n : array
        Level pull at the roller; NaN where ``why`` says there is none. [N]
    out_m : array
        How much is out. [m]
    why : rows (depth) of words (slope)
        ``ALL_OUT``; ``LESS_OUT``: with more she would touch before the shank lifts;
        ``TOO_DEEP``: a hand's pull lifts the shank; ``NO_ROOM``: so it does with as much as
        leaves her water.
    ahead, abeam : WindRange
        The winds on the free boat that pull as hard, on the bow and square to her.
    """

    asked_m: float | None
    depth_m: Floats
    slope_rad: Floats
    pull_n: Floats
    out_m: Floats
    why: tuple[tuple[str, ...], ...]
    ahead: WindRange
    abeam: WindRange


@dataclass(frozen=True)
class ChainNeeded:
    """Rode out that keeps the shank down in a wind ahead.

    Attributes
    ----------
    wind_mps, pull_n : arrays (wind,)
        Steady, at 10 m; its pull on her. [m/s, N]
    depth_m, slope_rad : arrays (depth,), (slope,)
    out_m : array (depth, slope, wind)
        In whole metres; infinite: more than may go out, NaN: she would touch. [m]
    too_deep_m : array (slope, wind)
        Deeper than this all of it does not; NaN where it does nowhere. [m]
    """

    wind_mps: Floats
    pull_n: Floats
    depth_m: Floats
    slope_rad: Floats
    out_m: Floats
    too_deep_m: Floats


@dataclass(frozen=True)
class EnginePulls:
    """What the engine pulls standing still, each (as reckoned, least, most). [N]

    ahead, abeam : the winds that pull as hard as she does astern, arrays (3,)
    keeps_down_m : array (slope, 3), the deepest water in which the pull astern does not
        lift the shank with all that may go out; NaN where it does everywhere. [m]
    source : who says what she pulls astern
    """

    ahead_n: Floats
    astern_n: Floats
    ahead: WindRange
    abeam: WindRange
    keeps_down_m: Floats
    source: str


@dataclass(frozen=True)
class LineSpan:
    """How far from the points her stern can lie, lines led so far off straight astern.

    line, length_m : the line that decides; led_rad : off straight astern
    single_m, doubled_m : her stern to the points, along her; below 0 never: 0. [m]
    """

    line: str
    length_m: float
    led_rad: float
    single_m: float
    doubled_m: float


@dataclass(frozen=True)
class Heaving:
    """What the windlass can do; NaN where her file does not tell.

    Attributes
    ----------
    depth_m : array (depth,)
    hanging_n : array (depth,)
        Anchor and rode straight up and down, the anchor just off the bed. [N]
    pull_n, heave_mps, veer_mps : float
        As the boat file has them. [N, m/s]
    lifts_from_m : float
        The deepest water from which it lifts that dead weight. [m]
    all_m, heave_all_s, veer_all_s : float
        All that may go out, the time to heave and to veer it. [m, s]
    up_s : array (depth,)
        From up and down to the roller. [s]
    """

    depth_m: Floats
    hanging_n: Floats
    pull_n: float
    heave_mps: float
    veer_mps: float
    lifts_from_m: float
    all_m: float
    heave_all_s: float
    veer_all_s: float
    up_s: Floats


@dataclass(frozen=True)
class Falls:
    """Time from letting go to the bottom, arrays (depth,); NaN unknown. [s]

    motor_s : veered by the windlass; free_low_s, free_high_s : run free, at the least and
    at the most.
    """

    depth_m: Floats
    motor_s: Floats
    free_low_s: Floats
    free_high_s: Floats


@dataclass(frozen=True)
class Leeway:
    """Her drift beam-on with bare masts, through the water, arrays (wind,). [m/s]

    printed_mps, scatter_mps : what the published table has for such yachts, and one
    standard deviation of it.
    """

    wind_mps: Floats
    speed_mps: Floats
    low_mps: Floats
    high_mps: Floats
    printed_mps: Floats
    scatter_mps: float


@dataclass(frozen=True)
class Able:
    """What a boat can do.

    aboard_m, reserve_m : all of her rode; what of it stays inboard [m]
    roller_m : the roller above the water [m]
    wind_doubt : by how much the winds it equals may be out, as a share
    chain : for all that may go out, then for each length asked
    curve : the first of these for every metre of depth
    engine, lines : None, empty: her file tells of none
    """

    name: str
    aboard_m: float
    reserve_m: float
    roller_m: float
    wind_doubt: float
    chain: tuple[ChainPulls, ...]
    curve: ChainPulls
    needed: ChainNeeded
    engine: EnginePulls | None
    lines: tuple[LineSpan, ...]
    heaving: Heaving
    falls: Falls
    leeway: Leeway
    basis: Basis
