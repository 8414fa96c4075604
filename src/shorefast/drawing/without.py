"""If one goes: one row a part, and what proof and need come to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from shorefast.drawing.lettering import first_rows
from shorefast.drawing.page import Box, Page, Style
from shorefast.drawing.scene import Scene, letter_of
from shorefast.wording import UNKNOWN, badness, kilograms, knots, metres, touch_words, use_words

if TYPE_CHECKING:
    from shorefast.stay import NeedAndProof, WithoutOne

_PART = Style("bold", "ink", 8.5)
_BAD = Style("bold", "give", 8.5)
_SAID = Style("sans", "soft", 8.5)
_ROW_PT = 9.9
_HARDLY_M = 0.1


def draw_without(
    page: Page,
    frame: Box,
    scene: Scene,
    without: Sequence[WithoutOne],
    proof: NeedAndProof | None,
) -> None:
    """Write the parts, the worst first, and below them need against proof."""
    page.begin("without", "If one part goes")
    page.text(frame.left, frame.top + 11.0, "If one goes", Style("title", "ink", 13.0))
    foot = _proof_rows(proof, frame.width)
    bottom = frame.bottom - _ROW_PT * len(foot) - (6.0 if foot else 0.0)
    y = frame.top + 18.0
    rows = sorted(without, key=badness, reverse=True)
    if not rows:
        page.text_rows(frame.left, y + 10.0, ["Not worked out."], _SAID)
    for number, entry in enumerate(rows):
        said = _entry_rows(entry, frame.width)
        left_over = len(rows) - number
        spare = 0.0 if left_over == 1 else _ROW_PT
        if y + 6.0 + _ROW_PT * (1 + len(said)) + spare > bottom:
            words = f"and {left_over} more on the back"
            page.text(frame.left, y + 10.0, words, Style("italic", "soft", 8.5))
            break
        page.line((frame.left, y), (frame.right, y), "faint-line")
        style = _BAD if number == 0 and badness(entry) > 1.0 else _PART
        letter = letter_of(scene, entry.name)
        named = entry.name if letter is None else f"{letter}  {entry.name}"
        name = first_rows(named, style.face, style.size_pt, frame.width, 1)
        y = page.text_rows(frame.left, y + 10.0, name, style)
        y = page.text_rows(frame.left, y, said, _SAID) - 4.4
    page.text_rows(frame.left, frame.bottom - _ROW_PT * (len(foot) - 1) - 2.0, foot, _SAID)
    page.end()


def without_words(entry: WithoutOne) -> list[str]:
    """One loss in short sentences."""
    if entry.adrift:
        return [f"Nothing brings her to rest: {touch_words(entry)}."]
    if not entry.found:
        on_the_way = touch_words(entry)
        return [
            *(_next_words(entry) if entry.follows else []),
            *([f"She {on_the_way}."] if on_the_way else []),
            "No rest found: where she ends up is unknown.",
        ]
    rows = []
    moved = f"Moves {metres(entry.moved_m)}" if math.isfinite(entry.moved_m) else "Moves: unknown"
    if entry.moved_m < _HARDLY_M:
        moved = "Hardly moves"
    if not math.isfinite(entry.least_room_m):
        rows.append(f"{moved}, room {UNKNOWN}.")
    elif entry.least_room_m <= 0.0:
        rows.append(f"{moved} and {touch_words(entry) or 'may touch'}.")
    else:
        rows.append(f"{moved}, {metres(entry.least_room_m)} room left.")
        if entry.touches is not None:
            rows.append(f"On the way she {touch_words(entry)}.")
    rows += _next_words(entry)
    if entry.holds_to_mps is not None and math.isfinite(entry.holds_to_mps):
        rows.append(f"Holds to {knots(entry.holds_to_mps)}.")
    return rows


def _next_words(entry: WithoutOne) -> list[str]:
    """Which part comes next and how hard, or that it is room that runs out."""
    if entry.follows:
        part = "parts" if len(entry.follows) == 1 else "part"
        return [f"Then {', then '.join(entry.follows)} {part} too."]
    if entry.next_part is None:
        return []
    if entry.next_part.startswith(("water under", "hull to", "tender to")):
        short = entry.least_room_m > 0.0 and entry.next_use > 1.0
        return [f"Too little {entry.next_part}."] if short else []
    if not math.isfinite(entry.next_use):
        return [f"Then {entry.next_part} past its limit."]
    return [f"Then {entry.next_part} at {use_words(entry.next_use)} of its limit."]


def _entry_rows(entry: WithoutOne, room_pt: float) -> list[str]:
    return first_rows(" ".join(without_words(entry)), _SAID.face, _SAID.size_pt, room_pt, 4)


def proof_words(proof: NeedAndProof) -> str:
    """Need against proof, and which winds the engine's pull is like."""
    need, proved = kilograms(proof.need_n), kilograms(proof.proof_n)
    ahead, abeam = knots(proof.wind_ahead_mps), knots(proof.wind_abeam_mps)
    asked = f"The anchor needs {need}"
    if not math.isfinite(proof.need_n):
        asked = f"What the anchor needs is {UNKNOWN}"
    if not math.isfinite(proof.proof_n):
        return f"{asked}; what the engine proves is {UNKNOWN}."
    like = f"its {kilograms(proof.pull_n)} at the roller are {ahead} of wind ahead or {abeam} abeam"
    return f"{asked}; the engine proves {proved} at the shank: {like}."


def _proof_rows(proof: NeedAndProof | None, room_pt: float) -> list[str]:
    if proof is None:
        return []
    return first_rows(proof_words(proof), _SAID.face, _SAID.size_pt, room_pt, 5)
