"""The yacht and what she carries, as frozen facts in SI.

Places on board: x forward of midships, y to starboard, z up from the water.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shorefast.basis import Basis
from shorefast.errors import BadInput


def _positive(where: str, name: str, value: float, unit: str) -> None:
    if not (math.isfinite(value) and value > 0):
        raise BadInput(where, f"{name} is {value:g} {unit}", "more than 0 wanted", "Correct it.")


@dataclass(frozen=True)
class Hull:
    """Length, beam, draught [m], displacement [kg] and waterline [m]."""

    length_m: float
    beam_m: float
    draught_m: float
    displacement_kg: float
    waterline_m: float

    def __post_init__(self) -> None:
        for name in ("length_m", "beam_m", "draught_m", "waterline_m"):
            _positive("Hull", name.removesuffix("_m"), getattr(self, name), "m")
        _positive("Hull", "displacement", self.displacement_kg, "kg")


@dataclass(frozen=True)
class Windage:
    """What the wind sees of her, rig included.

    Attributes
    ----------
    frontal_m2, lateral_m2 : float
        Projected areas from ahead and from abeam. [m2]
    height_m : float
        Height of their centre above the water. [m]
    lever_m : float
        Lateral centre forward of midships (negative: aft). [m]
    deviation : float
        Standard deviation of both areas as a share of themselves.
    """

    frontal_m2: float
    lateral_m2: float
    height_m: float
    lever_m: float
    deviation: float

    def __post_init__(self) -> None:
        _positive("Windage", "frontal area", self.frontal_m2, "m2")
        _positive("Windage", "lateral area", self.lateral_m2, "m2")
        _positive("Windage", "height", self.height_m, "m")


@dataclass(frozen=True)
class Spot:
    """A place on board. [m]"""

    x_m: float
    y_m: float
    z_m: float


@dataclass(frozen=True)
class Cleat:
    """A strong point on deck; its strength is None where nobody knows it. [N]"""

    name: str
    spot: Spot
    strength_n: float | None = None


@dataclass(frozen=True)
class Underwater:
    """A part that can touch (keel, rudder, ladder): its middle, and how deep. [m]

    length_m fore and aft, breadth_m across; 0 where nobody told: then a point.
    """

    name: str
    x_m: float
    y_m: float
    draught_m: float
    length_m: float = 0.0
    breadth_m: float = 0.0


@dataclass(frozen=True)
class Tender:
    """The tender as she lies beside or behind the boat; x_m, y_m her middle. [m]

    on_deck : she is carried there while the boat lies; x_m, y_m mean nothing then.
    """

    length_m: float
    beam_m: float
    draught_m: float
    x_m: float
    y_m: float
    on_deck: bool = False


@dataclass(frozen=True)
class PullAtRevs:
    """One reading of her skipper's own: the pull astern, standing still, at these revs. [rpm, N]"""

    revs_rpm: float
    pull_n: float


@dataclass(frozen=True)
class Engine:
    """Power at the crankshaft [W], propeller [m], its kind, and a known astern pull [N].

    full_revs_rpm : revs at full power; None where nobody knows. [rpm]
    walks_astern : the way the stern goes when the propeller turns astern ("port",
        "starboard", "no"); None where nobody knows.
    pulls : her skipper's own readings, by rising revs; empty where there are none.
    """

    power_w: float
    propeller_diameter_m: float
    propeller: str
    astern_pull_n: float | None = None
    full_revs_rpm: float | None = None
    walks_astern: str | None = None
    pulls: tuple[PullAtRevs, ...] = ()


@dataclass(frozen=True)
class Thruster:
    """A thruster: how hard it pushes sideways [N], and where, forward of midships. [m]"""

    push_n: float
    x_m: float


@dataclass(frozen=True)
class Rudder:
    """The rudder's area [m2], its place forward of midships [m], how far it goes over. [rad]"""

    area_m2: float
    x_m: float
    most_rad: float


@dataclass(frozen=True)
class Windlass:
    """Speeds of the chain out and in [m/s], and its pull [N]; None where unknown."""

    veer_mps: float | None = None
    heave_mps: float | None = None
    pull_n: float | None = None


@dataclass(frozen=True)
class Anchor:
    """Kind of anchor (see boat.ANCHOR_CLASSES) and its mass. [kg]"""

    kind: str
    mass_kg: float


@dataclass(frozen=True)
class RodePiece:
    """One piece of the rode: chain has a grade, rope a fibre. [m]

    worn_m : the thinnest wire measured on a chain; age_years of a rope. None where unknown.
    """

    kind: str
    diameter_m: float
    length_m: float
    grade: int | None = None
    fibre: str | None = None
    worn_m: float | None = None
    age_years: float | None = None


@dataclass(frozen=True)
class LongLine:
    """A line for the shore. [m, years]; age and kind of ends None where unknown."""

    name: str
    fibre: str
    diameter_m: float
    length_m: float
    age_years: float | None = None
    ends: str | None = None


@dataclass(frozen=True)
class Snubber:
    """The stretchy tail on the chain. [m]"""

    fibre: str
    diameter_m: float
    length_m: float


@dataclass(frozen=True)
class Sling:
    """A strop for a rock or a tree. [m, N]"""

    name: str
    kind: str
    length_m: float | None
    strength_n: float | None


@dataclass(frozen=True)
class Sounder:
    """Where the echo sounder's transducer is. [m]"""

    x_m: float
    y_m: float
    draught_m: float


@dataclass(frozen=True)
class Yacht:
    """The whole boat as her file tells it, with what it rests on.

    call_sign, mmsi : what she is called by on the radio (mmsi nine figures); None where
        her file does not tell.
    """

    name: str
    hull: Hull
    windage: Windage
    roller: Spot
    cleats: tuple[Cleat, ...]
    underwater: tuple[Underwater, ...]
    antenna: Spot | None
    sounder: Sounder | None
    engine: Engine | None
    windlass: Windlass
    anchor: Anchor
    rode: tuple[RodePiece, ...]
    snubber: Snubber | None
    lines: tuple[LongLine, ...]
    slings: tuple[Sling, ...]
    basis: Basis
    tender: Tender | None = None
    second_anchor: Anchor | None = None
    thruster: Thruster | None = None
    rudder: Rudder | None = None
    call_sign: str | None = None
    mmsi: str | None = None

    @property
    def tender_afloat(self) -> Tender | None:
        """The tender where she lies in the water; None where she is on deck, or none is told."""
        return None if self.tender is None or self.tender.on_deck else self.tender

    @property
    def rode_aboard_m(self) -> float:
        """All chain and rope on the anchor, end to end. [m]"""
        return sum(piece.length_m for piece in self.rode)
