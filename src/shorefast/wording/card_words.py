"""The texts of the cards in every shipped language, and how a number is said in each."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any

from shorefast.errors import BadInput
from shorefast.quantities import from_si
from shorefast.wording import numbers
from shorefast.wording.times import Moment, local, offset

LANGUAGES = ("en", "fr", "es")
Text = str | tuple[str, ...]
_THINGS = ("keel", "rudder", "hull", "tender", "ladder", "shore")
_PARTS = tuple(
    (key, re.compile(form))
    for key, form in (
        ("anchor", "anchor"),
        ("chain", "chain"),
        ("snubber", "snubber"),
        ("water_under", r"water under the (?P<what>.+)"),
        ("hull_to", r"hull to (?P<what>.+)"),
        ("tender_to", r"tender to (?P<what>.+)"),
        ("both_legs", r"both legs of (?P<line>.+)"),
        ("all_legs", r"all legs of (?P<line>.+)"),
        ("cleat", r"(?P<name>.+) cleat"),
        ("ashore", r"(?P<name>.+) ashore"),
        ("to", r"(?P<line>.+?) to (?P<point>.+)"),
        ("round", r"(?P<sling>.+?) round (?P<point>.+)"),
    )
)
"""How the judgement names parts, losses and rooms."""


@dataclass(frozen=True)
class CardWords:
    """One language's catalogue: a text by its key, and numbers with their unit.

    Attributes
    ----------
    language : str
        One of ``LANGUAGES``.
    texts : mapping
        Every text by "section.key"; lists are kept as tuples.
    """

    language: str
    texts: Mapping[str, Text]

    def say(self, key: str, **values: object) -> str:
        """A text with its places filled in."""
        text = self.texts[key]
        return (text if isinstance(text, str) else " ".join(text)).format(**values)

    def rows(self, key: str) -> tuple[str, ...]:
        """A list of texts."""
        found = self.texts[key]
        return (found,) if isinstance(found, str) else found

    @property
    def unknown(self) -> str:
        """The word for what nobody knows."""
        return self.say("number.unknown")

    def number(self, value: float, digits: int = 0) -> str:
        """A number with the language's own decimal sign; halves away from zero."""
        if not math.isfinite(value):
            return self.unknown
        step = 10.0**digits
        rounded = math.copysign(math.floor(abs(value) * step + 0.5) / step, value) + 0.0
        return f"{rounded:.{digits}f}".replace(".", self.say("number.decimal"))

    def metres(self, length_m: float) -> str:
        """A length as everywhere else: tenths up to ten metres."""
        return self._as_english(length_m, numbers.metres(length_m))

    def kilograms(self, force_n: float) -> str:
        """A force as kilograms of pull, two digits known."""
        return self._as_english(force_n, numbers.kilograms(force_n))

    def knots(self, speed_mps: float) -> str:
        """A wind in whole knots, the unit written out."""
        if not math.isfinite(speed_mps):
            return self.unknown
        return self._counted("knot", self.number(from_si(speed_mps, "speed", "kn")))

    def slow_knots(self, speed_mps: float) -> str:
        """A speed through the water, in tenths of a knot."""
        if not math.isfinite(speed_mps):
            return self.unknown
        return self._counted("knot", self.number(from_si(speed_mps, "speed", "kn"), 1))

    def bearing(self, angle_rad: float) -> str:
        """A true bearing in three figures."""
        return numbers.bearing(angle_rad) if math.isfinite(angle_rad) else self.unknown

    def from_vertical(self, below_horizontal_rad: float) -> str:
        """The chain's angle as it is seen, 0 up and down: ``41°``."""
        if not math.isfinite(below_horizontal_rad):
            return self.unknown
        return f"{self.number(90.0 - from_si(below_horizontal_rad, 'angle', 'deg'))}°"

    def minutes(self, time_s: float) -> str:
        """A span of time, the units written out."""
        if not math.isfinite(time_s):
            return self.unknown
        if time_s < 90.0:
            return self.say("number.seconds", value=self.number(time_s))
        hours, rest = divmod(int(self.number(time_s / 60.0)), 60)
        if not hours:
            return self.say("number.minutes", value=rest)
        said = self._counted("hour", str(hours))
        return f"{said} {self.say('number.minutes', value=rest)}" if rest else said

    def clock(self, at_utc: Moment, zone_name: str) -> str:
        """The time of day at the place: ``04:30``."""
        return local(at_utc, zone_name).strftime("%H:%M")

    def day_clock(self, at_utc: Moment, zone_name: str) -> str:
        """Day and time at the place, in the language's own order."""
        there = local(at_utc, zone_name)
        return self.say(
            "number.day_clock",
            weekday=self.rows("number.weekdays")[there.weekday()],
            day=there.day,
            month=self.rows("number.months")[there.month - 1],
            clock=f"{there:%H:%M}",
        )

    def hours(self, from_utc: Moment, until_utc: Moment, zone_name: str) -> str:
        """A stay's hours on the place's clocks, and how far those are from UTC."""
        return self.say(
            "number.span",
            first=self.day_clock(from_utc, zone_name),
            last=self.day_clock(until_utc, zone_name),
            offset=offset(from_utc, zone_name),
        )

    def latitude(self, lat_deg: float) -> str:
        """Degrees and minutes to be read out, the side written out."""
        return self._said_degrees(lat_deg, 2, ("number.south", "number.north"))

    def longitude(self, lon_deg: float) -> str:
        """Degrees and minutes to be read out, the side written out."""
        east = (lon_deg + 180.0) % 360.0 - 180.0 if math.isfinite(lon_deg) else lon_deg
        return self._said_degrees(east, 3, ("number.west", "number.east"))

    def part(self, name: str) -> str:
        """A part, loss or room as the judgement names it, in this language."""
        for key, form in _PARTS:
            found = form.fullmatch(name)
            if found is not None:
                told = {place: self._thing(word) for place, word in found.groupdict().items()}
                return self.say(f"part.{key}", **told)
        return name

    def zone(self, kind: str) -> str:
        """What a zone is, as a plan names it."""
        key = f"zone.{kind.replace(' ', '_')}"
        return self.say(key) if key in self.texts else kind

    def touched(self, room: str) -> str:
        """What touches or is touched where a room runs out: the rudder, the shore."""
        return self._thing(room.removeprefix("water under ").split("hull to ", 1)[-1])

    def _thing(self, word: str) -> str:
        plain = word.removeprefix("the ")
        return self.say(f"part.{plain}") if plain in _THINGS else plain

    def _counted(self, unit: str, value: str) -> str:
        """A number with its unit, one of them or several."""
        return self.say(f"number.{unit}" if value == "1" else f"number.{unit}s", value=value)

    def _said_degrees(self, angle_deg: float, width: int, sides: tuple[str, str]) -> str:
        if not math.isfinite(angle_deg):
            return self.unknown
        whole, hundredths = divmod(math.floor(abs(angle_deg) * 6000 + 0.5), 6000)
        minutes = f"{hundredths / 100:05.2f}".replace(".", self.say("number.decimal"))
        side = self.say(sides[0] if angle_deg < 0 else sides[1])
        return self.say("number.degrees", whole=f"{whole:0{width}d}", minutes=minutes, side=side)

    def _as_english(self, value: float, said: str) -> str:
        if not math.isfinite(value):
            return self.unknown
        return said.replace(".", self.say("number.decimal"))


@lru_cache(maxsize=len(LANGUAGES))
def card_words(language: str) -> CardWords:
    """The catalogue of one language.

    Raises
    ------
    BadInput
        If there is none for it.
    """
    if language not in LANGUAGES:
        raise BadInput(
            "Language",
            f"'{language}'",
            f"one of {', '.join(LANGUAGES)} wanted",
            "Take one of these.",
        )
    file = resources.files("shorefast.wording").joinpath(f"cards/{language}.toml")
    return CardWords(language, dict(_flat(tomllib.loads(file.read_text(encoding="utf-8")))))


def _flat(table: Mapping[str, Any], before: str = "") -> list[tuple[str, Text]]:
    found: list[tuple[str, Text]] = []
    for key, value in table.items():
        if isinstance(value, Mapping):
            found += _flat(value, f"{before}{key}.")
        else:
            found.append((f"{before}{key}", tuple(value) if isinstance(value, list) else value))
    return found
