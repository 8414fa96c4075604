"""Whether a NetCDF file is all there: one of the classic kind by its header.

The library fills what a file cut short lacks with zeros and says nothing: a gale would
be read as a calm, a rock as water of no depth.
"""

from __future__ import annotations

import math
import struct
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from shorefast.errors import Unreadable
from shorefast.readers.hdf5_whole import check_hdf5

_CLASSIC = {b"CDF\x01": (4, 4), b"CDF\x02": (4, 8), b"CDF\x05": (8, 8)}
_BYTES_OF = {1: 1, 2: 1, 3: 2, 4: 4, 5: 4, 6: 8, 7: 1, 8: 2, 9: 4, 10: 8, 11: 8}
_MOST_HEADER = 16_000_000
_NO_RECORDS_TOLD = (2**32 - 1, 2**64 - 1)


class _Variable(NamedTuple):
    """Where its numbers begin, how many bytes of them a record holds, whether it has records."""

    begin: int
    size: int
    recorded: bool


@dataclass
class _Header:
    """The header's bytes, read on from where the last word ended."""

    raw: bytes
    count_bytes: int
    begin_bytes: int
    at: int = 4

    def number(self, width: int) -> int:
        """The next whole number."""
        (value,) = struct.unpack_from(">I" if width == 4 else ">Q", self.raw, self.at)
        self.at += width
        return int(value)

    def count(self) -> int:
        """The next count."""
        return self.number(self.count_bytes)

    def entries(self) -> int:
        """How many entries the list has that begins here."""
        self.at += 4
        return self.count()

    def skip(self, length: int) -> None:
        """Past so many bytes, filled up to a whole word."""
        self.at += -(-length // 4) * 4

    def skip_attributes(self) -> None:
        """Past a list of attributes."""
        for _ in range(self.entries()):
            self.skip(self.count())
            kind = self.number(4)
            self.skip(self.count() * _BYTES_OF[kind])


def check_whole(path: Path, wanted: str) -> None:
    """Raise where a NetCDF file ends before its last number, or HDF5 cannot take it.

    Parameters
    ----------
    path : Path
        Any file; one of another kind is let pass.
    wanted : str
        What it should be, for the message.

    Raises
    ------
    Unreadable
        If it is cut short or damaged.

    Source
    ------
    netcdf-classic, the classic file format's grammar.
    """
    with path.open("rb") as opened:
        raw = opened.read(_MOST_HEADER)
    widths = _CLASSIC.get(raw[:4])
    if widths is None:
        check_hdf5(path, wanted)
        return
    there = path.stat().st_size
    try:
        needed = _needed(_Header(raw, *widths))
    except (struct.error, KeyError, IndexError):
        needed = there + 1
    if there < needed:
        raise Unreadable(path.name, "it is cut short", wanted, "Fetch the file again.")


def _needed(header: _Header) -> int:
    """How long the file has to be. [bytes]"""
    records = header.count()
    lengths = []
    for _ in range(header.entries()):
        header.skip(header.count())
        lengths.append(header.count())
    header.skip_attributes()
    variables = [_variable(header, lengths) for _ in range(header.entries())]
    by_record = [one for one in variables if one.recorded]
    padded = sum(-(-one.size // 4) * 4 for one in by_record)
    step = by_record[0].size if len(by_record) == 1 else padded
    ends = [header.at, *(one.begin + one.size for one in variables if not one.recorded)]
    if records and records not in _NO_RECORDS_TOLD:
        ends += [one.begin + (records - 1) * step + one.size for one in by_record]
    return max(ends)


def _variable(header: _Header, lengths: list[int]) -> _Variable:
    header.skip(header.count())
    shape = [lengths[header.count()] for _ in range(header.count())]
    header.skip_attributes()
    width = _BYTES_OF[header.number(4)]
    header.count()
    recorded = bool(shape) and shape[0] == 0
    size = width * math.prod(shape[1:] if recorded else shape)
    return _Variable(header.number(header.begin_bytes), size, recorded)
