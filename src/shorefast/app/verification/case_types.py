"""The cases of a case file, in the file's own frame, units and signs.

Points on board are forward and to port, directions anticlockwise from east;
``case_frame`` turns them into ours.
"""

from __future__ import annotations

from dataclasses import dataclass

from shorefast.app.verification.rows import Wanted


@dataclass(frozen=True)
class Piece:
    """One piece of a line: unstretched length, weight a metre, stiffness."""

    length_m: float
    weight_npm: float
    axial_stiffness_n: float

    @property
    def numbers(self) -> tuple[float, float, float]:
        """Length, weight, stiffness."""
        return self.length_m, self.weight_npm, self.axial_stiffness_n


@dataclass(frozen=True)
class RodeCase:
    """A rode over a bed, with the distance or the pull given (the other is None).

    ``bed_m`` holds distance from the anchor and level, ``pieces`` run from the
    anchor to the bow.
    """

    name: str
    source: str
    wanted: Wanted
    pieces: tuple[Piece, ...]
    friction: float
    bed_m: tuple[tuple[float, ...], ...]
    bow_level_m: float
    distance_m: float | None
    pull_n: float | None


@dataclass(frozen=True)
class ShoreCase:
    """One line through the air between a cleat and a point ashore."""

    name: str
    source: str
    wanted: Wanted
    piece: Piece
    cleat_height_m: float
    shore_height_m: float
    distance_m: float


@dataclass(frozen=True)
class BoatLine:
    """One line of a whole boat; ``shore_level_m`` is None for the rode.

    ``body_fp_m``: forward, to port. ``slope_en``: rise of the bed toward east and
    north, for the rode.
    """

    name: str
    body_fp_m: tuple[float, ...]
    height_m: float
    fixed_en_m: tuple[float, ...]
    pieces: tuple[Piece, ...]
    shore_level_m: float | None = None
    friction: float = 0.0
    bed_level_m: float = 0.0
    slope_en: tuple[float, ...] = (0.0, 0.0)


@dataclass(frozen=True)
class FixedLoad:
    """A constant force and moment (anticlockwise positive)."""

    east_n: float
    north_n: float
    moment_nm: float


@dataclass(frozen=True)
class WindLoad:
    """The vectors' simple wind: areas and coefficients from ahead and abeam, two levers."""

    speed_mps: float
    from_deg: float
    air_kgpm3: float
    frontal_m2: float
    lateral_m2: float
    frontal_coefficient: float
    lateral_coefficient: float
    lever_m: float
    lever_change_m: float


@dataclass(frozen=True)
class BoatCase:
    """A boat on her lines, those that are set; ``start`` is east, north, psi."""

    name: str
    source: str
    wanted: Wanted
    water_level_m: float
    lines: tuple[BoatLine, ...]
    load: FixedLoad | WindLoad
    start: tuple[float, ...]
    east_span_m: tuple[float, ...]
    north_span_m: tuple[float, ...]


Case = RodeCase | ShoreCase | BoatCase
