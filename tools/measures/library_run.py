"""Random rodes and boats beside a general library; a chain of bars decides where they part."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from measures.bars import Chain, bars_led
from measures.figure import Figure, measured, missing
from measures.library import NAME, THERE, Told, library_boat, library_rest, library_rode
from measures.lies import Drawn, Floats
from measures.lies_checked import Gap, between, frictionless, place
from measures.own_lines import Rode

from shorefast.mooring import (
    BedLine,
    LineSegments,
    Rest,
    RodeForm,
    RodeLine,
    ShoreLineForm,
    rode_at_distance,
    rode_at_pull,
    solve_rest,
)

ALIKE = 1e-3


@dataclass(frozen=True)
class Beside:
    """One rode: ours, the library's (None: it found none), the level pull of the bars. [N]"""

    rode: Rode
    rise_m: float
    ours: RodeForm
    library: Told | None
    bars_n: float

    @property
    def agrees(self) -> bool:
        """Whether ours and the library's pulls are alike."""
        return self.library is not None and self._near(self.ours.pull_n, self.library.level_n)

    @property
    def under_the_bed(self) -> bool:
        """Whether the library's rode leaves the shank flatter than the bed: under it."""
        told = self.library
        return told is not None and told.lies_m == 0.0 and (
            told.shank_rad < self.rode.slope_rad - 1e-4
        )  # fmt: skip

    @property
    def pressed(self) -> bool:
        """Whether the library's rode has length without tension on a rising bed.

        It shortens that length as if it were pressed; the pull is a few thousandths small.
        """
        told = self.library
        slack = told is not None and told.shank_n == 0.0 and told.lies_m > 0.0
        return slack and self.rode.slope_rad > 0.0

    @property
    def bars_with_us(self) -> bool:
        """Whether the third witness pulls as ours does."""
        return self._near(self.ours.pull_n, self.bars_n)

    @staticmethod
    def _near(one_n: float, other_n: float) -> bool:
        return abs(one_n - other_n) < ALIKE * abs(one_n)


def random_rode(seed: int, slopes_deg: tuple[float, float]) -> Beside:
    """A rode of chain on a plane bed, held at a distance by all three."""
    dice = np.random.default_rng([20260703, seed])
    slope = math.radians(float(dice.uniform(*slopes_deg)))
    length_m, weight_npm = float(dice.uniform(30.0, 110.0)), float(dice.uniform(12.0, 32.0))
    rode = Rode(
        [(length_m, weight_npm, 445e3 * weight_npm)], slope, float(dice.choice([0.0, 0.5, 0.9]))
    )
    # the roller clear of the slope above all the chain could reach
    rise_m = length_m * (max(0.0, math.sin(slope)) + float(dice.uniform(0.12, 0.4)))
    pull_n = weight_npm * length_m * float(10.0 ** dice.uniform(-0.7, 0.7))
    length, weight, stiffness = (np.array(column) for column in zip(*rode.pieces, strict=True))
    pieces = LineSegments(length, weight, stiffness)
    x_m = np.array([-500.0, 500.0])
    bed = BedLine(x_m, math.tan(slope) * x_m)
    ours = rode_at_pull(pieces, bed, rode.friction, rise_m, pull_n)
    ours = rode_at_distance(pieces, bed, rode.friction, rise_m, ours.distance_m)
    chain = Chain(np.array(pieces[:3]).T, x_m, bed.level_m, rode.friction, rise_m, ours.distance_m)
    led = bars_led(chain, 1.01 * ours.tension_n)
    return Beside(rode, rise_m, ours, library_rode(rode, ours.distance_m, rise_m), led.level_n)


def comparable(rest: Rest) -> bool:
    """Whether the library can know this boat: no line slack or afloat (it has no water)."""
    ashore = [form for form in rest.lines if isinstance(form, ShoreLineForm)]
    return rest.why == "found" and not any(form.slack or form.on_water_m > 0.0 for form in ashore)


def one_piece(lie: Drawn) -> bool:
    """Whether the rode is all of a piece: the library's lines are."""
    rode = lie.scene.lines[0]
    return isinstance(rode, RodeLine) and bool(rode.segments.length_m.size == 1)


def boat_beside(seed: int) -> Gap | None:
    """A boat on a level bed under a dead load beside the library's; None if it cannot know her."""
    lie = frictionless(seed)
    rest = solve_rest(lie.scene, lie.load, lie.level_m, lie.start, arm_m=lie.arm_m)
    if not one_piece(lie) or not comparable(rest):
        return None
    aside: Floats = place(rest) + np.array([0.3, -0.2, 0.03])
    found = library_rest(library_boat(lie, lie.load, aside))
    return Gap(math.inf, math.inf, math.nan) if found is None else between(place(rest), found)


def library_beside(count: int) -> tuple[Figure, ...]:
    """Rodes on falling, level and rising beds, and whole boats, beside the library."""
    names = ("library-level-rodes", "library-rising-otherwise", "library-against-bars",
             "library-boats-m")  # fmt: skip
    if not THERE:
        print(f"{NAME} is not installed: nothing was compared with it")
        return tuple(missing(name, "", "< 1") for name in names)
    level = [random_rode(seed, (-10.0, 1e-9)) for seed in range(count // 2)]
    rising = [random_rode(seed, (0.0, 30.0)) for seed in range(count // 2)]
    apart = [rode for rode in (*level, *rising) if not rode.agrees]
    under = sum(rode.under_the_bed for rode in apart)
    pressed = sum(rode.pressed for rode in apart)
    print(
        f"{sum(r.agrees for r in level)} of {len(level)} rodes on level and falling beds and "
        f"{sum(r.agrees for r in rising)} of {len(rising)} on rising ones as {NAME} has them; of "
        f"{len(apart)} others it leads {under} under the bed and presses {pressed}; bars pull as "
        f"ours in "
        f"{sum(r.bars_with_us for r in apart)}"
    )
    boats = [gap for gap in map(boat_beside, range(count)) if gap is not None]
    against = sum(not rode.bars_with_us for rode in (*level, *rising))
    print(f"{len(boats)} boats beside its own")
    return (
        measured(names[0], sum(not rode.agrees for rode in level), "apart", "< 1"),
        measured(names[1], len(apart) - under - pressed, "apart for no known reason", "< 1"),
        measured(names[2], against, "rodes where bars pull unlike ours", "< 1"),
        measured(names[3], max(gap.shift_m for gap in boats), "m", "< 0.001"),
    )
