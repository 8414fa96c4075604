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
from shorefast.wording.ease import cost_words, ease_words, length_words
from shorefast.wording.ground import ground_rows, ground_words, lying_words, square_metres
from shorefast.wording.gust_words import gust_response_words
from shorefast.wording.let_go import ellipse_words, let_go_words
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
from shorefast.wording.odds import odds_short, odds_told, odds_words
from shorefast.wording.proving import (
    lead_words,
    mark_words,
    outcome_words,
    proving_words,
    revs_words,
    transit_words,
)
from shorefast.wording.settling import settling_words, take_in_words
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
    "choice_words",
    "clock",
    "compass",
    "cost_words",
    "day_clock",
    "degrees",
    "double_words",
    "dropped_words",
    "duration",
    "ease_words",
    "ellipse_words",
    "finalist_words",
    "follows_words",
    "from_vertical",
    "ground_rows",
    "ground_words",
    "gust_response_words",
    "half_strength_words",
    "help_words",
    "kilograms",
    "knots",
    "lead_words",
    "length_words",
    "let_go_words",
    "lie_named",
    "lie_rows",
    "local",
    "loss_words",
    "lying_words",
    "mark_words",
    "metres",
    "night_words",
    "odds_short",
    "odds_told",
    "odds_words",
    "offset",
    "other_words",
    "outcome_words",
    "position",
    "proving_words",
    "revs_words",
    "room_words",
    "settling_words",
    "shows_words",
    "span",
    "square_metres",
    "take_in_words",
    "touch_words",
    "transit_words",
    "use_words",
    "verdict_words",
    "when_words",
    "worst_words",
]
