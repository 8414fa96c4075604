"""Sheets for the crew."""

from shorefast.briefing.content import SheetContent

__all__ = ["SheetContent"]
