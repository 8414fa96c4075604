"""``shorefast cards``: one small card a person, the night card, the watch, the bay."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from shorefast.app.answer import Answer
from shorefast.app.answers.cards_filled import (
    crewed,
    lines_of,
    night_of,
    place_of,
    steps_of,
    turns_of,
    vessel_of,
    water_m,
)
from shorefast.app.answers.cards_manoeuvre import (
    approach_of,
    left_in,
    proved_in,
    settled_in,
    way_marks,
    worked_of,
)
from shorefast.app.answers.noticed import with_noticed
from shorefast.app.out_folder import ready
from shorefast.app.progress import Progress
from shorefast.briefing import (
    BaySheet,
    CardContent,
    CardTold,
    bay_pdf,
    cards_pdf,
    cards_told,
    night_card_pdf,
    watch_calendar,
)
from shorefast.errors import BadInput
from shorefast.readers import read_stay
from shorefast.stay import Lie, Stay, chain_shapes, if_one_goes, judge, where_to_let_go
from shorefast.wording import CardWords, card_words

PAPERS: tuple[Literal["a4", "a6"], ...] = ("a4", "a6")


@dataclass(frozen=True)
class Carded:
    """A stay worked out for its cards: what stands on them, and the sheet of the bay."""

    content: CardContent
    bay: BaySheet


def carded(
    stay: Stay, words: CardWords, *, with_losses: bool = False, progress: Progress | None = None
) -> Carded:
    """Everything the cards are drawn from, worked out.

    Raises
    ------
    BadInput
        If the lie is still to be chosen.
    """
    lie = _lie(stay)
    judged = judge(stay)
    without = if_one_goes(stay, judged) if with_losses else None
    worked = worked_of(stay, judged)
    led = worked.led
    content = CardContent(
        vessel=vessel_of(stay),
        place=place_of(stay, judged.judgement, lie),
        from_utc=stay.from_utc,
        until_utc=stay.until_utc,
        heading_rad=lie.heading_rad,
        chain_m=lie.chain_out_m,
        water_m=water_m(stay, lie),
        lines=lines_of(lie, led),
        people=crewed(stay, led.crew),
        by=led.by,
        water_k=stay.water_k,
        tends=led.tends if led.crew.told else None,
        steps=steps_of(led),
        fenders=led.fenders.sides,
        tender_side=None if led.tender is None else led.tender.side,
        painter_m=math.nan if led.tender is None else led.tender.painter_m,
        handover_to=led.handover.to_person if led.handover and led.crew.told else None,
        turns=turns_of(stay),
        night=night_of(stay, judged, without, worked.left),
        ahead=worked.ahead,
        approach=None if worked.way is None else approach_of(worked.way),
        basis=judged.judgement.basis | worked.basis,
    )
    content = content if worked.proved is None else proved_in(content, worked.proved)
    content = content if worked.settled is None else settled_in(content, worked.settled)
    content = content if worked.left is None else left_in(content, judged, worked.left)
    shapes = chain_shapes(stay, judged)
    let_go = where_to_let_go(stay, judged, progress=progress)
    marks = way_marks(worked.way, worked.proved, words)
    return Carded(content, BaySheet(stay, judged.judgement, shapes, let_go, marks))


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
    stay_path: Path,
    out: Path = Path(),
    paper: str = "a4",
    language: str = "en",
    *,
    with_losses: bool = False,
    at_utc: datetime | None = None,
    progress: Progress | None = None,
) -> Answer:
    """Write the cards of a stay into a folder.

    with_losses : also what follows if one line, point, cleat or the anchor goes.
    at_utc : when the calendar file is made; now where left out.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``; for a paper or a language that is not there; where ``out`` is a file.
    """
    sheet = next((name for name in PAPERS if name == paper), None)
    if sheet is None:
        raise BadInput("Paper", f"'{paper}'", "one of a4, a6 wanted", "Take one of these.")
    words = card_words(language)
    stay = read_stay(stay_path)
    _lie(stay)
    ready(out)
    found = carded(stay, words, with_losses=with_losses, progress=progress)
    made_utc = datetime.now(UTC) if at_utc is None else at_utc
    written = _written(out, found, words, sheet, made_utc)
    listed = cards_told(found.content, words)
    keys = {
        "language": language,
        "unreviewed": language != "en",
        "paper": sheet,
        "cards": [
            {"name": one.name, "people": list(one.people), "faces": one.faces} for one in listed
        ],
        "watch": [
            {"person": one.person, "from_utc": one.from_utc, "until_utc": one.until_utc}
            for one in found.content.turns
        ],
        "to_fill_in": _to_fill_in(found.content),
        "written": list(written.values()),
    }
    text = with_noticed(_text(found.content, words, listed, sheet), found.content.basis)
    return Answer("cards", keys, found.content.basis, text, tuple(written.values()))


def _written(
    out: Path, found: Carded, words: CardWords, paper: Literal["a4", "a6"], made_utc: datetime
) -> dict[str, Path]:
    files = {
        "cards": (out / "cards.pdf", cards_pdf(found.content, words, paper)),
        "night": (out / "night-card.pdf", night_card_pdf(found.content, words, paper)),
        "bay": (out / "bay.pdf", bay_pdf(found.bay, found.content, words)),
        "watch": (out / "watch.ics", watch_calendar(found.content, words, made_utc)),
    }
    if not found.content.turns:
        del files["watch"]
    for path, data in files.values():
        path.write_bytes(data)
    return {name: path for name, (path, _) in files.items()}


def _to_fill_in(content: CardContent) -> list[str]:
    """What the cards have blank lines for, since nobody told it."""
    vessel, night = content.vessel, content.night
    asked = {
        "call sign": vessel.call_sign is None,
        "MMSI": vessel.mmsi is None,
        "names": not content.people,
        "wake-me numbers": not math.isfinite(night.wake_gust_mps),
        "if one goes (ask with --if-one-goes)": night.losses is None,
    }
    return [name for name, missing in asked.items() if missing]


def _text(content: CardContent, words: CardWords, listed: tuple[CardTold, ...], paper: str) -> str:
    """What there is, how it is cut, and what is still to be written on it."""
    place = f"{content.vessel.name} at {content.place.bay_name}"
    said = [f"The cards of {place}: {_cutting(paper)}"]
    wide = max(len(one.title) for one in listed)
    said += [f"  {one.title:{wide}}  {_whose(one)}" for one in listed]
    fill = _to_fill_in(content)
    said += [f"To be written in by hand: {', '.join(fill)}."] if fill else []
    if not content.turns:
        said.append("No watch bill: nobody aboard is told who can keep a watch.")
    if words.language != "en":
        said.append("No native seaman has read this language's cards yet; they say so.")
    return "\n".join(said)


def _cutting(paper: str) -> str:
    if paper == "a6":
        return "one face a page; print both sides."
    return "four faces a page; cut along the dashes, fold along the dots."


def _whose(one: CardTold) -> str:
    faces = f"{one.faces} faces"
    return f"{faces}: {', '.join(one.people)}" if one.people else faces
