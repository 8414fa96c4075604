"""Where nobody knows what it will stand, the rose says so and marks no gust as past it."""

import math

import numpy as np

from shorefast.basis import Basis
from shorefast.drawing.stands import worst_edge
from shorefast.stay import Stands


def test_an_unknown_direction_is_neither_open_nor_a_limit_of_nothing():
    around = np.arange(4) * math.pi / 2
    limit = np.array([[10.0, np.nan, np.nan, 12.0]])
    stands = Stands(
        np.array([0.0]), around, limit, (("anchor", "unknown", None, "anchor"),), 40.0, Basis()
    )
    edge = worst_edge(stands, "anchor")
    assert edge.unknown.tolist() == [False, True, False, False]
    assert edge.open.tolist() == [False, False, True, False]
    assert edge.name == ("anchor", None, None, "anchor")
