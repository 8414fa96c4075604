"""Worked cases and published checks, run and held against what is expected."""

from shorefast.app.verification.listing import listing
from shorefast.app.verification.page import page
from shorefast.app.verification.run import run, shipped_texts, tasks_of

__all__ = ["listing", "page", "run", "shipped_texts", "tasks_of"]
