"""An hour on a card: the time of day, with its weekday where the stay is longer than a day."""

from __future__ import annotations

from datetime import datetime, timedelta

from shorefast.briefing.cards.content import CardContent
from shorefast.wording import CardWords, local

_DAY = timedelta(hours=24)
_LETTERS = 3


def hour_told(at_utc: datetime, content: CardContent, words: CardWords) -> str:
    """``04:30``, or ``Sat 04:30`` where that time of day comes more than once in the stay.

    A weekday is its first three letters, which no two share in any language of the cards.
    """
    zone = content.place.zone_name
    clock = words.clock(at_utc, zone)
    if content.until_utc - content.from_utc <= _DAY:
        return clock
    day = words.rows("number.weekdays")[local(at_utc, zone).weekday()]
    return f"{day[:_LETTERS]} {clock}"
