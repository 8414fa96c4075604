"""A run over a demo bay, as an NMEA 0183 log: what a receiver and a sounder would send."""

from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

from shorefast.bay import Frame
from shorefast.readers.nmea_sentence import checksum
from shorefast.weather import WaterLevel, level_at


def _line(body: str) -> bytes:
    return f"${body}*{checksum(body.encode()):02X}".encode()


def _degrees(value: float, wide: int, letters: str) -> str:
    whole, minutes = divmod(abs(value) * 60.0, 60.0)
    return f"{int(whole):0{wide}d}{minutes:08.5f},{letters[value < 0.0]}"


def write_run(path: Path, frame: Frame, water: WaterLevel, places, levels, start: datetime) -> Path:
    """A fix and a depth a second: levels (up from datum) at places east and north [m]."""
    rows = []
    for k, ((east, north), level) in enumerate(zip(places, levels, strict=True)):
        now = start + timedelta(seconds=k)
        lat, lon = (float(x) for x in frame.to_earth(east, north))
        at = f"{_degrees(lat, 2, 'NS')},{_degrees(lon, 3, 'EW')}"
        rows.append(_line(f"GPRMC,{now:%H%M%S},A,{at},2.0,45.0,{now:%d%m%y},,,A"))
        moment = np.array([now.replace(tzinfo=None)], "datetime64[s]")
        depth = float(level_at(water, moment)[0]) - level
        rows.append(_line(f"SDDPT,{depth:.2f},0.0"))
    path.write_bytes(b"\r\n".join(rows) + b"\r\n")
    return path
