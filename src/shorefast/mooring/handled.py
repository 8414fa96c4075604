"""A yacht handled under engine: helm, throttle, thruster, chain and lines, in time.

What the crew orders, and what she does with it. The same wind form, chain and lines as at
rest; a rudder and keel that lift, a propeller, and the water that goes with her.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from shorefast.basis import Assumption, Basis
from shorefast.errors import BadInput
from shorefast.mooring.handled_balance import astern_in_balance
from shorefast.mooring.handled_forces import (
    S_AHEAD,
    S_ANCHOR,
    S_ASIDE,
    S_CHAIN,
    S_EAST,
    S_HEADING,
    S_MOVED,
    S_NORTH,
    S_PUSH,
    S_REVS,
    S_RUDDER,
    S_TURN,
    STATE_COLUMNS,
    Air,
    Driven,
    driven_forces,
)
from shorefast.mooring.handled_steps import (
    C_DOWN,
    C_LYING,
    C_PULL,
    C_SHANK,
    LIES,
    O_HELM,
    O_PUSH,
    O_REVS,
    O_VEER,
    ORDER_COLUMNS,
    RODE_COLUMNS,
    Tackle,
    handle_for,
)
from shorefast.mooring.scene import GridBed, PlaneBed, RodeLine, Scene, packed
from shorefast.mooring.shapes import Floats
from shorefast.mooring.wind_load import AIR_KGPM3

HANDLED_STEP_S = 0.05
_WINDLASS_MPS, _FAR_M = 0.25, 5000.0
HAND_N = 250.0
HANDLED_BASIS = Basis(
    assumptions=(
        Assumption(
            "She moves in the plane: heel, trim, shallow water and waves are left out",
            "Near the bottom and in a chop she steers worse and stops later",
        ),
        Assumption(
            "Rudder and keel lift as short blades do, up to a stall; astern less; the race"
            " meets half of the rudder, and only ahead",
            "A skeg, twin rudders or a long keel answer otherwise: try her astern first",
        ),
        Assumption(
            "The chain hangs at every moment as it would at rest; the anchor sinks under the"
            " roller and holds where it comes down",
            "A chain that is still falling pulls less; an anchor digs in over its own length"
            " or two",
        ),
    ),
    sources=("fossen-2021", "whicker-fehlner-1958", "gerr-propeller", "actuator-disc"),
)


@dataclass(frozen=True)
class Orders:
    """What the crew has ordered, until they order something else.

    helm_rad : above 0 to starboard, as the wheel; revs : share of full, below 0 astern
    push : thruster, above 0 the bow to starboard, share of full
    veer_mps : chain out, below 0 in [m/s]; take_in_mps : by each line, below 0 paid out
    """

    helm_rad: float = 0.0
    revs: float = 0.0
    push: float = 0.0
    veer_mps: float = 0.0
    take_in_mps: tuple[float, ...] = ()


@dataclass(frozen=True)
class Breeze:
    """The wind at the height of her windage [m/s], where it comes from; the water's level [m]."""

    wind_mps: float
    from_rad: float
    level_m: float = 0.0


class Lying(NamedTuple):
    """How she is at one moment.

    east_m, north_m, heading_rad; ahead_mps, aside_mps, turn_radps through the water
    helm_rad, revs : as they are; chain_m out
    anchor : "stowed", "hangs" or "lies"; anchor_m : (east, north) of it; moved_m : how far it
    gave way in all
    pull_n, down_n : of the rode at the roller; lying_m of it on the bottom; shank_n at the
    anchor; tension_n : of each line, the rode first
    """

    east_m: float
    north_m: float
    heading_rad: float
    ahead_mps: float
    aside_mps: float
    turn_radps: float
    helm_rad: float
    revs: float
    chain_m: float
    anchor: str
    anchor_m: tuple[float, float]
    moved_m: float
    pull_n: float
    down_n: float
    lying_m: float
    shank_n: float
    tension_n: tuple[float, ...]

    @property
    def angle_rad(self) -> float:
        """The chain's angle at the roller, below the horizontal."""
        return 0.5 * math.pi if self.pull_n <= 0.0 else math.atan2(self.down_n, self.pull_n)

    @property
    def q(self) -> Floats:
        """East, north, heading."""
        return np.array([self.east_m, self.north_m, self.heading_rad])


@dataclass
class Handled:
    """A yacht under way, with chain and lines; what is ordered changes her in place.

    Parameters
    ----------
    scene : Scene
        Its first line the rode with all that is aboard, the lines ashore after it.
    driven : Driven
    windlass_mps : (veering, heaving) [m/s]; windlass_n : what it can heave [N]
    holding_n : pull at the shank at which the anchor gives way [N]
    hand_n : array (line,), against how much each line can be taken in [N]

    Raises
    ------
    BadInput
        For a scene that does not begin with a rode.
    """

    scene: Scene
    driven: Driven
    windlass_mps: tuple[float, float] = (_WINDLASS_MPS, _WINDLASS_MPS)
    windlass_n: float = math.inf
    holding_n: float = math.inf
    hand_n: Floats | None = None
    step_s: float = HANDLED_STEP_S
    t_s: float = field(default=0.0, init=False)

    def __post_init__(self) -> None:
        if not self.scene.lines or not isinstance(self.scene.lines[0], RodeLine):
            raise BadInput("Scene", "no rode first", "a rode and lines ashore wanted", "Add it.")
        lines = packed(_on_grid(self.scene))
        self._lines = lines._replace(
            east_m=lines.east_m.copy(), north_m=lines.north_m.copy(),
            length_m=lines.length_m.copy(), piece_cum=lines.piece_cum.copy(),
        )  # fmt: skip
        count = len(self.scene.lines)
        self.state = np.zeros(STATE_COLUMNS)
        self._on, self._rode = np.zeros(count), np.zeros(RODE_COLUMNS)
        self._tension = np.zeros(count)
        if self.hand_n is None:
            self.hand_n = np.full(count, HAND_N)

    @property
    def aboard_m(self) -> float:
        """All of the rode. [m]"""
        return float(self._lines.piece_cum[self._lines.last[0] - 1])

    def put(
        self, east_m: float, north_m: float, heading_rad: float, ahead_mps: float = 0.0
    ) -> None:
        """Begin here, with way on her; what is out stays out."""
        self.state[S_EAST], self.state[S_NORTH], self.state[S_HEADING] = (
            east_m,
            north_m,
            heading_rad,
        )
        self.state[S_AHEAD] = ahead_mps

    def anchored(self, east_m: float, north_m: float, chain_m: float) -> None:
        """Begin with the anchor lying there and so much chain out."""
        self._lines.east_m[0], self._lines.north_m[0] = east_m, north_m
        self.state[S_ANCHOR], self.state[S_CHAIN] = LIES, chain_m
        self._rode[:] = 0.0

    def make_fast(self, number: int, length_m: float) -> None:
        """Line ``number`` (1 the first ashore) is fast at both ends, so long unstretched. [m]"""
        self._on[number] = 1.0
        self._lines.piece_cum[self._lines.first[number]] = length_m
        self._lines.length_m[number] = length_m

    def let_go(self, number: int) -> None:
        """Line ``number`` is gone."""
        self._on[number], self._tension[number] = 0.0, 0.0

    def length_m(self, number: int) -> float:
        """How long line ``number`` is now, unstretched. [m]"""
        return float(self._lines.piece_cum[self._lines.first[number]])

    def is_fast(self, number: int) -> bool:
        """Whether line ``number`` is fast at both ends."""
        return bool(self._on[number])

    def span_m(self, number: int) -> float:
        """Level distance from the cleat of line ``number`` to its point, now. [m]"""
        line, (east, north, psi) = self._lines, self.state[:3]
        x, y = line.x_m[number], line.y_m[number]
        de = line.east_m[number] - east - x * math.sin(psi) - y * math.cos(psi)
        dn = line.north_m[number] - north - x * math.cos(psi) + y * math.sin(psi)
        return math.hypot(de, dn)

    def on_for(self, for_s: float, orders: Orders, breeze: Breeze) -> None:
        """Move her on for a while under the same orders and wind. [s]"""
        steps = max(1, round(for_s / self.step_s))
        order = np.zeros(ORDER_COLUMNS + len(self.scene.lines) - 1)
        order[O_HELM], order[O_REVS] = orders.helm_rad, orders.revs
        order[O_PUSH], order[O_VEER] = orders.push, orders.veer_mps
        if orders.take_in_mps:
            order[ORDER_COLUMNS : ORDER_COLUMNS + len(orders.take_in_mps)] = orders.take_in_mps
        veer, heave = self.windlass_mps
        tackle = Tackle(
            self._lines, self._on, self._rode, self._tension,
            veer, heave, self.windlass_n, self.holding_n, breeze.level_m,
        )  # fmt: skip
        air = Air(breeze.wind_mps, breeze.from_rad, AIR_KGPM3)
        assert self.hand_n is not None
        handle_for(self.driven, tackle, self.state, order, self.hand_n, air, steps, self.step_s)
        self.t_s += steps * self.step_s

    @property
    def lying(self) -> Lying:
        """How she is."""
        s, rode = self.state.tolist(), self._rode.tolist()
        anchor = ("stowed", "hangs", "lies")[int(s[S_ANCHOR])]
        return Lying(
            s[S_EAST], s[S_NORTH], s[S_HEADING], s[S_AHEAD], s[S_ASIDE], s[S_TURN],
            s[S_RUDDER], s[S_REVS], s[S_CHAIN],
            anchor, (float(self._lines.east_m[0]), float(self._lines.north_m[0])),
            s[S_MOVED], rode[C_PULL], rode[C_DOWN], rode[C_LYING], rode[C_SHANK],
            tuple(self._tension.tolist()),
        )  # fmt: skip


def _on_grid(scene: Scene) -> Scene:
    """The scene with a plane under its rode told as a grid: the anchor may lie elsewhere."""
    rode = scene.lines[0]
    if not isinstance(rode, RodeLine) or not isinstance(rode.bed, PlaneBed):
        return scene
    bed = rode.bed
    corner = np.array([-_FAR_M, _FAR_M])
    level = bed.level_at_anchor_m + bed.rise_east * corner + bed.rise_north * corner[:, None]
    grid = GridBed(rode.east_m - _FAR_M, rode.north_m - _FAR_M, 2.0 * _FAR_M, level)
    return replace(scene, lines=(replace(rode, bed=grid), *scene.lines[1:]))


def forces_driven(
    driven: Driven, breeze: Breeze, motion: tuple[float, float, float], orders: Orders
) -> tuple[float, float, float]:
    """Forward, starboard and turning force on her heading north, no chain, no lines.

    Parameters
    ----------
    motion : speeds ahead, to starboard [m/s], turn [rad/s] through the water
    orders : Orders
        Helm, revs and thruster as they stand.
    """
    state = np.zeros(STATE_COLUMNS)
    state[S_AHEAD], state[S_ASIDE], state[S_TURN] = motion
    state[S_RUDDER], state[S_REVS], state[S_PUSH] = orders.helm_rad, orders.revs, orders.push
    x, y, n = driven_forces(driven, state, Air(breeze.wind_mps, breeze.from_rad, AIR_KGPM3))
    return float(x), float(y), float(n)


def astern_balance(
    driven: Driven, speed_mps: float, breeze: Breeze, most: tuple[float, float], push: float = 0.0
) -> tuple[float, float, float] | None:
    """Heading off her way, helm and revs going straight astern; None where she cannot be held.

    Parameters
    ----------
    speed_mps : float
        Astern, toward the south. [m/s]
    breeze : Breeze
        From where, with the bow end of her way as north.
    most : (off_rad, share of the helm)
    """
    air = Air(breeze.wind_mps, breeze.from_rad, AIR_KGPM3)
    found = astern_in_balance(driven, speed_mps, air, most[0], most[1] * driven.most_rad, push)
    if math.isnan(found[S_HEADING]):
        return None
    return float(found[S_HEADING]), float(found[S_RUDDER]), float(found[S_REVS])
