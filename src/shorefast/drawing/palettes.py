"""Four palettes for one drawing: by day, by night, on paper, and on a card that gets wet.

The drawing itself names classes only; a palette is the style sheet that goes with
them. So the same geometry serves all of them, byte for byte. The card's is black on white and
nothing else: no tint lies under words, and no line is finer than 0.6 pt.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from shorefast.drawing.lettering import FACES

PaletteName = Literal["day", "night", "print", "card"]


@dataclass(frozen=True)
class Palette:
    """Colours as ``#rrggbb`` (or ``none``). ``water`` is 0-2, 2-5, 5-10 and 10-15 m.

    least_pt : no line is drawn finer.
    """

    paper: str
    panel: str
    ink: str
    soft: str
    faint: str
    land: str
    land_ink: str
    dries: str
    water: tuple[str, str, str, str]
    hint: str
    give: str
    room: str
    room_tint: str
    night: str
    hull: str
    least_pt: float = 0.0


PALETTES: Mapping[PaletteName, Palette] = {
    "day": Palette(
        paper="#f4efe2", panel="#fbf8f0", ink="#22303c", soft="#4f5c66", faint="#a9b2b5",
        land="#e9dfc3", land_ink="#6a5a35", dries="#d9dcc2",
        water=("#c9dde2", "#d9e7ea", "#e7eff0", "#f1f5f4"), hint="#8fa3ab",
        give="#a83a22", room="#2d6a5f", room_tint="#2d6a5f", night="#e8e4da", hull="#fffdf7",
    ),
    "night": Palette(
        paper="#0b0403", panel="#120605", ink="#d8452b", soft="#b03a25", faint="#4a1710",
        land="#1d0a07", land_ink="#8a2a1a", dries="#190806",
        water=("#170706", "#150605", "#130605", "#120505"), hint="#6a2013",
        give="#ff6a4a", room="#a02f1c", room_tint="#a02f1c", night="#050201", hull="#120605",
    ),
    "print": Palette(
        paper="#ffffff", panel="#ffffff", ink="#000000", soft="#4d4d4d", faint="#b3b3b3",
        land="#e9e9e9", land_ink="#000000", dries="#f4f4f4",
        water=("none", "none", "none", "none"), hint="#808080",
        give="#000000", room="#000000", room_tint="none", night="#ececec", hull="#ffffff",
    ),
    "card": Palette(
        paper="#ffffff", panel="#ffffff", ink="#000000", soft="#000000", faint="#000000",
        land="#ffffff", land_ink="#000000", dries="#ffffff",
        water=("none", "none", "none", "none"), hint="#000000",
        give="#000000", room="#000000", room_tint="none", night="#ffffff", hull="#ffffff",
        least_pt=0.6,
    ),
}  # fmt: skip


def style_sheet(palette: Palette) -> str:
    """The rules of one palette, plain enough for every renderer we know of."""
    return "".join((*_letters(palette), *_fills(palette), *_strokes(palette)))


def _letters(palette: Palette) -> tuple[str, ...]:
    faces = (
        f".{name}{{font-family:'{face.family}';font-weight:{face.weight};"
        f"font-style:{'italic' if face.italic else 'normal'}}}"
        for name, face in FACES.items()
    )
    colours = {"ink": palette.ink, "soft": palette.soft, "give": palette.give}
    colours |= {"room": palette.room, "shore": palette.land_ink}
    return (*faces, *(f".{name}{{fill:{colour}}}" for name, colour in colours.items()))


def _fills(palette: Palette) -> tuple[str, ...]:
    plain = {
        "paper": palette.paper, "panel": palette.panel, "land": palette.land,
        "dries": palette.dries, "dark": palette.night, "hull": palette.hull,
        "solid": palette.ink, "solid-soft": palette.soft, "solid-give": palette.give,
        **{f"water{step}": colour for step, colour in enumerate(palette.water)},
    }  # fmt: skip
    rules = (f".{name}{{fill:{colour};stroke:none}}" for name, colour in plain.items())
    tint = f".tint{{fill:{palette.room_tint};fill-opacity:0.12;stroke:none}}"
    spread = f".spread{{fill:{palette.room};fill-opacity:0.2;stroke:none}}"
    back = f".back{{fill:{palette.panel};fill-opacity:0.82;stroke:none}}"
    return (
        *rules,
        tint,
        spread,
        back,
        ".hatched{fill:url(#rule);stroke:none}.bare{fill:url(#bare)}",
    )


_STROKES: Mapping[str, tuple[str, float, str]] = {
    "frame": ("ink", 0.6, ""),
    "hair": ("soft", 0.3, ""),
    "faint-line": ("faint", 0.4, ""),
    "contour": ("hint", 0.45, ""),
    "datum": ("land_ink", 0.5, "1 1.4"),
    "coast": ("land_ink", 1.0, ""),
    "hachure": ("land_ink", 0.35, ""),
    "outline": ("ink", 1.05, ""),
    "ghost": ("soft", 0.3, ""),
    "chain": ("ink", 1.15, ""),
    "chain-lying": ("ink", 1.3, "0.1 2.2"),
    "chain-slack": ("soft", 0.7, "3 1.8"),
    "ashore": ("ink", 0.9, ""),
    "ashore-give": ("give", 1.75, ""),
    "chain-give": ("give", 1.75, ""),
    "chain-lying-give": ("give", 1.9, "0.1 2.8"),
    "give-line": ("give", 1.0, ""),
    "limit": ("give", 0.9, "7 2.4"),
    "give-arc": ("give", 1.75, ""),
    "room-line": ("room", 0.8, "3 1.6"),
    "curve": ("room", 1.1, ""),
    "open-curve": ("room", 0.7, "1.2 2"),
    "dotted": ("soft", 0.6, "0.8 1.6"),
    "dashed": ("soft", 0.5, "3.2 2"),
    "tide": ("soft", 0.7, "0.8 1.8"),
    "moon": ("soft", 1.2, ""),
    "lead": ("soft", 0.35, ""),
    "patch": ("ink", 0.6, "1.4 1.4"),
    "zone-edge": ("soft", 0.6, "4 1.4 0.8 1.4"),
    "dots": ("soft", 1.5, ""),
    "dots-past": ("give", 0.6, ""),
    "arrow": ("ink", 0.75, ""),
    "rule-line": ("hint", 0.4, ""),
    "bare-line": ("faint", 0.4, ""),
    "heavy": ("ink", 2.0, ""),
    "tick": ("ink", 0.8, ""),
}


def _strokes(palette: Palette) -> tuple[str, ...]:
    return tuple(
        f".{name}{{fill:none;stroke:{getattr(palette, colour)};"
        f"stroke-width:{max(wide, palette.least_pt):g}"
        f"{f';stroke-dasharray:{dash}' if dash else ''};stroke-linecap:round;"
        f"stroke-linejoin:round}}"
        for name, (colour, wide, dash) in _STROKES.items()
    )
