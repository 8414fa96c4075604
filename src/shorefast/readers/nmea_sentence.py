"""Sentences of NMEA 0183 out of whatever bytes a recorder kept, each with its checksum."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import reduce
from operator import xor
from typing import NamedTuple

LONGEST = 1024
NEARLY_ALL = 0.9
USED = frozenset(
    (b"RMC", b"GGA", b"GLL", b"ZDA", b"DBT", b"DPT", b"DBS", b"HDT", b"HDG", b"HDM", b"VTG")
)


class Sentence(NamedTuple):
    """One sentence of a kind that is used: its line, talker, kind and fields, stripped."""

    line: int
    talker: bytes
    kind: bytes
    fields: tuple[bytes, ...]


@dataclass
class Heard:
    """What came in, good and bad; counts go up as sentences are taken.

    Attributes
    ----------
    good, wrong, bare, unread : int
        Sentences with the right checksum, a wrong one, none at all; lines that are none.
    kinds : Counter
        Sentences of each used kind that were taken.
    """

    good: int = 0
    wrong: int = 0
    bare: int = 0
    unread: int = 0
    kinds: Counter[str] = field(default_factory=Counter)

    @property
    def total(self) -> int:
        """All that looked like a sentence."""
        return self.good + self.wrong + self.bare

    @property
    def nearly_all_wrong(self) -> bool:
        """Whether the recorder, not the wire, must be what is wrong."""
        return self.wrong + self.bare > NEARLY_ALL * max(self.total, 1)


def checksum(body: bytes) -> int:
    """All bytes between ``$`` and ``*`` taken together by exclusive or.

    Source
    ------
    nmea-0183, sentence structure (from memory).
    """
    return reduce(xor, body, 0)


def sentence_in(raw: bytes, line: int, heard: Heard, *, checked: bool = True) -> Sentence | None:
    """The last whole sentence of a line, or None if it is none of those used.

    Any talker, numbers too; noise before the last ``$`` is passed over, so a sentence
    begun twice is read once. Checksums may be in small letters.

    Parameters
    ----------
    raw : bytes
        One line.
    heard : Heard
        Counts are added to it.
    checked : bool
        False: the person vouches for sentences whose checksum is wrong or missing.
    """
    at = max(raw.rfind(b"$"), raw.rfind(b"!"))
    if at < 0 or len(raw) > LONGEST:
        heard.unread += bool(raw.strip())
        return None
    body, star, rest = raw[at + 1 :].partition(b"*")
    if body.find(b",") != 5:
        heard.unread += 1
        return None
    right = bool(star) and _agrees(body, rest)
    heard.good += right
    heard.wrong += bool(star) and not right
    heard.bare += not star
    if body[2:5] not in USED or not (right or not checked):
        return None
    fields = tuple(part.strip() for part in body.split(b","))
    heard.kinds[body[2:5].decode("ascii")] += 1
    return Sentence(line, body[:2], body[2:5], fields[1:])


def _agrees(body: bytes, rest: bytes) -> bool:
    try:
        return int(rest[:2], 16) == checksum(body) and len(rest.strip()) == 2
    except ValueError:
        return False


def sentences(lines: Iterable[bytes], heard: Heard, *, checked: bool = True) -> Iterator[Sentence]:
    """Every used sentence as it comes: from a file's lines or a live feed's."""
    for line, raw in enumerate(lines, start=1):
        found = sentence_in(raw, line, heard, checked=checked)
        if found is not None:
            yield found


def lines_of(chunks: Iterable[bytes]) -> Iterator[bytes]:
    """Lines out of a feed's chunks, wherever these are cut; an endless one is dropped."""
    rest = b""
    for chunk in chunks:
        whole, cut, last = (rest + chunk).replace(b"\r\n", b"\n").rpartition(b"\n")
        if cut:
            yield from whole.split(b"\n")
        rest = last[-LONGEST - 1 :]
    if rest:
        yield rest
