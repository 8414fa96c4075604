"""A chart cell as a row of records: whether it is whole, before anybody reads it."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from shorefast.errors import Unreadable

LEADER = 24
_END = 0x1E
_WANTED = "an S-57 chart cell wanted"
_UNIT = b"\x1f"
# before the names in a DSID field: record name, record number, purpose, intended use
_DSID_HEAD = 7


class Issue(NamedTuple):
    """Edition of a chart a file belongs to (0: withdrawn), and up to which update it goes."""

    edition: int
    update: int


def issue_of(path: Path) -> Issue:
    """Edition and update number in a file's own record of what it is (DSID: EDTN, UPDN).

    Raises
    ------
    Unreadable
        If there is no such record, or it gives no numbers.

    Source
    ------
    iho-s57, Part 3 (data set identification field); from memory
    """
    data = path.read_bytes()
    _check_begin(path.name, data)
    at = _length(data, 0) or len(data)
    for tag, begin, end in _fields(data, at):
        if tag == b"DSID":
            names = data[begin + _DSID_HEAD : end].split(_UNIT)
            if len(names) > 3 and all(one.isdigit() and len(one) < 10 for one in names[1:3]):
                return Issue(int(names[1]), int(names[2]))
    check_records(path)
    raise Unreadable(
        path.name, "it does not say of which edition it is", _WANTED, "Fetch it again."
    )


def check_records(path: Path) -> None:
    """Raise unless the file is a row of whole records from its first byte to its last.

    Every record tells its own length first and ends in a mark of its own, so a file that was
    cut, or changed in its frame, is found out; a number changed inside a record is not.

    Raises
    ------
    Unreadable
        If it is no such file (or encrypted), cut short, or damaged.

    Source
    ------
    iho-s57, Part 3 (records of ISO/IEC 8211)
    """
    data = path.read_bytes()
    _check_begin(path.name, data)
    at = 0
    while at < len(data):
        length = _length(data, at) if len(data) - at > LEADER else LEADER + 1
        if length is None:
            raise _damaged(path.name, at)
        if at + length > len(data):
            raise Unreadable(
                path.name,
                f"it is cut short: the record at byte {at} runs past its end",
                _WANTED,
                "Fetch it again.",
            )
        if data[at + length - 1] != _END or data[at + 6 : at + 7] not in (b"L", b"D", b"R"):
            raise _damaged(path.name, at)
        at += length


def _check_begin(name: str, data: bytes) -> None:
    """The first leader: a length in digits, an L, and the S-57 field of names after it."""
    if not data[:5].isdigit() or data[6:7] != b"L":
        raise Unreadable(
            name,
            "it does not begin as an S-57 file does",
            "damaged, of another kind, or encrypted (S-63), and encrypted ones are not read",
            "Name the cell as it is after decryption, or one that its office gives out open.",
        )
    if b"CATD" in data[:2000]:
        raise Unreadable(
            name,
            "a catalogue of charts",
            "there are no depths in it",
            "Name the cell itself (.000).",
        )


def _length(data: bytes, at: int) -> int | None:
    """Length of the record that begins here; None where it says none that can be."""
    told = data[at : at + 5]
    if not told.isdigit():
        return None
    length = int(told) or _long(data, at)
    return length if length > LEADER else None


def _long(data: bytes, at: int) -> int:
    """Length of a record of over 99 999 bytes, from its directory."""
    return max((end for _, _, end in _fields(data, at)), default=at) - at


def _fields(data: bytes, at: int) -> list[tuple[bytes, int, int]]:
    """Tag, begin and end of the fields of the record at a byte; none where it is broken."""
    leader = data[at : at + LEADER]
    sizes, base = leader[20:24], leader[12:17]
    if not (sizes.isdigit() and base.isdigit()):
        return []
    wide, placed, tag = sizes[0] - 48, sizes[1] - 48, sizes[3] - 48
    step, area, found = wide + placed + tag, at + int(base), []
    for entry in range(at + LEADER, area - 1, max(step, 1)):
        told = data[entry + tag : entry + step]
        if not (told.isdigit() and wide and placed):
            return []
        begin = area + int(told[wide:])
        found.append((data[entry : entry + tag], begin, begin + int(told[:wide])))
    return found


def _damaged(name: str, at: int) -> Unreadable:
    return Unreadable(name, f"it is damaged at byte {at}", _WANTED, "Fetch it again.")
