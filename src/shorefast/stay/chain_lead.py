"""The chain's lead at the roller under a pull, and how far that may be out."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import Assumption, Basis
from shorefast.mooring import BedLine, LineSegments, RodeForm, rode_at_pull
from shorefast.stay.lines_out import rode_segments
from shorefast.stay.plan import LET_GO_ERROR_M, Stay
from shorefast.stay.rigging import Rigged, bed_under_rode, deviation_under_rode, lie_of

Floats = NDArray[np.float64]

OF_TWENTY = 2.0
"""Standard deviations within which 19 of 20 lie."""
READING_DOUBT_RAD = math.radians(3.0)
"""Within this 19 of 20 readings are right: our default."""
OUT_DOUBT_M, WATER_DOUBT_M, WEIGHT_DOUBT = 0.5, 0.1, 0.02
"""What is out, the water with her trim, the weight of the links: standard deviations.

Our choices: marks on a chain are read to a metre, bow down by a man or two, makers' tables
differ by some hundredths (common practice, no source).
"""
WIDER = 1.2
"""For what is in none of these doubts, as ridges under the chain and beds bent across it.

Our choice: with it 95 of 100 readings on beds drawn at random tell the pull in their range.
"""


@dataclass(frozen=True)
class Led:
    """A rode under a pull: its form, and the doubt of its angle at the roller. [rad]

    doubt_rad : one standard deviation, without the reading of it
    """

    form: RodeForm
    doubt_rad: float

    @property
    def read_doubt_rad(self) -> float:
        """How far off 19 of 20 read it at most, all doubts together."""
        return WIDER * math.hypot(READING_DOUBT_RAD, OF_TWENTY * self.doubt_rad)


@dataclass(frozen=True)
class Hanging:
    """A rode over the bed toward a bearing, as it is asked for its lead at the roller.

    Attributes
    ----------
    segments, bed, friction, bow_level_m
        As ``rode_at_pull`` takes them.
    inmost : int
        The piece that is veered.
    deviation_m : array (corner,)
        Of the bed. [m]
    elsewhere : tuple of BedLine
        The bed had the anchor landed one standard deviation ahead, and aside.
    """

    segments: LineSegments
    inmost: int
    bed: BedLine
    deviation_m: Floats
    elsewhere: tuple[BedLine, ...]
    friction: float
    bow_level_m: float

    def form(self, pull_n: float) -> RodeForm:
        """The rode under a level pull at the roller. [N]"""
        return rode_at_pull(self.segments, self.bed, self.friction, self.bow_level_m, pull_n)

    def led(self, pull_n: float) -> Led:
        """The same with the doubt of its angle. [N]"""
        form = self.form(pull_n)
        touch_m = form.touchdown_m if math.isfinite(form.touchdown_m) else 0.0
        bed_m = float(np.interp(touch_m, self.bed.along_m, self.deviation_m))
        others = [
            replace(self, bow_level_m=self.bow_level_m + math.hypot(bed_m, WATER_DOUBT_M)),
            replace(self, segments=self._veered(OUT_DOUBT_M)),
            replace(self, segments=self._heavier(1.0 + WEIGHT_DOUBT)),
            *(replace(self, bed=bed) for bed in self.elsewhere),
        ]
        off = [other.form(pull_n).angle_rad - form.angle_rad for other in others]
        return Led(form, float(np.sqrt(np.nansum(np.square(off)))))

    def _veered(self, by_m: float) -> LineSegments:
        length_m = np.array(self.segments.length_m, float)
        length_m[self.inmost] += by_m
        return self.segments._replace(length_m=length_m)

    def _heavier(self, times: float) -> LineSegments:
        air = self.segments.air_npm
        return self.segments._replace(
            weight_npm=times * np.asarray(self.segments.weight_npm),
            air_npm=None if air is None else times * np.asarray(air),
        )


def hanging(
    stay: Stay, rigged: Rigged, level_m: float, toward_rad: float, out_m: float | None = None
) -> Hanging | None:
    """The stay's rode over the bed toward a bearing; None where bed or water are unknown.

    Parameters
    ----------
    level_m : float
        Of the water. [m]
    out_m : float, optional
        How much is out; as much as in the lie where left out. [m]

    Raises
    ------
    BadInput
        For more than is aboard.
    """
    rode, lie = rigged.rode, lie_of(stay)
    segments = rode.segments
    if out_m is not None and out_m != lie.chain_out_m:
        lie = replace(lie, chain_out_m=out_m)
        stay, segments = replace(stay, lie=lie), rode_segments(stay.boat, out_m)
    bed = bed_under_rode(stay, toward_rad)
    if bed is None or not math.isfinite(level_m):
        return None
    return Hanging(
        segments,
        -2 if rode.tail_m > 0.0 else -1,
        bed,
        deviation_under_rode(stay, toward_rad),
        _elsewhere(stay, toward_rad),
        rode.friction,
        level_m + rode.z_m,
    )


def _elsewhere(stay: Stay, toward_rad: float) -> tuple[BedLine, ...]:
    """The bed from where the anchor may also lie; left out where that is unknown."""
    lie = lie_of(stay)
    far_m = LET_GO_ERROR_M if lie.let_go_error_m is None else lie.let_go_error_m
    found = []
    for turn in (0.0, 0.5 * math.pi):
        there = replace(
            lie,
            let_go_east_m=lie.let_go_east_m + far_m * math.sin(toward_rad + turn),
            let_go_north_m=lie.let_go_north_m + far_m * math.cos(toward_rad + turn),
        )
        found.append(bed_under_rode(replace(stay, lie=there), toward_rad))
    return tuple(bed for bed in found if bed is not None)


def lead_basis(stay: Stay) -> Basis:
    """What the doubt of a lead rests on."""
    told_m = lie_of(stay).let_go_error_m
    landed_m = LET_GO_ERROR_M if told_m is None else told_m
    who = "our choice" if told_m is None else "the stay file"
    return Basis(
        assumptions=(
            Assumption(
                f"19 of 20 angles are read right to {math.degrees(READING_DOUBT_RAD):.0f} degrees,"
                " while she neither surges nor sheers",
                "A worse reading widens the range",
            ),
            Assumption(
                f"What is out is known to {2.0 * OUT_DOUBT_M:g} m, the water and her trim to"
                f" {2.0 * WATER_DOUBT_M:g} m, the chain's weight to {2.0 * WEIGHT_DOUBT:.0%}, the"
                f" bed to its own deviation (19 of 20; our choices), and all together to"
                f" {WIDER - 1.0:.0%} more",
                "Chain counted wrong by more leads otherwise at the same pull",
            ),
            Assumption(
                f"The anchor lies within {2.0 * landed_m:g} m of its place each way"
                f" (19 of 20; {who})",
                "Farther off, the chain hangs over another bed",
            ),
        )
    )
