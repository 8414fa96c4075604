"""How fast she drifts off beam-on, nothing holding her, her masts bare."""

from __future__ import annotations

import math

import numpy as np

from shorefast.boat import Yacht
from shorefast.manoeuvre.able_chain import force_doubt, wind_pulls_n
from shorefast.manoeuvre.able_kinds import Floats, Leeway
from shorefast.mooring import Afloat, afloat_of, weighed_underbody
from shorefast.stay import height_share

PRINTED_SHARE, PRINTED_SD_MPS = 0.0523, 0.1852
"""Leeway of bare-masted monohulls over the wind at 10 m, and its standard deviation."""
WATER_DOUBT = 0.25
"""How far the drag of hull and keel across may be off, as a share: our estimate."""


def _speed_mps(boat: Yacht, afloat: Afloat, wind_mps: Floats, share: float) -> Floats:
    """Steady drift beam-on where air over water pushes ``share`` of what is reckoned."""
    per_air = share * float(wind_pulls_n(boat, np.ones(1), 0.5 * math.pi)[0])
    felt = height_share(boat.windage.height_m)
    # the push by her speed through the air at the height of her windage
    ratio = math.sqrt(per_air / felt**2 / (afloat.hull + afloat.keel))
    return np.asarray(felt * wind_mps * ratio / (1.0 + ratio))


def leeway(boat: Yacht, wind_mps: Floats) -> Leeway:
    """Steady drift beam-on through the water.

    Where the wind's push by her speed through the air is what the water holds against
    hull and keel. That she turns as she drifts, waves, sails and shallow water are left
    out.

    Parameters
    ----------
    wind_mps : array (wind,)
        Steady, at 10 m. [m/s]

    Source
    ------
    leeway-taxonomy, sailboat, mono-hull, bare-masted average: 5.23 % of the wind at 10 m
    downwind, standard deviation 18.52 cm/s (what is printed beside ours).
    """
    afloat, doubt = afloat_of(weighed_underbody(boat.hull, boat.engine)), force_doubt(boat)
    shares = (1.0, (1.0 - doubt) / (1.0 + WATER_DOUBT), (1.0 + doubt) / (1.0 - WATER_DOUBT))
    speed, low, high = (_speed_mps(boat, afloat, wind_mps, share) for share in shares)
    return Leeway(wind_mps, speed, low, high, PRINTED_SHARE * wind_mps, PRINTED_SD_MPS)
