"""Every text a person reads, and how a number is said."""

from shorefast.wording.beside import beside_words
from shorefast.wording.cautions import CAUTIONS, CAUTIONS_SHORT, caution
from shorefast.wording.numbers import (
    UNKNOWN,
    bearing,
    compass,
    degrees,
    duration,
    from_vertical,
    kilograms,
    knots,
    metres,
    position,
    use_words,
)
from shorefast.wording.times import clock, day_clock, local, offset, span
from shorefast.wording.verdict import half_strength_words, verdict_words, worst_words
from shorefast.wording.without import (
    badness,
    double_words,
    follows_words,
    loss_words,
    night_words,
    shows_words,
    touch_words,
    when_words,
)

__all__ = [
    "CAUTIONS",
    "CAUTIONS_SHORT",
    "UNKNOWN",
    "badness",
    "bearing",
    "beside_words",
    "caution",
    "clock",
    "compass",
    "day_clock",
    "degrees",
    "double_words",
    "duration",
    "follows_words",
    "from_vertical",
    "half_strength_words",
    "kilograms",
    "knots",
    "local",
    "loss_words",
    "metres",
    "night_words",
    "offset",
    "position",
    "shows_words",
    "span",
    "touch_words",
    "use_words",
    "verdict_words",
    "when_words",
    "worst_words",
]
