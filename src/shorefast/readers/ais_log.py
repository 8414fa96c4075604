"""Ships from a log of AIS sentences (AIVDM in NMEA 0183), each with the last that was heard."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from shorefast.readers.ais_bits import ShipSaid, ship_said

OTHERS = ("VDM",)
"""Sentences that tell of others; VDO tells of the own ship."""


@dataclass(frozen=True)
class ShipHeard:
    """All that a log tells of one ship, the last of each thing said."""

    said: ShipSaid
    messages: int


@dataclass
class AisLog:
    """The ships of a log by number, and how many sentences were left out and why."""

    name: str
    ships: dict[int, ShipHeard] = field(default_factory=dict)
    left_out: Counter[str] = field(default_factory=Counter)


def read_ais_log(path: Path) -> AisLog:
    """Hear a whole log; other sentences between are passed over.

    Lenient about form: rows may begin with a time or a tag block, lines of no text are
    skipped. A sentence with a wrong checksum is left out and counted, and so is a
    message of which a part is missing.
    """
    log = AisLog(path.name)
    for payload in _payloads(path, log.left_out):
        said = ship_said(payload)
        if said is None:
            log.left_out["messages of other types, or cut short"] += 1
            continue
        before = log.ships.get(said.mmsi)
        log.ships[said.mmsi] = _joined(before, said)
    return log


def _joined(before: ShipHeard | None, said: ShipSaid) -> ShipHeard:
    """The newer of everything; a place brings its own heading and speed, known or not."""
    if before is None:
        return ShipHeard(said, 1)
    old = before.said
    fresh = said if said.lat_deg is not None else old
    whole = replace(
        fresh,
        status=said.status if said.status is not None else old.status,
        name=said.name or old.name,
        sides_m=said.sides_m or old.sides_m,
    )
    return ShipHeard(whole, before.messages + 1)


def _payloads(path: Path, left_out: Counter[str]) -> Iterator[str]:
    waiting: dict[tuple[str, str, str], list[str]] = {}
    for row in path.read_bytes().splitlines():
        fields = _fields(row, left_out)
        if fields is None:
            continue
        count, number, told, channel, payload = fields
        if count == "1":
            yield payload
            continue
        parts = waiting.setdefault((count, told, channel), [])
        if number == "1":
            left_out["parts of a message whose others are missing"] += len(parts)
            parts.clear()
        parts.append(payload)
        if number != str(len(parts)):
            left_out["parts of a message whose others are missing"] += len(parts)
            del waiting[(count, told, channel)]
        elif number == count:
            yield "".join(waiting.pop((count, told, channel)))
    left_out["parts of a message whose others are missing"] += sum(map(len, waiting.values()))


def _fields(row: bytes, left_out: Counter[str]) -> list[str] | None:
    """Count, number, message, channel and payload of a sentence about others."""
    begins = row.rfind(b"!")
    if begins < 0 or row[begins + 3 : begins + 6].decode("ascii", "replace") not in OTHERS:
        return None
    body, star, told = row[begins + 1 :].decode("ascii", "replace").partition("*")
    fields = body.split(",")
    if len(fields) not in (7, 8) or not star:
        left_out["sentences cut short"] += 1
        return None
    if told.strip()[:2].upper() != f"{_checksum(body):02X}":
        left_out["sentences with a wrong checksum"] += 1
        return None
    return fields[1:6]


def _checksum(body: str) -> int:
    total = 0
    for sign in body:
        total ^= ord(sign) & 0xFF
    return total
