"""Published checks."""

from __future__ import annotations

from shorefast.app.verification.calls import Call

WEATHER_CALLS: dict[str, Call] = {}
