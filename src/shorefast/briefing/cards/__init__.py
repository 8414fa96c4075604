"""The cards: one small sheet a person, the night card, the watch bill, the sheet of the bay."""

from shorefast.briefing.cards.bay import BaySheet, bay_pdf
from shorefast.briefing.cards.calendar import watch_calendar
from shorefast.briefing.cards.content import (
    CardApproach,
    CardCall,
    CardContent,
    CardDoubledBack,
    CardLeaving,
    CardLetGo,
    CardLine,
    CardLoss,
    CardMark,
    CardNight,
    CardOff,
    CardOutcome,
    CardPerson,
    CardPlace,
    CardProof,
    CardStep,
    CardTransit,
    CardTurn,
    CardVessel,
)
from shorefast.briefing.cards.pack import CardTold, cards_pdf, cards_told, night_card_pdf, pack
from shorefast.briefing.cards.proof import TRANSIT_LETTERS

__all__ = [
    "TRANSIT_LETTERS",
    "BaySheet",
    "CardApproach",
    "CardCall",
    "CardContent",
    "CardDoubledBack",
    "CardLeaving",
    "CardLetGo",
    "CardLine",
    "CardLoss",
    "CardMark",
    "CardNight",
    "CardOff",
    "CardOutcome",
    "CardPerson",
    "CardPlace",
    "CardProof",
    "CardStep",
    "CardTold",
    "CardTransit",
    "CardTurn",
    "CardVessel",
    "bay_pdf",
    "cards_pdf",
    "cards_told",
    "night_card_pdf",
    "pack",
    "watch_calendar",
]
