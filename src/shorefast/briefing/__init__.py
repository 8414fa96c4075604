"""Sheets for the crew: one answered stay on A4, and a card for everybody who carries it out."""

from shorefast.briefing.cards import (
    BaySheet,
    CardApproach,
    CardCall,
    CardContent,
    CardLeaving,
    CardLine,
    CardLoss,
    CardNight,
    CardOutcome,
    CardPerson,
    CardPlace,
    CardProof,
    CardStep,
    CardTransit,
    CardTurn,
    CardVessel,
    bay_pdf,
    cards_pdf,
    night_card_pdf,
    watch_calendar,
)
from shorefast.briefing.content import SheetContent
from shorefast.briefing.printed import sheet_pdf
from shorefast.briefing.sheet import sheet_svg

__all__ = [
    "BaySheet",
    "CardApproach",
    "CardCall",
    "CardContent",
    "CardLeaving",
    "CardLine",
    "CardLoss",
    "CardNight",
    "CardOutcome",
    "CardPerson",
    "CardPlace",
    "CardProof",
    "CardStep",
    "CardTransit",
    "CardTurn",
    "CardVessel",
    "SheetContent",
    "bay_pdf",
    "cards_pdf",
    "night_card_pdf",
    "sheet_pdf",
    "sheet_svg",
    "watch_calendar",
]
