"""From a stay's files to a scene the solver takes: lines, bed, wind form, a start."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.bay import Bay, BedProfile, ShorePoint, bed_profile
from shorefast.boat import Cleat, LongLine, Windage, Yacht
from shorefast.errors import BadInput
from shorefast.mooring import (
    BedLine,
    Domain,
    GridBed,
    Moored,
    RodeLine,
    Scene,
    ShoreLine,
    Spread,
    WindForm,
    moored,
    rode_at_pull,
    ship_shape,
    wind_compared,
)
from shorefast.stay.lines_out import (
    Bound,
    Ropes,
    ShoreLeg,
    Tail,
    rode_segments,
    rounded_down_m,
    shore_line,
    tail_set,
)
from shorefast.stay.plan import Lie, Stay

RODE = "rode"
_CURVES = {
    "nominal": "the printed curve",
    "soft": "the softest curve",
    "stiff": "the stiffest curve",
}
# chain sliding on the bed: seabed-friction (from memory)
_FRICTION = {"sand": 0.74, "mud": 0.56, "soft mud": 0.56, "firm clay": 0.56, "mud over clay": 0.56}
_FRICTION_ELSEWHERE = 0.6
# hull and house by Blendermann's small classes, spars and stays as cylinders, in the
# shares a cruising yacht's areas have; docs/decisions.md has the sum
ACROSS, AHEAD, ASTERN, DELTA, TURN = 0.955, 0.82, 0.83, 0.40, 0.13
GUST_EXPONENT = 0.064
_START_PULL_N = 400.0
_ROOM_M = 28.0
# tables reach past the stay's own waters by this [m]
_PAD_M = 0.05
# a rode is laid out at waters no farther apart than this [m]
_LAID_OUT_M = 0.6
_FAR_M = 85.0


@dataclass(frozen=True)
class Rigged:
    """A lie rigged: the scene, its wind form, where a solve begins.

    ``start`` is (east_m, north_m, heading_rad); ``arm_m`` half her length; ``tail`` the
    snubber as it is set, None without.
    """

    scene: Scene
    form: WindForm
    legs: tuple[ShoreLeg, ...]
    start: NDArray[np.float64]
    arm_m: float
    height_share: float
    basis: Basis
    tail: Tail | None = None

    @property
    def rode(self) -> RodeLine:
        """The rode: always the scene's first line."""
        line = self.scene.lines[0]
        assert isinstance(line, RodeLine)
        return line

    def ready(self, low_m: float, high_m: float, before: Moored | None = None) -> Moored:
        """Tables over the room she has, for water between two levels. [m]

        before : made ready on another bed; tables that it did not touch are taken over.
        """
        levels = 1 + 2 * min(12, math.ceil((high_m - low_m + 2.0 * _PAD_M) / _LAID_OUT_M))
        filled = None if before is None else before.filled
        spread = Spread(low_m - _PAD_M, high_m + _PAD_M, levels, 31, filled)
        return moored(self.scene, self.form, self.arm_m, self.start, spread)

    def ready_wide(self, low_m: float, high_m: float) -> Moored:
        """Coarser tables all round, for when a line is gone and she goes far."""
        far_m = float(np.sum(self.rode.segments.length_m)) + 2.0 * self.arm_m
        east_m, north_m, far_m = self.rode.east_m, self.rode.north_m, max(_FAR_M, far_m)
        wide = Domain(east_m - far_m, east_m + far_m, north_m - far_m, north_m + far_m)
        levels = 1 + 2 * min(2, math.ceil((high_m - low_m) / 2.0 + 2.0 * _PAD_M))
        spread = Spread(low_m - _PAD_M, high_m + _PAD_M, levels, 91)
        scene = Scene(self.scene.lines, wide, self.form)
        return moored(scene, self.form, self.arm_m, self.start, spread)


def lie_of(stay: Stay) -> Lie:
    """The stay's lie.

    Raises
    ------
    BadInput
        Where the stay has none yet.
    """
    if stay.lie is None:
        raise BadInput(
            stay.name,
            "no [lie] given",
            "this question is about one lie",
            "Add [lie] with let_go, chain_out_m, heading_deg and its lines.",
        )
    return stay.lie


def _named(
    name: str, things: tuple[Cleat | LongLine | ShorePoint, ...], what: str, where: str
) -> int:
    names = [thing.name for thing in things]
    if name in names:
        return names.index(name)
    raise BadInput(
        where,
        f"{what} '{name}'",
        f"known are {', '.join(names) if names else 'none'}",
        f"Name one of these, or add it to the {'bay' if what == 'point' else 'boat'} file.",
    )


def shore_legs(boat: Yacht, bay: Bay, lie: Lie) -> tuple[ShoreLeg, ...]:
    """The lie's lines matched to line, cleat and point; names made unlike each other.

    Raises
    ------
    BadInput
        For a name nobody knows, or a line longer than it is aboard.
    """
    legs = []
    for number, plan in enumerate(lie.lines, start=1):
        where = f"Lie, line {number}"
        line = boat.lines[_named(plan.line, boat.lines, "line", where)]
        cleat = boat.cleats[_named(plan.cleat, boat.cleats, "cleat", where)]
        point = bay.points[_named(plan.point, bay.points, "point", where)]
        parts = 2 if plan.doubled else 1
        asked_m, most_m = plan.length_m * parts, line.length_m / parts
        way = " each way" if plan.doubled else ""
        if asked_m > line.length_m:
            raise BadInput(
                where,
                f"{asked_m:.1f} m of {line.name} asked",
                f"{line.length_m:.1f} m aboard",
                f"Give {rounded_down_m(most_m):g} m or less{way}, or take a longer line.",
            )
        legs.append(ShoreLeg(f"{plan.line} to {plan.point}", plan, line, cleat, point))
    return tuple(legs)


def wind_form(windage: Windage, length_m: float) -> WindForm:
    """The wind form of a yacht from her two areas and the lever of the lateral one.

    Source
    ------
    blendermann-1994 (speed boat, fishing vessel); larsson-eliasson, fig. 9.2 (spars).
    """
    return WindForm(
        windage.frontal_m2, windage.lateral_m2, length_m, windage.lever_m,
        ACROSS, AHEAD, ASTERN, DELTA, TURN,
    )  # fmt: skip


def height_share(height_m: float) -> float:
    """A gust at the windage's height as a share of the gust at 10 m.

    Gusts fall off less with height than the mean: over open water by about the
    0.064th power between 2 and 10 m.

    Source
    ------
    npd-profile (from memory), three-second gust at 15 to 20 m/s.
    """
    return float((max(height_m, 1.0) / 10.0) ** GUST_EXPONENT)


def friction_of(bottom: str) -> float:
    """Friction of chain sliding on a kind of bottom."""
    return _FRICTION.get(bottom, _FRICTION_ELSEWHERE)


def start_of(boat: Yacht, lie: Lie, rode: RodeLine, level_m: float) -> NDArray[np.float64]:
    """Place and heading a first solve begins from: astern of the anchor, as meant to lie."""
    depth_m = 0.0
    bed = rode.bed
    if isinstance(bed, GridBed):
        row = round((rode.north_m - bed.south_m) / bed.step_m)
        column = round((rode.east_m - bed.west_m) / bed.step_m)
        rows, columns = bed.level_m.shape
        if 0 <= row < rows and 0 <= column < columns:
            depth_m = -float(np.nan_to_num(bed.level_m[row, column]))
    flat = BedLine(np.array([-1.0, 1.0]), np.array([-depth_m, -depth_m]))
    form = rode_at_pull(rode.segments, flat, rode.friction, level_m + rode.z_m, _START_PULL_N)
    reach_m = form.distance_m if math.isfinite(form.distance_m) else 0.8 * lie.chain_out_m
    back_m = reach_m + boat.roller.x_m
    sine, cosine = math.sin(lie.heading_rad), math.cos(lie.heading_rad)
    return np.array(
        [lie.let_go_east_m - back_m * sine, lie.let_go_north_m - back_m * cosine, lie.heading_rad]
    )


def between_lines(start: NDArray[np.float64], legs: tuple[ShoreLeg, ...]) -> NDArray[np.float64]:
    """Move a start so that the shore lines come near their lengths."""
    q = start.copy()
    sine, cosine = math.sin(q[2]), math.cos(q[2])
    for _ in range(200):
        shift = np.zeros(2)
        for leg in legs:
            spot = leg.cleat.spot
            e_m = leg.point.east_m - q[0] - spot.x_m * sine - spot.y_m * cosine
            n_m = leg.point.north_m - q[1] - spot.x_m * cosine + spot.y_m * sine
            far_m = math.hypot(e_m, n_m)
            over_m = far_m - leg.plan.length_m
            if over_m > 0.0 and far_m > 0.0:
                shift += 0.5 * over_m * np.array([e_m, n_m]) / far_m / len(legs)
        q[:2] += shift
        if float(np.hypot(*shift)) < 0.01:
            break
    return q


def domain_about(start: NDArray[np.float64]) -> Domain:
    """Where her reference point may be about a start (east, north, heading). [m]"""
    return Domain(start[0] - _ROOM_M, start[0] + _ROOM_M, start[1] - _ROOM_M, start[1] + _ROOM_M)


def rig(
    stay: Stay, level_m: float, stretch: Bound = "nominal", *, new_ropes: bool = False
) -> Rigged:
    """Rig the stay's lie at a water level. [m]

    stretch : the curve every rope follows: "nominal", or the "soft" or "stiff" bound of
    its fibre's; new_ropes : all as before their first loadings.

    Raises
    ------
    BadInput
        For names, lengths or places that do not fit together.
    """
    boat, bay, lie = stay.boat, stay.bay, lie_of(stay)
    ropes = Ropes(stretch, new_ropes)
    tail = tail_set(boat, lie.chain_out_m, ropes)
    legs = shore_legs(boat, bay, lie)
    grid = bay.surface.grid
    bed = GridBed(grid.west_m, grid.south_m, grid.step_m, grid.level_m)
    rode = RodeLine(
        RODE, boat.roller.x_m, boat.roller.y_m, boat.roller.z_m,
        lie.let_go_east_m, lie.let_go_north_m, rode_segments(boat, lie.chain_out_m, ropes),
        bed, friction_of(bay.bottom), tail.length_m if tail is not None else 0.0,
    )  # fmt: skip
    start = between_lines(start_of(boat, lie, rode, level_m), legs)
    form = wind_form(boat.windage, boat.hull.length_m)
    lines: tuple[RodeLine | ShoreLine, ...] = (rode, *(shore_line(leg, ropes) for leg in legs))
    share = height_share(boat.windage.height_m)
    return Rigged(
        Scene(lines, domain_about(start), form),
        form,
        legs,
        start,
        0.5 * boat.hull.length_m,
        share,
        _basis(share, _doubt_words(boat, form), ropes) | _tail_basis(boat, tail),
        tail,
    )


def _profile_under_rode(stay: Stay, toward_rad: float) -> tuple[BedProfile, int]:
    """The bed from the anchor as far as the chain, and how many places of it are known."""
    lie = lie_of(stay)
    profile = bed_profile(
        stay.bay.surface, lie.let_go_east_m, lie.let_go_north_m, toward_rad, lie.chain_out_m
    )
    known = np.isfinite(profile.level_m)
    return profile, int(np.argmin(known)) if not known.all() else known.size


def bed_under_rode(stay: Stay, toward_rad: float) -> BedLine | None:
    """The bed from the anchor toward a bearing, as far as it is known; None if not there."""
    profile, count = _profile_under_rode(stay, toward_rad)
    if count < 2:
        return None
    return BedLine(profile.distance_m[:count], profile.level_m[:count])


def deviation_under_rode(stay: Stay, toward_rad: float) -> NDArray[np.float64]:
    """The standard deviation of ``bed_under_rode``, corner by corner. [m]"""
    profile, count = _profile_under_rode(stay, toward_rad)
    return profile.deviation_m[:count]


def _doubt_words(boat: Yacht, form: WindForm) -> str:
    """How far two published sets lie from our wind form, along and across, in words."""
    around = np.arange(72) * (2.0 * math.pi / 72)
    doubt = wind_compared(ship_shape(boat.hull, boat.windage), form, around).small_craft_doubt
    along, across = float(doubt[:, 0].max()), float(doubt[:, 1].max())
    return f"up to {along:.0%} of the largest force along her and {across:.0%} across"


def _tail_basis(boat: Yacht, tail: Tail | None) -> Basis:
    """What is taken of the snubber, where one is aboard."""
    if boat.snubber is None:
        return Basis()
    if tail is None:
        said = Assumption(
            "The snubber is not set: what is out is not longer than it, or its hook would"
            " have to hold on rope",
            "Set all the same, it takes the jerks: the rode then pulls a little less in a gust",
        )
        return Basis(assumptions=(said,))
    loop = Assumption(
        f"The last {tail.length_m:g} m of what is out are the snubber; the chain from its hook"
        " inboard hangs idle and is left out",
        "A loop of chain shorter than the snubber pulled long comes taut and ends its spring",
    )
    return Basis(assumptions=(loop,))


def _basis(share: float, compared: str, ropes: Ropes) -> Basis:
    return Basis(
        assumptions=(
            Assumption(
                "She lies as if the hour's gust blew steadily",
                "Moved in time she asks of a line up to half as much again for some seconds,"
                " of an anchor across the wind up to twice as much",
            ),
            Assumption(
                f"A gust at the height of her windage is {share:.2f} of the gust at 10 m",
                "A fall wind is as strong at the water: forces are then up to a fifth greater",
            ),
            Assumption(
                "Windage by her two areas with a cruising yacht's mean coefficients; heel,"
                " shielding by the shore and yawing about are left out",
                f"Two published small-craft sets lie {compared} from ours",
            ),
            Assumption(
                f"Ropes stretch by {_CURVES[ropes.bound]} of their fibre,"
                f" {'new' if ropes.new else 'used'}, three-strand where it is made so",
                "Of lines that share a pull the stiffer one carries more than is told here",
            ),
            Assumption(
                "A line ashore that is heavier than water hangs on under it; the bed under a"
                " slack one is left out",
                "Where it comes to lie on stones it pulls a little more, and chafes",
            ),
            Assumption(
                "Chain that lies on a bed above the water weighs as in it",
                "Dry chain weighs a seventh more: it holds a little better there",
            ),
        ),
        sources=(
            "blendermann-1994",
            "larsson-eliasson",
            "npd-profile",
            "rope-elongation",
            "seabed-friction",
        ),
        findings=(),
    )
