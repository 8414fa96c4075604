"""How fast the odds of a night are, and single failures of the same night."""

from __future__ import annotations

import resource
import time
from dataclasses import replace

from measures.commands import NOTCH
from measures.figure import Figure, measured, told

from shorefast.readers import read_stay
from shorefast.stay import Question, if_one_goes, judge, odds

SAMPLES = 512
_JUDGED_SO = 6


def odds_of_a_night() -> tuple[Figure, ...]:
    """512 samples of the notch's night with all members, all hours; advice worked out too.

    Beside it the whole judge for each sample's own lie, a few of them and made whole.
    """
    stay = read_stay(NOTCH / "stay.toml")
    judged = judge(stay)
    odds(stay, judged, Question(samples=64))
    begun = time.perf_counter()
    found = odds(stay, judged, Question(samples=SAMPLES))
    took_s = time.perf_counter() - begun
    begun = time.perf_counter()
    for number in range(_JUDGED_SO):
        assert stay.lie is not None
        lie = replace(stay.lie, let_go_east_m=stay.lie.let_go_east_m + 0.1 * number)
        judge(replace(stay, lie=lie))
    beside_s = (time.perf_counter() - begun) / _JUDGED_SO * found.samples
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return (
        measured("odds", took_s, "s", "< 10", ("each sample judged whole", beside_s)),
        told("odds-memory", most_mb, "MB so far"),
    )


def failures_of_a_night() -> Figure:
    """Every single failure of the notch's night, 51 members every ten minutes, warm."""
    stay = read_stay(NOTCH / "stay.toml")
    judged = judge(stay)
    if_one_goes(stay, judged)
    begun = time.perf_counter()
    if_one_goes(stay, judged)
    return measured("if-one-goes", time.perf_counter() - begun, "s", "< 1")
