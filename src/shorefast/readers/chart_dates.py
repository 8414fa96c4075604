"""When a charted rule is in force: fixed dates, and seasons that come back every year."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from shorefast.readers.chart_codes import Says, words_of

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def force_of(says: Says) -> tuple[datetime | None, datetime | None]:
    """From when until when an object's rule holds; None: without such an end.

    The days are taken in UTC, the last of them whole. A date without its day, or its
    month, holds from the first to the last day of it.

    Source
    ------
    iho-s57, attributes DATSTA and DATEND
    """
    begin, end = day_span(words_of(says, "DATSTA")), day_span(words_of(says, "DATEND"))
    return (
        None if begin is None else _midnight(begin[0]),
        None if end is None else _midnight(end[1] + timedelta(days=1)),
    )


def season_of(says: Says) -> str | None:
    """The part of each year an object's rule is for, in words; None: no season told.

    A season has no year, and a zone is in force once: it is kept in force all through,
    with its season in its name, rather than dropped out of season by our own reckoning.

    Source
    ------
    iho-s57, attributes PERSTA and PEREND
    """
    begin, end = _of_year(words_of(says, "PERSTA")), _of_year(words_of(says, "PEREND"))
    if begin is None and end is None:
        return None
    if begin is not None and end is not None:
        return f"each year from {begin} to {end}"
    return f"each year from {begin}" if end is None else f"each year until {end}"


def day_span(told: str | None) -> tuple[date, date] | None:
    """First and last day of CCYYMMDD, CCYYMM or CCYY; None where it is none of them."""
    digits = (told or "").strip()
    if not digits.isdigit() or len(digits) not in (4, 6, 8):
        return None
    year, month, day = int(digits[:4]), int(digits[4:6] or 0), int(digits[6:] or 0)
    try:
        first = date(year, month or 1, day or 1)
        if day:
            return first, first
        after = date(year + 1, 1, 1) if month in (0, 12) else date(year, month + 1, 1)
    except ValueError:
        return None
    return first, after - timedelta(days=1)


def day_told(told: str | None) -> str | None:
    """A date as a chart has it, with dashes: 2003-12."""
    if day_span(told) is None or told is None:
        return None
    digits = told.strip()
    return "-".join(part for part in (digits[:4], digits[4:6], digits[6:]) if part)


def _of_year(told: str | None) -> str | None:
    """'--0401' as '1 April', '--04' as 'April'; a whole date as it stands."""
    text = (told or "").strip()
    if not text.startswith("--"):
        return day_told(text)
    digits = text[2:]
    if not digits.isdigit() or len(digits) not in (2, 4) or not 1 <= int(digits[:2]) <= 12:
        return None
    month = _MONTHS[int(digits[:2]) - 1]
    return f"{int(digits[2:])} {month}" if len(digits) == 4 else month


def _midnight(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)
