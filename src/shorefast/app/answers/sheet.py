"""``shorefast sheet``: the stay drawn on one page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Literal

from shorefast.app.answer import Answer
from shorefast.app.answers.judge import judgement_keys
from shorefast.app.answers.run_soundings import run_day, with_their_bed
from shorefast.app.out_folder import ready
from shorefast.app.progress import Progress
from shorefast.basis import Basis
from shorefast.briefing import SheetContent, sheet_pdf, sheet_svg
from shorefast.errors import BadInput
from shorefast.readers import outside_tide, read_stay
from shorefast.stay import (
    Stay,
    chain_shapes,
    if_one_goes,
    judge,
    need_and_proof,
    odds,
    what_it_will_stand,
    where_to_let_go,
)
from shorefast.weather import moonlight, night_spans
from shorefast.wording import CAUTIONS, verdict_words

PaletteName = Literal["day", "night", "print"]
PALETTES: tuple[PaletteName, ...] = ("day", "night", "print")


def _nights(stay: Stay) -> tuple[tuple[datetime, datetime], ...]:
    """Sunset to sunrise, as far as they touch the stay; all of it where the sun stays down."""
    frame, day = stay.bay.frame, timedelta(days=1)
    ends = (stay.from_utc - day, stay.until_utc + day)
    return night_spans(frame.lat_deg, frame.lon_deg, *ends, kind="sun")


def _moonlight(stay: Stay) -> tuple[tuple[datetime, datetime, float], ...]:
    """The stay's dark hours with a moon that lights, and its lit share."""
    frame = stay.bay.frame
    spans = moonlight(frame.lat_deg, frame.lon_deg, stay.from_utc, stay.until_utc)
    return tuple((one.from_utc, one.until_utc, one.lit_share) for one in spans)


def sheet_content(stay: Stay, progress: Progress | None = None) -> SheetContent:
    """Everything the sheet is drawn from, worked out."""
    judged = judge(stay)
    headline, reason = verdict_words(stay, judged.judgement)
    return SheetContent(
        stay=stay,
        judgement=judged.judgement,
        stands=what_it_will_stand(stay, judged),
        shapes=chain_shapes(stay, judged),
        without=if_one_goes(stay, judged),
        proof=need_and_proof(stay, judged),
        headline=headline,
        reason=reason,
        cautions=CAUTIONS,
        odds=odds(stay, judged, progress=progress),
        let_go=where_to_let_go(stay, judged, progress=progress),
        night=_nights(stay),
        moonlight=_moonlight(stay),
        basis=judged.judgement.basis,
    )


def _with_runs(stay: Stay, soundings: Sequence[Path], day: date | None) -> Stay:
    found = with_their_bed(stay, soundings, day, "a sheet")
    stay = found.taken.stay
    return replace(stay, basis=stay.basis | Basis(findings=outside_tide(found.read, stay)))


def answer_sheet(
    stay_path: Path,
    out: Path,
    palette: str = "day",
    soundings: Sequence[Path] = (),
    day: str | None = None,
    progress: Progress | None = None,
) -> Answer:
    """Write ``sheet.svg`` and ``sheet.pdf`` of a stay into a folder.

    soundings, day : runs to take into the bed first, as ``judge`` does; their depths stand
        in the plan among the bay's.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``, for a palette that is not there, and where ``out`` is a file.
    """
    chosen = next((name for name in PALETTES if name == palette), None)
    if chosen is None:
        raise BadInput(
            "Palette", f"'{palette}'", f"one of {', '.join(PALETTES)} wanted", "Take one of these."
        )
    stay = read_stay(stay_path)
    if soundings:
        stay = _with_runs(stay, soundings, run_day(day))
    ready(out)
    content = sheet_content(stay, progress)
    drawn, printed = out / "sheet.svg", out / "sheet.pdf"
    drawn.write_text(sheet_svg(content, chosen), encoding="utf-8")
    printed.write_bytes(sheet_pdf(content, chosen))
    keys = {**judgement_keys(content.stay, content.judgement), "written": [drawn, printed]}
    text = f"{content.headline}\n{content.reason}"
    return Answer("sheet", keys, content.basis, text, (drawn, printed))
