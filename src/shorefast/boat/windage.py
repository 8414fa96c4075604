"""What the wind sees of a yacht nobody has measured: plain geometry, with its doubt."""

from __future__ import annotations

from typing import NamedTuple

from shorefast.basis import Assumption, Basis
from shorefast.boat.yacht import Hull, Windage

ESTIMATE_DEVIATION = 0.25
GIVEN_DEVIATION = 0.10


class _Piece(NamedTuple):
    """One piece of her: areas [m2], centre above the water and forward of midships [m]."""

    frontal_m2: float
    lateral_m2: float
    height_m: float
    forward_m: float


def estimate_windage(hull: Hull) -> Windage:
    """Areas and their centre for a single-masted cruising yacht with her sails furled.

    Hull, house, sprayhood, mast, rolled headsail, stays and boom as plain shapes
    in proportion to length and beam. A gantry, dinghy in davits, bimini or second
    mast are left out.

    Parameters
    ----------
    hull : Hull

    Returns
    -------
    windage : Windage
        With the estimate's deviation, a quarter of each area.

    Source
    ------
    larsson-eliasson, Fig. 9.2 (the parts that count; stays of the 40 ft example,
    read); proportions of hull and rig are common practice, no source.
    """
    pieces = _pieces(hull)
    frontal_m2 = sum(piece.frontal_m2 for piece in pieces)
    lateral_m2 = sum(piece.lateral_m2 for piece in pieces)
    return Windage(
        frontal_m2=frontal_m2,
        lateral_m2=lateral_m2,
        height_m=sum(piece.lateral_m2 * piece.height_m for piece in pieces) / lateral_m2,
        lever_m=sum(piece.lateral_m2 * piece.forward_m for piece in pieces) / lateral_m2,
        deviation=ESTIMATE_DEVIATION,
    )


def windage_basis() -> Basis:
    """What rests on the estimate."""
    return Basis(
        assumptions=(
            Assumption(
                "Windage is estimated from length and beam, for one mast and sails furled",
                f"Each area is off by a quarter ({ESTIMATE_DEVIATION:.0%}) or more; with a second"
                " mast, davits or a bimini every pull grows: measure the areas",
            ),
        ),
        sources=("larsson-eliasson",),
    )


def _pieces(hull: Hull) -> tuple[_Piece, ...]:
    long_m, beam_m = hull.length_m, hull.beam_m
    freeboard_m = 0.10 * long_m
    deck_m, house_m = freeboard_m, 0.45
    mast_m2 = 1.4 * long_m * 0.012 * long_m
    rolled_m2 = 1.2 * long_m * 0.010 * long_m
    # 76.7 m of 8 mm and 23.9 m of 10 mm on 12.19 m of length
    stays_m2 = 0.00574 * long_m**2
    boom_m2 = 0.4 * long_m * 0.033 * long_m
    return (
        _Piece(beam_m * freeboard_m, long_m * freeboard_m, freeboard_m / 2.0, 0.0),
        _Piece(0.6 * beam_m * house_m, 0.45 * long_m * house_m, deck_m + house_m / 2.0, 0.0),
        _Piece(0.6 * beam_m * 0.6, 1.5, deck_m + house_m + 0.3, -0.15 * long_m),
        _Piece(mast_m2, mast_m2, deck_m + 0.7 * long_m, 0.08 * long_m),
        _Piece(rolled_m2, rolled_m2, deck_m + 0.6 * long_m, 0.29 * long_m),
        _Piece(stays_m2, stays_m2, deck_m + 0.6 * long_m, 0.08 * long_m),
        _Piece(0.0, boom_m2, deck_m + 0.15 * long_m, -0.12 * long_m),
    )
