"""The plan of a bay as drawing, print and picture, by the sheet's own three palettes."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import Any, Literal

from shorefast.bay import Bay
from shorefast.drawing import Page, chart_page
from shorefast.errors import BadInput
from shorefast.wording import CAUTIONS_SHORT

PaletteName = Literal["day", "night", "print"]
PALETTES: tuple[PaletteName, ...] = ("day", "night", "print")
_CAUTIONS = tuple(CAUTIONS_SHORT[number - 1] for number in (1, 9, 13))
_PICTURE_PPI = 150


def palette_of(name: str) -> PaletteName:
    """The palette of that name.

    Raises
    ------
    BadInput
        If there is none.
    """
    chosen = next((one for one in PALETTES if one == name), None)
    if chosen is None:
        raise BadInput(
            "Palette", f"'{name}'", f"one of {', '.join(PALETTES)} wanted", "Take one of these."
        )
    return chosen


def write_plan(out: Path, bay: Bay, palette: PaletteName) -> tuple[Path, Path, Path]:
    """Write ``plan.svg``, ``plan.pdf`` and ``plan.png``; no time of writing in any."""
    page = chart_page(bay, _CAUTIONS)
    title = f"{bay.name}: plan"
    said = f"Charted depths of {bay.name} with their doubt, zones and points ashore."
    paths = (out / "plan.svg", out / "plan.pdf", out / "plan.png")
    paths[0].write_text(
        page.svg(palette, title, said, fonts_inside=True), encoding="utf-8", newline="\n"
    )
    drawn = page.svg(palette, title, said).encode()
    paths[1].write_bytes(set_page(page, drawn, (title, said), "pdf"))
    paths[2].write_bytes(set_page(page, drawn, (title, said), "png"))
    return paths


def set_page(
    page: Page, drawn: bytes, words: tuple[str, str], form: Literal["pdf", "png"]
) -> bytes:
    """A drawn page as print or picture; words are its title and what it shows."""
    import typst

    head = (
        "#set document(title: sys.inputs.title, date: none)\n"
        f"#set page(width: {page.width_pt}pt, height: {page.height_pt}pt, margin: 0pt)\n"
        '#image("plan.svg", width: 100%, alt: sys.inputs.said)\n'
    )
    # by name, all in memory: the library takes it, its types tell of paths only
    files: Any = {"main.typ": head.encode(), "plan.svg": drawn}
    made: bytes = typst.compile(
        files,
        format=form,
        ppi=_PICTURE_PPI if form == "png" else None,
        font_paths=[str(resources.files("shorefast.drawing").joinpath("fonts"))],
        ignore_system_fonts=True,
        sys_inputs={"title": words[0], "said": words[1]},
        timestamp=0,
    )
    return made
