"""``shorefast ease``: how much do I ease?"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, datetime, time
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from shorefast.app.answer import Answer
from shorefast.app.answers.noticed import with_noticed
from shorefast.errors import BadInput
from shorefast.readers import read_stay
from shorefast.stay import AtHour, Ease, Judgement, Metre, Stay, ease, judge
from shorefast.wording import UNKNOWN, day_clock, ease_words, length_words, use_words

_SHOWN_USE, _SHOWN_M, _MOVED, _NEAR = 0.005, 0.05, 0.03, 0.5


def hour_asked(stay: Stay, times: np.ndarray, text: str | None) -> int:
    """The index of the time asked; the first of the stay where none is.

    Raises
    ------
    BadInput
        For what is no time, and for one outside the stay.
    """
    if text is None:
        return 0
    zone = ZoneInfo(stay.bay.zone_name)
    moment = _moment(stay, text, zone)
    first, last = (_on_clock(one, zone) for one in (stay.from_utc, stay.until_utc))
    if moment is None or not stay.from_utc <= moment <= stay.until_utc:
        raise BadInput(
            "--at", text, f"the stay runs from {first} to {last}", "Give a time within it."
        )
    told = np.datetime64(moment.astimezone(UTC).replace(tzinfo=None), "s")
    return int(np.argmin(np.abs((times - told).astype(np.int64))))


def _moment(stay: Stay, text: str, zone: ZoneInfo) -> datetime | None:
    """A time of day as the first of the stay on the place's clocks, or a full time."""
    try:
        of_day = time.fromisoformat(text)
    except ValueError:
        return _full(text, zone)
    there = stay.from_utc.astimezone(zone)
    same_day = datetime.combine(there.date(), of_day, of_day.tzinfo or zone)
    return same_day if same_day >= stay.from_utc else _next_day(same_day)


def _next_day(moment: datetime) -> datetime:
    return datetime.combine(
        datetime.fromordinal(moment.toordinal() + 1).date(), moment.time(), moment.tzinfo
    )


def _full(text: str, zone: ZoneInfo) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise BadInput(
            "--at",
            f"'{text}'",
            "a time like 21:40 or 2026-07-01T21:40 wanted",
            "Give it on the place's clock, or with its offset (Z for UTC).",
        ) from None
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=zone)


def _on_clock(moment: datetime, zone: ZoneInfo) -> str:
    return moment.astimezone(zone).strftime("%Y-%m-%dT%H:%M")


def _metre_keys(found: Ease, judgement: Judgement, one: Metre) -> dict[str, Any]:
    length = found.lengths[one.number]
    return {
        "of": length.of,
        "call": length.word(one.by_m),
        "by_m": one.by_m,
        "at": "asked" if one.at == 0 else "worst",
        "at_utc": judgement.time_utc[found.hours[one.at]],
        "now_m": length.now_m,
        "use_per_m": one.use,
        "room_per_m": one.room_m,
        "bent": one.bent,
    }


def _least_keys(stay: Stay, found: Ease, before: Judgement) -> dict[str, Any]:
    after = before if found.least.after is None else found.least.after.judgement
    cost = found.cost
    return {
        "kind": found.least.kind,
        "changes": [
            {"of": one.of, "call": one.word(by_m), "from_m": one.now_m, "to_m": one.now_m + by_m}
            for one, by_m in zip(found.lengths, found.least.change, strict=True)
            if by_m != 0.0
        ],
        "verdict": after.verdict,
        "worst_use": math.nan if after.worst is None else float(after.greatest_use[after.worst]),
        "first_to_give": after.first_to_give,
        "worst_hour_utc": None if after.worst is None else after.time_utc[after.worst[1]],
        "room_m": [_known_least(room.room_m) for room in after.room],
        "cost": None
        if cost is None
        else {"of": cost.of, "less_m": cost.less_m, "left_m": cost.left_m, "at_utc": cost.at_utc},
        "deciding_use": found.deciding[1],
        "still_past": list(found.still_past),
        "sentence": ease_words(stay, found, before),
    }


def _known_least(values: np.ndarray) -> float:
    return float(np.nanmin(values)) if np.isfinite(values).any() else math.nan


def ease_keys(stay: Stay, found: Ease, before: Judgement) -> dict[str, Any]:
    """The JSON keys; arrays run over ``parts`` and ``rooms``."""
    worst = None if before.worst is None else before.time_utc[before.worst[1]]
    return {
        "at_utc": before.time_utc[found.hours[0]],
        "worst_hour_utc": worst,
        "verdict": before.verdict,
        "deciding_use": found.deciding[0],
        "parts": list(found.parts),
        "rooms": list(found.rooms),
        "now": [
            {"at_utc": before.time_utc[hour], "use": one.use, "room_m": one.room_m}
            for hour, one in zip(found.hours, found.now, strict=True)
        ],
        "metre": [_metre_keys(found, before, one) for one in found.metres],
        "least": _least_keys(stay, found, before),
    }


def _shown(found: Ease) -> tuple[list[int], list[int]]:
    """Parts and rooms that a metre moves, or that stand near their limit."""
    moved = np.array([one.use for one in found.metres])
    near = np.array([one.use for one in found.now])
    shown = (np.abs(np.nan_to_num(moved)) >= _MOVED).any(axis=0)
    shown |= (np.nan_to_num(near) >= _NEAR).any(axis=0)
    room_m = np.array([one.room_m for one in found.metres])
    rooms = (np.abs(np.nan_to_num(room_m)) >= _SHOWN_M).any(axis=0)
    return np.flatnonzero(shown).tolist(), np.flatnonzero(rooms).tolist()


def _change(value: float, seen: float, digits: int) -> str:
    if math.isnan(value):
        return "-"
    return f"{value:+.{digits}f}" if abs(value) >= seen else "0"


def _letters(found: Ease) -> dict[str, str]:
    """Lines by the letters they have on the sheet, in the lie's order."""
    lines = found.lengths[1:]
    return {line.of: chr(ord("A") + number % 26) for number, line in enumerate(lines)}


def _head(name: str, letters: dict[str, str]) -> str:
    """A part or room where there is little room for its name."""
    if name in letters:
        return letters[name]
    return name.removeprefix("water under the ").removeprefix("hull to the ")


def _row_name(found: Ease, one: Metre, letters: dict[str, str]) -> str:
    length = found.lengths[one.number]
    return f"{length.word(one.by_m)} {letters.get(length.of, length.of)}{' *' if one.bent else ''}"


def _cells(
    found: Ease, one: AtHour | Metre, shown: tuple[list[int], list[int]], *, now: bool
) -> list[str]:
    if now:
        cells = [use_words(float(one.use[part])) for part in shown[0]]
        return cells + [_tenths(float(one.room_m[room])) for room in shown[1]]
    cells = [_change(float(one.use[part]), _SHOWN_USE, 2) for part in shown[0]]
    return cells + [_change(float(one.room_m[room]), _SHOWN_M, 1) for room in shown[1]]


def _table(stay: Stay, found: Ease, before: Judgement, hour: int) -> list[str]:
    """A row a length and way, a column a part or room; what does nothing is told below."""
    shown, letters = _shown(found), _letters(found)
    heads = [_head(found.parts[part], letters) for part in shown[0]]
    heads += [f"{_head(found.rooms[room], letters)}, m" for room in shown[1]]
    rows = [["", *heads], ["as she lies", *_cells(found, found.now[hour], shown, now=True)]]
    idle = []
    for one in (one for one in found.metres if one.at == hour):
        cells = _cells(found, one, shown, now=False)
        name = _row_name(found, one, letters)
        if set(cells) == {"0"}:
            idle.append(name)
        else:
            rows.append([name, *cells])
    wide = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    when = day_clock(before.time_utc[found.hours[hour]], stay.bay.zone_name)
    said = ["", f"{'At' if hour == 0 else 'At the worst hour,'} {when}:"]
    for row in rows:
        told = "  ".join(f"{cell:>{room}}" for cell, room in zip(row[1:], wide[1:], strict=True))
        said.append(f"  {row[0]:{wide[0]}}  {told}")
    return said + ([f"  Does nothing then: {', '.join(idle)}."] if idle else [])


def _tenths(value: float) -> str:
    return f"{value:.1f}" if math.isfinite(value) else UNKNOWN


def _text(stay: Stay, found: Ease, before: Judgement) -> str:
    lines = [
        ease_words(stay, found, before),
        "",
        "What one metre does to the use of each part and to room, of all members the worst:",
    ]
    for hour in [0] if found.hours[0] == found.hours[1] else [0, 1]:
        lines += _table(stay, found, before, hour)
    if any(one.bent for one in found.metres):
        lines.append(
            "  * a line comes taut or goes slack within it: half a metre is not half of it"
        )
    lines += ["", "Out now:"]
    letters = _letters(found)
    lines += [
        f"  {letters.get(one.of, ' ')} {one.of}: {length_words(one.now_m)},"
        f" {length_words(one.most_m)} at most{' in each part' if one.parts > 1 else ''}"
        for one in found.lengths
    ]
    return with_noticed("\n".join(lines), found.basis)


def answer_ease(
    stay_path: Path, at: str | None = None, progress: Callable[[int, int], None] | None = None
) -> Answer:
    """What a metre on each length does, and the least change that keeps her inside.

    Parameters
    ----------
    at : str, optional
        The hour asked: a time of day on the place's clock, or a full time; the stay's
        first where left out.

    Raises
    ------
    BadInput, Unreadable
        As ``judge``, and for a time that is none or lies outside the stay.
    """
    stay = read_stay(stay_path)
    judged = judge(stay)
    before = judged.judgement
    index = hour_asked(stay, before.time_utc, at)
    found = ease(stay, judged, index, progress)
    return Answer("ease", ease_keys(stay, found, before), found.basis, _text(stay, found, before))
