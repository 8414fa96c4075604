"""Lettering: the shipped faces, how wide words are in them, and how they break into rows.

Widths are read from the fonts themselves, so that what is measured is what is set.
Kerning is left out; it draws letters together, so measured words are never too short.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

import numpy as np

ASCENT = 0.74
"""Top of the tallest letters above the baseline, as a share of the size."""
DESCENT = 0.22
"""Lowest tails below the baseline, as a share of the size."""
LEAST_PT = 8.0
"""Nothing on paper is set smaller. [pt]"""
_MISSING_EM = 1.0
_UNITED = re.compile(r"(\d) (kg|kn|kN|m|mm|h|min|s)\b")
"""A number and its unit stay in one row."""


@dataclass(frozen=True)
class Face:
    """One cut of a family: what a style sheet calls it, and the file it is in."""

    family: str
    weight: int
    italic: bool
    file: str


FACES: Mapping[str, Face] = {
    "sans": Face("Alegreya Sans", 400, False, "AlegreyaSans_400Regular"),
    "medium": Face("Alegreya Sans", 500, False, "AlegreyaSans_500Medium"),
    "bold": Face("Alegreya Sans", 700, False, "AlegreyaSans_700Bold"),
    "italic": Face("Alegreya", 400, True, "Alegreya_400Regular_Italic"),
    "title": Face("Alegreya", 700, False, "Alegreya_700Bold"),
}


def font_bytes(file: str, ending: str = "ttf") -> bytes:
    """A shipped font file as it is."""
    return resources.files("shorefast.drawing").joinpath(f"fonts/{file}.{ending}").read_bytes()


@lru_cache(maxsize=16)
def _advances_em(face: str) -> dict[int, float]:
    """Advance width of every character a face has, in ems."""
    font = font_bytes(FACES[face].file)
    tables = _tables(font)
    units = struct.unpack_from(">H", font, tables["head"] + 18)[0]
    count = struct.unpack_from(">H", font, tables["hhea"] + 34)[0]
    advance = np.frombuffer(font, ">u2", 2 * count, tables["hmtx"])[::2] / units
    glyph_of = _characters(font, tables["cmap"])
    return {code: float(advance[min(glyph, count - 1)]) for code, glyph in glyph_of.items()}


def _tables(font: bytes) -> dict[str, int]:
    (number,) = struct.unpack_from(">H", font, 4)
    rows = (struct.unpack_from(">4sIII", font, 12 + 16 * row) for row in range(number))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in rows}


def _characters(font: bytes, cmap: int) -> dict[int, int]:
    """Glyph of every character, from the table of format 4 that all our faces have."""
    (number,) = struct.unpack_from(">H", font, cmap + 2)
    starts = (struct.unpack_from(">HHI", font, cmap + 4 + 8 * row)[2] for row in range(number))
    at = next(cmap + s for s in starts if struct.unpack_from(">H", font, cmap + s)[0] == 4)
    (twice,) = struct.unpack_from(">H", font, at + 6)
    pairs = twice // 2
    last = np.frombuffer(font, ">u2", pairs, at + 14)
    first = np.frombuffer(font, ">u2", pairs, at + 16 + twice)
    delta = np.frombuffer(font, ">u2", pairs, at + 16 + 2 * twice)
    ranges = np.frombuffer(font, ">u2", pairs, at + 16 + 3 * twice)
    found: dict[int, int] = {}
    for row in range(pairs):
        start = at + 16 + 3 * twice + 2 * row + int(ranges[row])
        for code in range(int(first[row]), min(int(last[row]), 0xFFFE) + 1):
            glyph = code
            if ranges[row]:
                (glyph,) = struct.unpack_from(">H", font, start + 2 * (code - int(first[row])))
            if glyph or not ranges[row]:
                found[code] = (glyph + int(delta[row])) & 0xFFFF
    return found


@lru_cache(maxsize=8192)
def width_pt(text: str, face: str, size_pt: float) -> float:
    """How wide a text is set. [pt] A character the face lacks counts a full em."""
    advances = _advances_em(face)
    return size_pt * sum(advances.get(ord(letter), _MISSING_EM) for letter in text)


def shortened(text: str, face: str, size_pt: float, room_pt: float) -> str:
    """The text, or as much of it as fits with an ellipsis behind."""
    if width_pt(text, face, size_pt) <= room_pt:
        return text
    kept = text
    while kept and width_pt(f"{kept.rstrip()}…", face, size_pt) > room_pt:
        kept = kept[:-1]
    return f"{kept.rstrip(' ,.;:')}…" if kept else ""


def fitted(text: str, face: str, sizes_pt: tuple[float, float], room_pt: float) -> float:
    """The largest size between the two given (large, small) at which a text fits. [pt]"""
    large_pt, small_pt = sizes_pt
    wide = width_pt(text, face, 1.0)
    return large_pt if wide * large_pt <= room_pt else max(small_pt, room_pt / wide)


def rows_of(text: str, face: str, size_pt: float, room_pt: float) -> list[str]:
    """A text broken into rows no wider than the room, long words cut where they must be."""
    return list(_rows_of(text, face, size_pt, room_pt))


# a page is drawn anew at every touch, and most of its words stay
@lru_cache(maxsize=1024)
def _rows_of(text: str, face: str, size_pt: float, room_pt: float) -> tuple[str, ...]:
    if width_pt(text, face, size_pt) <= room_pt:
        return (text,) if text.strip() else ()
    rows: list[str] = []
    row = ""
    for word in _UNITED.sub("\\1\u00a0\\2", text).split(" "):
        for piece in _pieces(word, face, size_pt, room_pt):
            longer = f"{row} {piece}" if row else piece
            if row and width_pt(longer, face, size_pt) > room_pt:
                rows.append(row)
                longer = piece
            row = longer
    return tuple(kept.replace("\u00a0", " ") for kept in (*rows, row) if kept)


def _pieces(word: str, face: str, size_pt: float, room_pt: float) -> list[str]:
    if width_pt(word, face, size_pt) <= room_pt:
        return [word]
    pieces = [""]
    for letter in word:
        if pieces[-1] and width_pt(pieces[-1] + letter, face, size_pt) > room_pt:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def whole_sentences(text: str, face: str, size_pt: float, room_pt: float, most: int) -> list[str]:
    """As many whole sentences as go into so many rows; the first one always, cut if it must be."""
    sentences = re.split(r"(?<=[.!?]) +", text.strip())
    kept = sentences[0]
    for sentence in sentences[1:]:
        if len(rows_of(f"{kept} {sentence}", face, size_pt, room_pt)) > most:
            break
        kept = f"{kept} {sentence}"
    return first_rows(kept, face, size_pt, room_pt, most)


def first_rows(text: str, face: str, size_pt: float, room_pt: float, most: int) -> list[str]:
    """At most so many rows, the last one ending in an ellipsis where there was more."""
    rows = rows_of(text, face, size_pt, room_pt)
    if len(rows) <= most:
        return rows
    return [*rows[: most - 1], shortened(f"{rows[most - 1]} {rows[most]}", face, size_pt, room_pt)]
