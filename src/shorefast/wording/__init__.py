"""Every text a person reads, and how a number is said."""

from shorefast.wording.beside import beside_words
from shorefast.wording.cautions import CAUTIONS, CAUTIONS_SHORT, caution
from shorefast.wording.choice import (
    choice_words,
    dropped_words,
    finalist_words,
    help_words,
    lie_named,
    lie_rows,
    other_words,
    room_words,
)
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
    "choice_words",
    "clock",
    "compass",
    "day_clock",
    "degrees",
    "dropped_words",
    "duration",
    "finalist_words",
    "from_vertical",
    "half_strength_words",
    "help_words",
    "kilograms",
    "knots",
    "lie_named",
    "lie_rows",
    "local",
    "metres",
    "offset",
    "other_words",
    "position",
    "room_words",
    "span",
    "use_words",
    "verdict_words",
    "worst_words",
]
