"""Cards on paper: one face a page on A6, or four a page on A4 with lines to cut and to fold."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import resources
from typing import Any, Literal

import typst

from shorefast.briefing.cards.flow import FACE_HIGH_PT, FACE_WIDE_PT
from shorefast.drawing import Page

Paper = Literal["a4", "a6"]
_A4 = (595.28, 841.89)
_CUT = "(paint: black, thickness: 0.6pt, dash: (3pt, 3pt))"
_FOLD = "(paint: black, thickness: 0.6pt, dash: (0.6pt, 3pt))"


def faces_pdf(pages: Sequence[Page], paper: Paper, title: str) -> bytes:
    """All faces as one file, the same bytes for the same answer.

    Parameters
    ----------
    pages : sequence of Page
        Faces of cards, an even number each: on A4 the two of a leaf stand side by side,
        to be cut off above and below and folded back to back.
    title : str
        Of the document.
    """
    body = _four_up(len(pages)) if paper == "a4" else _one_up(len(pages))
    return _compiled(pages, body, _A4 if paper == "a4" else (FACE_WIDE_PT, FACE_HIGH_PT), title)


def sheet_pdf(front: Page, columns: Sequence[Page], title: str) -> bytes:
    """A sheet as a file: a page of its own size, and overleaf columns two abreast."""
    body = _image(0)
    for left in range(1, len(columns) + 1, 2):
        placed = (
            f"#place(top + left, dx: {at * FACE_WIDE_PT}pt,"
            f' image("page{left + at}.svg", width: {FACE_WIDE_PT}pt, alt: sys.inputs.title))\n'
            for at in (0, 1)
        )
        body += "#pagebreak()\n" + "".join(placed)
    return _compiled([front, *columns], body, (front.width_pt, front.height_pt), title)


def _compiled(pages: Sequence[Page], body: str, size_pt: tuple[float, float], title: str) -> bytes:
    head = (
        "#set document(title: sys.inputs.title, date: none)\n"
        f"#set page(width: {size_pt[0]}pt, height: {size_pt[1]}pt, margin: 0pt)\n"
    )
    # by name, all in memory: the library takes it, its types tell of paths only
    files: Any = {"main.typ": (head + body).encode()}
    for number, page in enumerate(pages):
        files[f"page{number}.svg"] = page.svg("card", title, title).encode()
    printed: bytes = typst.compile(
        files,
        format="pdf",
        font_paths=[str(resources.files("shorefast.drawing").joinpath("fonts"))],
        ignore_system_fonts=True,
        sys_inputs={"title": title},
        timestamp=0,
    )
    return printed


def _image(number: int) -> str:
    return f'#image("page{number}.svg", width: 100%, alt: sys.inputs.title)\n'


def _one_up(count: int) -> str:
    return "#pagebreak()\n".join(map(_image, range(count)))


def _four_up(count: int) -> str:
    """Two leaves a page, one above the other; cut across, fold down the middle."""
    sheets = []
    for start in range(0, count, 4):
        placed = [
            f"#place(top + left, dx: {at % 2 * FACE_WIDE_PT}pt, dy: {at // 2 * _A4[1] / 2}pt,"
            f' image("page{start + at}.svg", width: {FACE_WIDE_PT}pt, alt: sys.inputs.title))\n'
            for at in range(min(4, count - start))
        ]
        half = _A4[1] / 2
        placed.append(f"#place(top + left, dy: {half}pt, line(length: 100%, stroke: {_CUT}))\n")
        placed.append(
            f"#place(top + left, dx: {FACE_WIDE_PT}pt,"
            f" line(angle: 90deg, length: {_A4[1] if count - start > 2 else half}pt,"
            f" stroke: {_FOLD}))\n"
        )
        sheets.append("".join(placed))
    return "#pagebreak()\n".join(sheets)
