"""Every text a person reads, and how a number is said."""

from shorefast.wording.beside import beside_words
from shorefast.wording.cautions import CAUTIONS, CAUTIONS_SHORT, caution
from shorefast.wording.ease import cost_words, ease_words, length_words
from shorefast.wording.ground import ground_rows, ground_words, square_metres
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

__all__ = [
    "CAUTIONS",
    "CAUTIONS_SHORT",
    "UNKNOWN",
    "bearing",
    "beside_words",
    "caution",
    "clock",
    "compass",
    "cost_words",
    "day_clock",
    "degrees",
    "duration",
    "ease_words",
    "from_vertical",
    "ground_rows",
    "ground_words",
    "half_strength_words",
    "kilograms",
    "knots",
    "length_words",
    "local",
    "metres",
    "offset",
    "position",
    "span",
    "square_metres",
    "use_words",
    "verdict_words",
    "worst_words",
]
