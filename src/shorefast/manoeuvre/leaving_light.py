"""Light for leaving: until when hands can work ashore, until when the shore is seen at all."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from shorefast.basis import Assumption, Basis
from shorefast.stay import Stay
from shorefast.weather import night_spans, sun_events

_DAY = timedelta(days=1)
LIGHT_BASIS = Basis(
    assumptions=(
        Assumption(
            "Lines are let go by daylight or civil twilight, and she is clear of the bay before"
            " nautical dusk and not under way before civil dawn (our choice)",
            "Under a steep shore or cloud it is dark sooner: then go sooner",
        ),
    ),
    sources=("usno-rise-set",),
)


class Light(NamedTuple):
    """When it is too dark to let lines go, and too dark to see the shore's outline."""

    civil: tuple[tuple[datetime, datetime], ...]
    nautical: tuple[tuple[datetime, datetime], ...]

    def too_dark(self, from_utc: datetime, untied_utc: datetime, clear_utc: datetime) -> bool:
        """Whether lines let go between two moments, and a way out after that, meet the dark."""
        return _meets(self.civil, from_utc, untied_utc) or _meets(
            self.nautical, untied_utc, clear_utc
        )

    def is_dark(self, at_utc: datetime) -> bool:
        """Whether it is too dark to let lines go."""
        return _meets(self.civil, at_utc, at_utc + timedelta(seconds=1))


def _meets(
    spans: tuple[tuple[datetime, datetime], ...], from_utc: datetime, until_utc: datetime
) -> bool:
    return any(dark < until_utc and from_utc < light for dark, light in spans)


def light_of(stay: Stay) -> Light:
    """The dark hours about a stay, at its bay."""
    frame = stay.bay.frame
    span = (stay.from_utc - _DAY, stay.until_utc + _DAY)
    civil, nautical = (
        night_spans(frame.lat_deg, frame.lon_deg, *span, kind) for kind in ("civil", "nautical")
    )
    return Light(civil, nautical)


def first_light(stay: Stay, after_utc: datetime) -> datetime | None:
    """The first civil dawn after a moment; None where there is none within two days."""
    frame = stay.bay.frame
    until = after_utc.astimezone(UTC) + 2 * _DAY
    events = sun_events(frame.lat_deg, frame.lon_deg, after_utc, until, kinds=("civil",))
    return next((event.at_utc for event in events if event.what == "civil dawn"), None)
