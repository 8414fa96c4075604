"""Our rode beside a chain of bars found by least energy over a broken bed, with friction.

Nothing is shared with the statics under test: measures.bars knows no catenary and no march
from the anchor. The corners of the bed are joints, so no corner is cut.
"""

from __future__ import annotations

import numpy as np
import pytest
from measures.bars import Chain, bars_led

from shorefast.mooring import BedLine, LineSegments, rode_at_distance

WEIGHT_NPM, STIFFNESS_N = 19.2, 8.5e6

BEDS = {
    "level": ([-50.0, 200.0], [0.0, 0.0]),
    "a hollow": ([-50.0, 15.0, 30.0, 200.0], [0.0, 0.0, 6.0, 23.0]),
    "a ledge": ([-50.0, 16.0, 24.0, 200.0], [0.0, 0.0, 4.0, 4.0]),
    "a hump": ([-50.0, 12.0, 20.0, 28.0, 200.0], [0.0, 0.0, 3.0, 0.0, 0.0]),
    "steps up": ([-50.0, 10.0, 14.0, 26.0, 32.0, 200.0], [0.0, 0.0, 3.0, 3.5, 8.0, 9.0]),
}
# bed, level of the roller, chain, share of the way from slack to straight
STATES = [
    (name, bow_m, length_m, share)
    for name, bow_m, length_m in [
        ("level", 14.0, 55.0), ("a hollow", 20.0, 55.0), ("a ledge", 11.0, 51.0),
        ("a hump", 12.0, 55.0), ("steps up", 18.0, 60.0),
    ]
    for share in (0.80, 0.90, 0.97, 0.99)
]  # fmt: skip


@pytest.mark.parametrize("friction", [0.0, 0.6])
@pytest.mark.parametrize(("name", "bow_m", "length_m", "share"), STATES)
def test_the_rode_pulls_as_the_chain_of_least_energy(name, bow_m, length_m, share, friction):
    bed = BedLine(*(np.array(part) for part in BEDS[name]))
    pieces = [np.array([each]) for each in (length_m, WEIGHT_NPM, STIFFNESS_N)]
    rode = LineSegments(*pieces)
    slack_m = rode_at_distance(rode, bed, friction, bow_m, 1.0).slack_distance_m
    straight_m = np.sqrt(length_m**2 - bow_m**2)
    distance_m = slack_m + share * (straight_m - slack_m)
    form = rode_at_distance(rode, bed, friction, bow_m, distance_m)
    chain = Chain(np.stack(pieces, axis=1), bed.along_m, bed.level_m, friction, bow_m, distance_m)
    led = bars_led(chain, form.tension_n)
    # chords for arcs: some hundred-thousandths. With friction where spans lift and land is known
    # to a bar only; what that costs falls in step with the length of the bars (15, 7.5, 3 cm)
    share, bars_n = (2e-4, 0.1) if friction == 0.0 else (2e-3, 3.0)
    assert led.level_n == pytest.approx(form.pull_n, rel=share)
    assert led.bow_n == pytest.approx(form.tension_n, rel=share)
    assert led.shank_n == pytest.approx(form.anchor_tension_n, rel=share, abs=bars_n)
