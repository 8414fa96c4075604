"""How a card is set: pieces one under another, face after face; nothing is cut, nothing lost.

A face is one side of a card on A6. What does not fit goes on the next face; a heading
stays with what it is the heading of, and a table goes on under its own head.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from shorefast.drawing import Page

T = TypeVar("T")

FACE_WIDE_PT, FACE_HIGH_PT = 297.64, 419.53
"""A6 upright (ISO 216: 105 by 148 mm). [pt]"""
EDGE_PT = 15.5
"""Paper left free all round, for the knife and for thumbs. [pt]"""
LEFT, RIGHT = EDGE_PT, FACE_WIDE_PT - EDGE_PT
WIDE = RIGHT - LEFT


@dataclass(frozen=True)
class Piece:
    """A strip of a card that is never broken.

    Attributes
    ----------
    high_pt : float
        Paper it takes.
    draw : callable
        Given the page and the top of the strip.
    above_pt : float
        Paper left free above it, not at the top of a face.
    keep : bool
        Whether it stays with the piece behind it.
    head : Piece or None
        Drawn once more on top where a face begins with this piece.
    """

    high_pt: float
    draw: Callable[[Page, float], None]
    above_pt: float = 0.0
    keep: bool = False
    head: Piece | None = None


@dataclass(frozen=True)
class Set:
    """A piece with its place on a face: the top of the strip. [pt]"""

    piece: Piece
    top_pt: float


def flow(
    pieces: Iterable[Piece], rooms_pt: Callable[[int], tuple[float, float]]
) -> list[list[Set]]:
    """Pieces set face after face.

    Parameters
    ----------
    rooms_pt : callable
        Top and bottom of the paper free on face 0, 1, ...
    """
    faces: list[list[Set]] = [[]]
    top, bottom = rooms_pt(0)
    y = top
    for group in _groups(pieces):
        if faces[-1] and y + _high(group) > bottom + 1e-6:
            faces.append([])
            top, bottom = rooms_pt(len(faces) - 1)
            y = top
        for piece in group:
            if faces[-1] and y + piece.above_pt + piece.high_pt > bottom + 1e-6:
                faces.append([])
                top, bottom = rooms_pt(len(faces) - 1)
                y = top
            y = _place(faces[-1], piece, y)
    return faces


def _place(face: list[Set], piece: Piece, y: float) -> float:
    """Set one piece, with its head before it where it begins a face; the next free place."""
    if face:
        y += piece.above_pt
    elif piece.head is not None:
        face.append(Set(piece.head, y))
        y += piece.head.high_pt
    face.append(Set(piece, y))
    return y + piece.high_pt


def _groups(pieces: Iterable[Piece]) -> list[list[Piece]]:
    """Pieces that stay together."""
    groups: list[list[Piece]] = []
    open_group = False
    for piece in pieces:
        if open_group:
            groups[-1].append(piece)
        else:
            groups.append([piece])
        open_group = piece.keep
    return groups


def _high(group: Sequence[Piece]) -> float:
    return sum(piece.above_pt + piece.high_pt for piece in group)


def together(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Pieces that are not parted, as long as they fit on one face."""
    return (*(replace(piece, keep=True) for piece in pieces[:-1]), *pieces[-1:])


def in_rows(things: Sequence[T], abreast: int) -> list[tuple[T, ...]]:
    """So many abreast, the last row as long as it comes."""
    return [tuple(things[at : at + abreast]) for at in range(0, len(things), abreast)]
