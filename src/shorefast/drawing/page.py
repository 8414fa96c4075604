"""A page being drawn: rows of SVG and the place of everything lettered on it.

One unit is one point (1/72 inch), y down. Nothing is moved by a transform, so that
a place in the file is the place on the paper.
"""

from __future__ import annotations

import base64
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.lettering import ASCENT, DESCENT, FACES, font_bytes, width_pt
from shorefast.drawing.palettes import PALETTES, PaletteName, style_sheet

Points = NDArray[np.float64]
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})
_HATCHES = (
    '<pattern id="rule" width="5" height="5" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)"><path class="rule-line" d="M2.5 0V5"/></pattern>'
    '<pattern id="bare" width="7" height="7" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(-45)"><path class="bare-line" d="M3.5 1V4"/></pattern>'
)


@dataclass(frozen=True)
class Box:
    """A rectangle on the page, y down. [pt]"""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right. [pt]"""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom. [pt]"""
        return self.bottom - self.top

    def grown(self, by_pt: float) -> Box:
        """The same with a margin all round, or cut back when negative."""
        return Box(self.left - by_pt, self.top - by_pt, self.right + by_pt, self.bottom + by_pt)

    def meets(self, other: Box) -> bool:
        """Whether the two share any paper."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: Box) -> bool:
        """Whether the other lies wholly inside."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and self.right >= other.right
            and self.bottom >= other.bottom
        )


@dataclass(frozen=True)
class Style:
    """How words are set: face, colour class, size [pt], and what the place is of them."""

    face: str = "sans"
    colour: str = "ink"
    size_pt: float = 9.0
    anchor: str = "start"

    def width_pt(self, text: str) -> float:
        """How wide a text is in this style. [pt]"""
        return width_pt(text, self.face, self.size_pt)

    def box(self, x: float, y: float, text: str) -> Box:
        """Paper a text takes with its baseline at a place."""
        wide = self.width_pt(text)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * wide
        return Box(left, y - ASCENT * self.size_pt, left + wide, y + DESCENT * self.size_pt)


def plain(text: str) -> str:
    """Text fit to stand in SVG: marked-up signs written out, control signs left out."""
    text = text.replace("\u00a0", " ")
    if not text.isprintable():
        text = "".join(sign for sign in text if sign.isprintable())
    return text.translate(_ENTITIES)


def path_of(points: Points, *, closed: bool = False) -> str:
    """A row of points, shape (point, 2), as path data."""
    return path_of_flat(points.ravel().tolist(), closed=closed)


def path_of_flat(flat: list[float], *, closed: bool = False) -> str:
    """x, y, x, y, ... as path data."""
    if len(flat) < 4:
        return ""
    pattern = "M%.1f %.1fL" + "%.1f %.1f " * (len(flat) // 2 - 1)
    return (pattern % tuple(flat)).rstrip() + ("Z" if closed else "")


class Page:
    """Rows of SVG in the order they are painted, and every label set so far.

    backed : whether plain paper is painted under all words, so that no line crosses them.
    """

    def __init__(self, width_pt: float, height_pt: float, *, backed: bool = False) -> None:
        self.backed = backed
        self.width_pt = width_pt
        self.height_pt = height_pt
        self.labels: list[tuple[Box, str]] = []
        self._rows: list[str] = []
        self._clips: list[str] = []

    def path(self, data: str, kind: str) -> None:
        """Paint path data in a class of the palette."""
        if data:
            self._rows.append(f'<path class="{kind}" d="{data}"/>')

    def rows(self, points: Points, kind: str, *, closed: bool = False) -> None:
        """Paint a row of points, shape (point, 2)."""
        self.path(path_of(points, closed=closed), kind)

    def line(self, start: tuple[float, float], end: tuple[float, float], kind: str) -> None:
        """Paint a straight line."""
        self.path(f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}", kind)

    def box(self, box: Box, kind: str) -> None:
        """Paint a rectangle."""
        self._rows.append(
            f'<rect class="{kind}" x="{box.left:.1f}" y="{box.top:.1f}" '
            f'width="{box.width:.1f}" height="{box.height:.1f}"/>'
        )

    def ring(self, at: tuple[float, float], radius_pt: float, kind: str) -> None:
        """Paint a circle."""
        self._rows.append(
            f'<circle class="{kind}" cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{radius_pt:.1f}"/>'
        )

    def text(self, x: float, y: float, text: str, style: Style) -> Box:
        """Set words with their baseline at a place; their box is kept and given back."""
        box = style.box(x, y, text)
        if not text.strip():
            return box
        self.labels.append((box, text))
        if self.backed:
            self.box(box, "back")
        anchor = "" if style.anchor == "start" else f' text-anchor="{style.anchor}"'
        self._rows.append(
            f'<text class="{style.face} {style.colour}" x="{x:.1f}" y="{y:.1f}" '
            f'font-size="{style.size_pt:g}"{anchor}>{plain(text)}</text>'
        )
        return box

    def text_rows(self, x: float, y: float, rows: Iterable[str], style: Style) -> float:
        """Set rows one under the other; gives the baseline the next one would have."""
        for row in rows:
            self.text(x, y, row, style)
            y += 1.16 * style.size_pt
        return y

    def begin(self, name: str, said: str, clip: Box | None = None) -> None:
        """Begin a part that has a name for readers who listen, clipped to a box if given."""
        role = f'<g role="group" aria-label="{plain(said)}" data-part="{plain(name)}"'
        if clip is None:
            self._rows.append(f"{role}>")
            return
        self._clips.append(
            f'<clipPath id="clip-{name}"><rect x="{clip.left:.1f}" y="{clip.top:.1f}" '
            f'width="{clip.width:.1f}" height="{clip.height:.1f}"/></clipPath>'
        )
        self._rows.append(f'{role} clip-path="url(#clip-{name})">')

    def end(self) -> None:
        """End the part begun last."""
        self._rows.append("</g>")

    def body(self) -> str:
        """Everything painted, without head and palette: the same in every palette."""
        return f"<defs>{_HATCHES}{''.join(self._clips)}</defs>{''.join(self._rows)}"

    def svg(
        self, palette: PaletteName, title: str, said: str, *, fonts_inside: bool = False
    ) -> str:
        """The whole drawing as one SVG file.

        Parameters
        ----------
        title, said : str
            What it is and what it shows, for readers who listen.
        fonts_inside : bool
            Carry the lettering along, so that it looks right where the faces are
            not installed.
        """
        wide, high = f"{self.width_pt:g}", f"{self.height_pt:g}"
        faces = _faces_inside() if fonts_inside else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}pt" height="{high}pt" '
            f'viewBox="0 0 {wide} {high}" role="img" aria-labelledby="title said">'
            f'<title id="title">{plain(title)}</title><desc id="said">{plain(said)}</desc>'
            f"<style>{faces}{style_sheet(PALETTES[palette])}</style>{self.body()}</svg>\n"
        )


@lru_cache(maxsize=1)
def _faces_inside() -> str:
    """The faces as they are carried inside a drawing, cut to Latin, Greek and Cyrillic."""
    return "".join(
        f"@font-face{{font-family:'{face.family}';font-weight:{face.weight};"
        f"font-style:{'italic' if face.italic else 'normal'};src:url(data:font/woff;base64,"
        f"{base64.b64encode(font_bytes(face.file, 'woff')).decode('ascii')})}}"
        for face in FACES.values()
    )
