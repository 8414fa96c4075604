"""Sheets for the crew: one answered stay on A4, and a card for everybody who carries it out."""

from shorefast.briefing.cards import (
    CardContent,
    CardLine,
    CardPlace,
    CardVessel,
    cards_pdf,
)
from shorefast.briefing.content import SheetContent
from shorefast.briefing.printed import sheet_pdf
from shorefast.briefing.sheet import sheet_svg

__all__ = [
    "CardContent",
    "CardLine",
    "CardPlace",
    "CardVessel",
    "SheetContent",
    "cards_pdf",
    "sheet_pdf",
    "sheet_svg",
]
