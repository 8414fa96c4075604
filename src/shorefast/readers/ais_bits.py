"""Position and size reports of ships, from the six-bit payload of AIS sentences.

Types 1 to 3 and 18 (position), 5 and 24 (name and size), 19 (all of it); all others are
left alone.

Source
------
itu-r-m1371-5, annex 8 (from memory): lengths and places of all fields; iec-61162-1
(from memory): how six bits stand in a character of a sentence.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from shorefast.quantities import to_si

_TEXT = "@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_ !\"#$%&'()*+,-./0123456789:;<=>?"
_NO_SPEED = 1023
_PER_DEGREE = 600_000.0
AT_ANCHOR, MOORED = 1, 5


@dataclass(frozen=True)
class ShipSaid:
    """What one message said of a ship; None: not in this message, or not known to her.

    Attributes
    ----------
    lat_deg, lon_deg : float or None
        Of her antenna.
    speed_mps, heading_rad : float or None
        Over the ground; true.
    status : int or None
        The code for what she does: 1 at anchor, 5 moored.
    sides_m : (ahead, astern, port, starboard) or None
        From the antenna to her four sides. [m]
    """

    mmsi: int
    lat_deg: float | None = None
    lon_deg: float | None = None
    speed_mps: float | None = None
    heading_rad: float | None = None
    status: int | None = None
    name: str | None = None
    sides_m: tuple[float, float, float, float] | None = None


class _Bits:
    """A payload as one row of bits; what lies past its end reads as nought."""

    def __init__(self, payload: str) -> None:
        self.length = 6 * len(payload)
        self._value = 0
        for sign in payload:
            six = ord(sign) - 48
            self._value = (self._value << 6) | (six - 8 if six > 40 else six)

    def number(self, start: int, count: int) -> int:
        """An unsigned number of so many bits."""
        shift = self.length - start - count
        moved = self._value >> shift if shift >= 0 else self._value << -shift
        return moved & ((1 << count) - 1)

    def signed(self, start: int, count: int) -> int:
        """The same with a sign, two's complement."""
        value = self.number(start, count)
        return value - (1 << count) if value >> (count - 1) else value

    def text(self, start: int, signs: int) -> str | None:
        """A name, ended by @; None where it is blank."""
        row = "".join(_TEXT[self.number(start + 6 * place, 6)] for place in range(signs))
        return row.split("@", 1)[0].strip() or None


def ship_said(payload: str) -> ShipSaid | None:
    """What a whole payload says; None where it is of another type or cut short."""
    if not payload or any(not ("0" <= s <= "W" or "`" <= s <= "w") for s in payload):
        return None
    bits = _Bits(payload)
    kind = bits.number(0, 6)
    if kind in (1, 2, 3) and bits.length >= 137:
        return _position(bits, 50, bits.number(38, 4))
    if kind == 18 and bits.length >= 133:
        return _position(bits, 46, None)
    if kind == 19 and bits.length >= 301:
        there = _position(bits, 46, None)
        return replace(there, name=bits.text(143, 20), sides_m=_sides(bits, 271))
    if kind == 5 and bits.length >= 270:
        return ShipSaid(_mmsi(bits), name=bits.text(112, 20), sides_m=_sides(bits, 240))
    if kind == 24:
        return _in_two_parts(bits)
    return None


def _mmsi(bits: _Bits) -> int:
    return bits.number(8, 30)


def _position(bits: _Bits, speed_at: int, status: int | None) -> ShipSaid:
    """Speed, place, course and heading follow one another in every position report."""
    speed, heading = bits.number(speed_at, 10), bits.number(speed_at + 78, 9)
    lon = bits.signed(speed_at + 11, 28) / _PER_DEGREE
    lat = bits.signed(speed_at + 39, 27) / _PER_DEGREE
    known = abs(lon) <= 180.0 and abs(lat) <= 90.0
    return ShipSaid(
        _mmsi(bits),
        lat if known else None,
        lon if known else None,
        None if speed == _NO_SPEED else to_si(0.1 * speed, "speed", "kn"),
        to_si(heading, "angle", "deg") if heading < 360 else None,
        status,
    )


def _in_two_parts(bits: _Bits) -> ShipSaid | None:
    part = bits.number(38, 2)
    if part == 0 and bits.length >= 160:
        return ShipSaid(_mmsi(bits), name=bits.text(40, 20))
    # a craft of a mother ship (98...) has that ship's number where her size would be
    if part == 1 and bits.length >= 162 and _mmsi(bits) // 10_000_000 != 98:
        return ShipSaid(_mmsi(bits), sides_m=_sides(bits, 132))
    return None


def _sides(bits: _Bits, start: int) -> tuple[float, float, float, float] | None:
    """Ahead, astern, port, starboard; None where she has neither length nor beam. [m]"""
    ahead, astern = bits.number(start, 9), bits.number(start + 9, 9)
    port, starboard = bits.number(start + 18, 6), bits.number(start + 24, 6)
    if not (ahead + astern and port + starboard):
        return None
    return float(ahead), float(astern), float(port), float(starboard)
