"""TOML with its places kept: every mistake is answered with file, line and key."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from difflib import get_close_matches
from typing import Any

from shorefast.errors import BadInput, Unreadable
from shorefast.quantities import Unit, units_of

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(#.*)?$")
_KEY = re.compile(r"^\s*([A-Za-z0-9_-]+)\s*=")


# what people write where the SI unit is not it
_WRITTEN = {"angle": "deg", "temperature": "c"}


def _key_wanted(name: str, kind: str) -> str:
    return f"{name}_{_WRITTEN.get(kind, units_of(kind)[0].name)}"


def shown(value: Any) -> str:
    """A value as a TOML file has it, for messages; a table is only named as one."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date | time):
        return value.isoformat()
    return "a table" if isinstance(value, Mapping) else repr(value)


def _line_index(text: str) -> dict[tuple[str, str], int]:
    """Line of every key: (table path with its number, key) to line, from one."""
    lines: dict[tuple[str, str], int] = {}
    counts: dict[str, int] = {}
    path = ""
    for number, row in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(row)
        if header:
            path = header.group(2).replace(" ", "")
            if header.group(1) == "[[":
                counts[path] = counts.get(path, 0) + 1
                path = f"{path}#{counts[path]}"
            else:
                # a table of an array's table belongs to the last of these
                first, dot, own = path.partition(".")
                path = f"{first}#{counts[first]}.{own}" if dot and first in counts else path
            lines[(path, "")] = number
            continue
        key = _KEY.match(row)
        if key:
            lines.setdefault((path, key.group(1)), number)
    return lines


@dataclass
class TomlTable:
    """One table of a file; it knows where it stands and which keys were taken."""

    name: str
    path: str
    title: str
    values: Mapping[str, Any]
    lines: dict[tuple[str, str], int]
    taken: set[str] = field(default_factory=set)
    children: list[TomlTable] = field(default_factory=list)

    def where(self, key: str = "") -> str:
        """The place of a key, in words: ``boat.toml, line 12, [hull] length_m``."""
        # a table in braces has no head of its own: it stands on the line of its key
        above, _, own = self.path.rpartition(".")
        places = ((self.path, key), (self.path, ""), (above, own))
        line = next((self.lines[place] for place in places if place in self.lines), None)
        at = f", line {line}" if line else ""
        said = " ".join(part for part in (self.title, key) if part)
        return f"{self.name}{at}, {said}" if said else f"{self.name}{at}"

    def has(self, key: str) -> bool:
        """Whether a plain key or table of that name is there."""
        return key in self.values

    def _missing(self, key: str, wanted: str) -> BadInput:
        spelt = get_close_matches(key, [k for k in self.values if k not in self.taken], 1, 0.75)
        hint = f" Did you mean that by '{spelt[0]}'?" if spelt else ""
        return BadInput(
            self.where(), f"{key} is missing", f"{wanted} wanted", f"Add {key} = ...{hint}"
        )

    def quantity(
        self,
        name: str,
        kind: str,
        *,
        least: float = -math.inf,
        most: float = math.inf,
        above: float = -math.inf,
    ) -> float | None:
        """A number whose key ends in any unit of its kind, in SI; None if absent.

        Raises
        ------
        BadInput
            If the unit is missing or given twice, the value is no finite number,
            or it lies below ``least``, above ``most`` or not above ``above`` (SI).
        """
        units = {f"{name}_{unit.name}": unit for unit in units_of(kind)}
        found = [key for key in units if key in self.values]
        self.taken.update(found)
        if name in self.values:
            raise BadInput(
                self.where(name),
                f"{name} = {shown(self.values[name])} has no unit",
                f"a key ends in its unit ({', '.join(units)})",
                f"Write {_key_wanted(name, kind)} = ...",
            )
        if len(found) > 1:
            raise BadInput(
                self.where(found[1]), " and ".join(found), "one is enough", "Take one out."
            )
        if not found:
            return None
        key = found[0]
        value = self._number(key)
        self._in_range(key, value, units[key], (least, most, above))
        return value * units[key].si + units[key].zero_si

    def _number(self, key: str) -> float:
        value = self.values[key]
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise BadInput(self.where(key), shown(value), "a number wanted", "Correct it.")
        if not math.isfinite(value):
            raise BadInput(
                self.where(key),
                f"{value}",
                "a finite number wanted",
                "Correct it, or leave the key out if nobody knows.",
            )
        return float(value)

    def _in_range(
        self, key: str, value: float, unit: Unit, span: tuple[float, float, float]
    ) -> None:
        least, most, above = span
        value_si = value * unit.si + unit.zero_si
        wanted = None
        if value_si < least or value_si <= above:
            low = least if math.isfinite(least) else above
            word = "at least" if math.isfinite(least) else "more than"
            wanted = f"{word} {(low - unit.zero_si) / unit.si:g}"
        elif value_si > most:
            wanted = f"at most {(most - unit.zero_si) / unit.si:g}"
        if wanted is not None:
            raise BadInput(self.where(key), f"{value:g}", f"{wanted} wanted", "Correct it.")

    def need(self, name: str, kind: str, **span: float) -> float:
        """As ``quantity``, but it must be there."""
        value = self.quantity(name, kind, **span)
        if value is None:
            raise self._missing(_key_wanted(name, kind), "a number")
        return value

    def number(self, key: str) -> float | None:
        """A number without a unit (a share, a count); None if absent."""
        self.taken.add(key)
        return self._number(key) if key in self.values else None

    def text(self, key: str) -> str | None:
        """A word or name; None if absent."""
        self.taken.add(key)
        if key not in self.values:
            return None
        value = self.values[key]
        if not isinstance(value, str) or not value.strip():
            raise BadInput(self.where(key), shown(value), "a text in quotes wanted", "Correct it.")
        return value.strip()

    def need_text(self, key: str) -> str:
        """As ``text``, but it must be there."""
        value = self.text(key)
        if value is None:
            raise self._missing(key, "a text")
        return value

    def choice(self, key: str, allowed: tuple[str, ...]) -> str | None:
        """One of a few words; None if absent."""
        value = self.text(key)
        if value is not None and value not in allowed:
            raise BadInput(
                self.where(key), f"'{value}'", f"one of {', '.join(allowed)} wanted", "Correct it."
            )
        return value

    def words(self, key: str, allowed: tuple[str, ...]) -> tuple[str, ...]:
        """A list of a few words in any case, or one alone; it must be there.

        Raises
        ------
        BadInput
            If it is missing, empty, no list of texts, holds another word or one twice.
        """
        self.taken.add(key)
        if key not in self.values:
            raise self._missing(key, "a list of texts")
        given = self.values[key]
        listed = [given] if isinstance(given, str) else given
        wanted = f"a list of {', '.join(allowed)} wanted"
        if not isinstance(listed, list) or not all(isinstance(one, str) for one in listed):
            raise BadInput(self.where(key), shown(given), wanted, "Correct it.")
        plain = [one.strip().lower() for one in listed]
        for number, one in enumerate(plain):
            if one not in allowed:
                raise BadInput(self.where(key), f"'{listed[number]}'", wanted, "Correct it.")
            if one in plain[:number]:
                raise BadInput(self.where(key), f"'{one}' a second time", "", "Take one out.")
        if not plain:
            raise BadInput(self.where(key), "an empty list", wanted, "Correct it.")
        return tuple(plain)

    def flag(self, key: str, otherwise: bool) -> bool:
        """A yes or no, written true or false."""
        self.taken.add(key)
        value = self.values.get(key, otherwise)
        if not isinstance(value, bool):
            raise BadInput(self.where(key), shown(value), "true or false wanted", "Correct it.")
        return value

    def moment(self, key: str) -> datetime | None:
        """A time in UTC: a TOML date and time, or the same in quotes; None if absent.

        Raises
        ------
        BadInput
            If it is no time, or names no zone (a UTC key may leave out the Z).
        """
        self.taken.add(key)
        if key not in self.values:
            return None
        value = self.values[key]
        if isinstance(value, str):
            try:
                value = datetime.fromisoformat(value)
            except ValueError:
                value = None
        if not isinstance(value, datetime):
            raise BadInput(
                self.where(key),
                shown(self.values[key]),
                'a time wanted, like "2026-07-01T21:40:00Z"',
                "Correct it.",
            )
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)

    def need_moment(self, key: str) -> datetime:
        """As ``moment``, but it must be there."""
        value = self.moment(key)
        if value is None:
            raise self._missing(key, "a time in UTC")
        return value

    def table(self, key: str) -> TomlTable | None:
        """A table inside this one; None if absent."""
        self.taken.add(key)
        if key not in self.values:
            return None
        if not isinstance(self.values[key], Mapping):
            raise BadInput(self.where(key), f"{key}", f"a table [{key}] wanted", "Correct it.")
        return self._child(key, f"{self.path}.{key}" if self.path else key, self.values[key], None)

    def table_or_file(self, key: str) -> TomlTable | None:
        """A table with a ``file`` in it, or that file's name alone; None if absent."""
        if not isinstance(self.values.get(key), str):
            return self.table(key)
        named = {"file": self.text(key)}
        return self._child(key, f"{self.path}.{key}" if self.path else key, named, None)

    def need_table(self, key: str) -> TomlTable:
        """As ``table``, but it must be there."""
        found = self.table(key)
        if found is None:
            raise BadInput(self.where(), f"[{key}] is missing", "it is needed", f"Add [{key}].")
        return found

    def tables(self, key: str) -> list[TomlTable]:
        """The tables of an array ``[[key]]``, none if absent."""
        self.taken.add(key)
        values = self.values.get(key, [])
        if not isinstance(values, list) or not all(isinstance(v, Mapping) for v in values):
            raise BadInput(self.where(key), f"{key}", f"tables [[{key}]] wanted", "Correct it.")
        path = f"{self.path}.{key}" if self.path else key
        return [
            self._child(key, f"{path}#{number}", value, number)
            for number, value in enumerate(values, start=1)
        ]

    def _child(
        self, key: str, path: str, values: Mapping[str, Any], number: int | None
    ) -> TomlTable:
        plain = re.sub(r"#\d+", "", path)
        title = f"[{plain}]" if number is None else f"[[{plain}]] {values.get('name', number)}"
        child = TomlTable(self.name, path, title, values, self.lines)
        self.children.append(child)
        return child

    def refuse_unknown(self) -> None:
        """Raise BadInput for the first key nobody asked for, here or in tables below."""
        for key in self.values:
            if key not in self.taken:
                known = get_close_matches(key, sorted(self.taken), 1, 0.6)
                out = f"Did you mean {known[0]}?" if known else "Take it out."
                raise BadInput(self.where(key), f"{key} is not known here", "", out)
        for child in self.children:
            child.refuse_unknown()


def parse_toml(text: str, name: str) -> TomlTable:
    """The whole file as one table.

    Parameters
    ----------
    text : str
        The file's contents.
    name : str
        The file's name, for messages.

    Raises
    ------
    Unreadable
        If it is not TOML.
    """
    if not text.strip():
        raise Unreadable(name, "it is empty", "TOML wanted", "See docs/files.md for an example.")
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise Unreadable(
            name, f"not TOML ({trouble})", "", "Correct that line; docs/files.md has an example."
        ) from None
    return TomlTable(name, "", "", values, _line_index(text))
