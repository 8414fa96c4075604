"""Whether a GRIB file hangs together, told by its own lengths before anything is decoded.

The decoder believes the lengths it finds: one wrong byte among them and it reads
where nothing is. So they are held against each other and the file first.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from shorefast.errors import Unreadable

_HEAD = {1: 8, 2: 16}
_CHUNK = 1 << 20
# which section may follow which; 8 is the end, fields may share what stands before them
_NEXT = {1: (2, 3), 2: (3,), 3: (4,), 4: (5,), 5: (6,), 6: (7,), 7: (2, 3, 4, 8)}
_LEAST = {1: 21, 2: 5, 3: 14, 4: 9, 5: 11, 6: 6, 7: 5}
# minute, hour, day; 3, 6, 12 hours; quarter and half hours or seconds
_TIME_UNITS = frozenset({0, 1, 2, 10, 11, 12, 13, 14, 254})
# a message of a few fields on a grid far finer than any weather model's
_MOST_POINTS = 100_000_000


class _Broken(Exception):
    """What is wrong with one message."""


def broken(name: str, number: int, trouble: str) -> Unreadable:
    """The error for a message that cannot be read."""
    return Unreadable(
        name,
        f"message {number} is broken ({trouble})",
        "",
        "Fetch the file again; it was cut off or damaged on the way.",
    )


def _find(file: BinaryIO, start: int) -> int:
    """Where the next message begins, -1 where there is none."""
    while True:
        file.seek(start)
        chunk = file.read(_CHUNK)
        at = chunk.find(b"GRIB")
        if at >= 0:
            return start + at
        if len(chunk) < _CHUNK:
            return -1
        start += _CHUNK - 3


def _number(raw: bytes) -> int:
    return int.from_bytes(raw, "big")


def _read(file: BinaryIO, at: int, count: int) -> bytes:
    file.seek(at)
    raw = file.read(count)
    if len(raw) < count:
        raise _Broken("cut off")
    return raw


def _length(file: BinaryIO, at: int) -> tuple[int, int]:
    """A message's edition and length.

    A first edition may hold more than its 24 bits can count; no such field of wind
    exists, and it is taken as broken.
    """
    head = _read(file, at, 8)
    edition = head[7]
    if edition == 1:
        return 1, _number(head[4:7])
    if edition == 2:
        return 2, _number(_read(file, at + 8, 8))
    raise _Broken(f"edition {edition}")


def _check_first(file: BinaryIO, at: int, end: int) -> None:
    """Edition 1: product, then grid and bitmap where told, then the data."""
    place = at + 8
    product = _read(file, place, 28)
    flags = product[7]
    if product[17] not in _TIME_UNITS:
        raise _Broken("its time has no unit")
    least = [28] + [32] * bool(flags & 0x80) + [6] * bool(flags & 0x40) + [11]
    for section_least in least:
        length = _number(_read(file, place, 3))
        if length < section_least or place + length > end - 4:
            raise _Broken("its lengths do not add up")
        place += length
    if place != end - 4:
        raise _Broken("its lengths do not add up")


def _check_packing(section: bytes, points: int) -> None:
    """The counts in edition 2's section 5: values no more than points, widths of whole words.

    Complex packing (templates 2 and 3) adds groups, whose counts the decoder trusts.
    """
    values, template = _number(section[5:9]), _number(section[9:11])
    sound = values <= points and (len(section) < 20 or section[19] <= 64)
    if template in (2, 3):
        if len(section) < 47 + 2 * (template == 3):
            raise _Broken("its lengths do not add up")
        groups = _number(section[31:35])
        sound &= groups <= values and section[36] <= 32 and section[46] <= 32
        sound &= template == 2 or (section[47] in (1, 2) and 1 <= section[48] <= 4)
    if not sound:
        raise _Broken("its counts do not add up")


def _check_time(section: bytes) -> None:
    """The unit of time in edition 2's section 4, where the usual templates have it."""
    if _number(section[7:9]) <= 15 and (len(section) < 18 or section[17] not in _TIME_UNITS):
        raise _Broken("its time has no unit")


def _check_second(file: BinaryIO, at: int, end: int) -> None:
    """Edition 2: numbered sections in their order, lengths adding up to the end."""
    place, points = at + 16, 0
    follow: tuple[int, ...] = (1,)
    while place < end - 4:
        head = _read(file, place, 5)
        length, number = _number(head[:4]), head[4]
        if number not in follow or length < _LEAST[number] or place + length > end - 4:
            raise _Broken("its lengths do not add up")
        if number == 3:
            points = min(_number(_read(file, place + 6, 4)), _MOST_POINTS)
        if number == 4:
            _check_time(_read(file, place, length))
        if number == 5:
            _check_packing(_read(file, place, length), points)
        place, follow = place + length, _NEXT[number]
    if place != end - 4 or 8 not in follow:
        raise _Broken("its lengths do not add up")


def _check(file: BinaryIO, at: int, size: int) -> int:
    """Check one message; where it ends."""
    edition, length = _length(file, at)
    end = at + length
    if length < _HEAD[edition] + 4 or end > size:
        raise _Broken("cut off" if end > size else "its lengths do not add up")
    if _read(file, end - 4, 4) != b"7777":
        raise _Broken("no end where its length says")
    (_check_first if edition == 1 else _check_second)(file, at, end)
    return end


def check_frame(path: Path) -> int:
    """How many messages a GRIB file holds, every one of them whole.

    Raises
    ------
    Unreadable
        At the first that is not.
    """
    size = path.stat().st_size
    with path.open("rb") as file:
        return sum(1 for _ in _messages(file, size, path.name))


def _messages(file: BinaryIO, size: int, name: str) -> Iterator[int]:
    at, number = _find(file, 0), 1
    while at >= 0:
        yield at
        try:
            end = _check(file, at, size)
        except _Broken as trouble:
            raise broken(name, number, str(trouble)) from None
        at, number = _find(file, end), number + 1
