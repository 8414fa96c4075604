"""The sheet on paper: A4 across, vector, fonts inside, the same bytes for the same answer."""

from __future__ import annotations

from importlib import resources
from typing import Any

import typst

from shorefast.briefing.back import back_pages
from shorefast.briefing.content import SheetContent
from shorefast.briefing.sheet import front_page
from shorefast.drawing import PaletteName

_HEAD = """#set document(title: sys.inputs.title, date: none)
#set page(width: 841.89pt, height: 595.28pt, margin: 0pt)
"""


def sheet_pdf(content: SheetContent, palette: PaletteName = "day") -> bytes:
    """The whole sheet, front and back, as one PDF file.

    Parameters
    ----------
    palette : "day", "night" or "print"
        "print" needs no colour and little ink.

    Raises
    ------
    BadInput
        If the lie is still to be chosen, or names a point or cleat nobody knows.
    """
    pages = [front_page(content), *back_pages(content)]
    title = f"{content.stay.bay.name}: {content.headline}"
    said = [content.reason, *("What the sheet rests on, and all cautions." for _ in pages[1:])]
    # by name, all in memory: the library takes it, its types tell of paths only
    files: Any = {"main.typ": (_HEAD + _images(len(pages))).encode()}
    for number, page in enumerate(pages):
        files[f"page{number}.svg"] = page.svg(palette, title, said[number]).encode()
    printed: bytes = typst.compile(
        files,
        format="pdf",
        font_paths=[str(resources.files("shorefast.drawing").joinpath("fonts"))],
        ignore_system_fonts=True,
        sys_inputs={"title": title, "front": said[0]},
        timestamp=0,
    )
    return printed


def _images(count: int) -> str:
    """One page of the document for every drawing."""
    said = ["sys.inputs.front", *('"What the sheet rests on."' for _ in range(count - 1))]
    return "#pagebreak()\n".join(
        f'#image("page{number}.svg", width: 100%, alt: {words})\n'
        for number, words in enumerate(said)
    )
