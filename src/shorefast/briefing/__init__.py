"""Sheets for the crew: one answered stay on A4, drawn and printed."""

from shorefast.briefing.content import SheetContent
from shorefast.briefing.printed import sheet_pdf
from shorefast.briefing.sheet import sheet_svg

__all__ = ["SheetContent", "sheet_pdf", "sheet_svg"]
