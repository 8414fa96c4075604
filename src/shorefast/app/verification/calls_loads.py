"""Published checks."""

from __future__ import annotations

from shorefast.app.verification.calls import Call

LOAD_CALLS: dict[str, Call] = {}
