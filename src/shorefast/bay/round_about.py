"""What lies round a bay, far outside the box its bed is drawn in: coasts and high ground."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from shorefast.bay.surface import Bounds


@dataclass(frozen=True)
class Coast:
    """Shores of one file as legs in the bay's plane.

    Attributes
    ----------
    legs_m : array, shape (leg, end, 2)
        East and north of both ends; water on the left hand where ``sided``. [m]
    sided : bool array, shape (leg,)
        Whether it is known on which side the water is.
    hull_m : array, shape (corner, 2)
        What the file spans: round about all its places, first corner again at the end;
        empty where they span no area. [m]
    spacing_m : float
        Middle length of the legs as the file has them. [m]
    """

    legs_m: NDArray[np.float64]
    sided: NDArray[np.bool_]
    hull_m: NDArray[np.float64]
    spacing_m: float


@dataclass(frozen=True)
class FarShore:
    """The shores round a bay as far as a fetch reaches, the finest file first.

    The plane is azimuthal equidistant about the bay's origin: a straight ray from near
    the origin is the shortest way over the earth, and its length is true.

    Attributes
    ----------
    near : Bounds or None
        The box in which the bay's own shore counts instead.
    coasts : tuple of Coast
    open_sea : bool
        Whether the skipper says that what they do not close is open sea.
    """

    near: Bounds | None
    coasts: tuple[Coast, ...]
    open_sea: bool = False


@dataclass(frozen=True)
class HighGround:
    """Heights of the ground round a bay on even rows and columns of its plane.

    Attributes
    ----------
    west_m, south_m, step_m : float
        Place of the first node, and from one to the next. [m]
    height_m : array, shape (row going north, column going east)
        Above chart datum; NaN unknown. [m]
    name : str
        The file it was read from.
    """

    west_m: float
    south_m: float
    step_m: float
    height_m: NDArray[np.float64]
    name: str
