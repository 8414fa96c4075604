"""The cards: one small sheet a person, the night card, the watch bill, the sheet of the bay."""

from shorefast.briefing.cards.content import CardContent, CardLine, CardPlace, CardVessel
from shorefast.briefing.cards.pack import cards_pdf, pack

__all__ = ["CardContent", "CardLine", "CardPlace", "CardVessel", "cards_pdf", "pack"]
