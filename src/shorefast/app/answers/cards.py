"""``shorefast cards``: one small card a person, the night card, the watch, the bay."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import numpy as np

from shorefast.app.answer import Answer
from shorefast.app.out_folder import ready
from shorefast.briefing import CardContent, CardLine, CardPlace, CardVessel, cards_pdf
from shorefast.errors import BadInput
from shorefast.readers import read_stay
from shorefast.stay import Lie, Stay
from shorefast.wording import card_words

PAPERS: tuple[Literal["a4", "a6"], ...] = ("a4", "a6")


def card_content(stay: Stay) -> CardContent:
    """Everything the cards are drawn from, worked out."""
    lie = _lie(stay)
    boat, frame = stay.boat, stay.bay.frame
    lat_deg, lon_deg = frame.to_earth(lie.let_go_east_m, lie.let_go_north_m)
    level = stay.bay.surface.level_at(np.array([lie.let_go_east_m]), np.array([lie.let_go_north_m]))
    points = {point.name: point for point in stay.bay.points}
    return CardContent(
        vessel=CardVessel(boat.name, boat.hull.length_m, boat.hull.beam_m, boat.hull.draught_m),
        place=CardPlace(stay.bay.name, float(lat_deg), float(lon_deg), stay.bay.zone_name),
        from_utc=stay.from_utc,
        until_utc=stay.until_utc,
        heading_rad=lie.heading_rad,
        chain_m=lie.chain_out_m,
        water_m=-float(np.ravel(level)[0]),
        lines=tuple(
            CardLine(
                one.line, one.cleat, one.point,
                points[one.point].kind if one.point in points else "", one.length_m,
                doubled=one.doubled,
            )
            for one in lie.lines
        ),
        basis=stay.basis,
    )  # fmt: skip


def _lie(stay: Stay) -> Lie:
    if stay.lie is None:
        raise BadInput(
            "Cards",
            "a lie still to be chosen",
            "cards tell of one lie",
            "Give the lie in the stay file.",
        )
    return stay.lie


def answer_cards(
    stay_path: Path, out: Path = Path(), paper: str = "a4", language: str = "en"
) -> Answer:
    """Write the cards of a stay into a folder.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``; for a paper or a language that is not there; where ``out`` is a file.
    """
    sheet = next((name for name in PAPERS if name == paper), None)
    if sheet is None:
        raise BadInput("Paper", f"'{paper}'", "a4 or a6 wanted", "Take one of these.")
    words = card_words(language)
    stay = read_stay(stay_path)
    content = card_content(stay)
    ready(out)
    written = out / "cards.pdf"
    written.write_bytes(cards_pdf(content, words, sheet))
    return Answer("cards", {"written": [written]}, content.basis, "Cards.", (written,))
