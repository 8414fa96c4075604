"""Named numbers of a case file, each mistake answered with file, case and key."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shorefast.errors import BadInput, Unreadable

FORMAT = "yacht-statics-vectors-1"
_NAMES = ("id", "name", "case")
_FORM = "See docs/validation.md for the form of a case."


@dataclass(frozen=True)
class Fields:
    """One object of a case file and where it stands ("rode.json, case RP01, segment 2")."""

    where: str
    values: Mapping[str, Any]

    def _at(self, key: str) -> str:
        return f"{self.where}, {key}"

    def _given(self, key: str, wanted: str) -> Any:
        if key not in self.values:
            raise BadInput(self.where, f"{key} is missing", f"{wanted} wanted", f"Add {key}.")
        return self.values[key]

    def has(self, key: str) -> bool:
        """Whether the key is there and not null."""
        return self.values.get(key) is not None

    def number(self, key: str, *, least: float = -math.inf, above: float = -math.inf) -> float:
        """A finite number, at least ``least`` and more than ``above``.

        Raises
        ------
        BadInput
            If it is missing, no number, or too small.
        """
        value = _finite(self._given(key, "a number"), self._at(key))
        if value < least or value <= above:
            word = f"at least {least:g}" if value < least else f"more than {above:g}"
            raise BadInput(self._at(key), f"{value:g}", f"{word} wanted", "Correct it.")
        return value

    def word(self, key: str) -> str:
        """A text that is not empty."""
        value = self._given(key, "a text")
        if not isinstance(value, str) or not value:
            raise BadInput(self._at(key), _shown(value), "a text wanted", "Correct it.")
        return value

    def choice(self, key: str, known: tuple[str, ...]) -> str:
        """One of a few words."""
        value = self.word(key)
        if value not in known:
            raise BadInput(
                self._at(key), f"'{value}'", f"one of {', '.join(known)} wanted", "Correct it."
            )
        return value

    def numbers(self, key: str, count: int) -> tuple[float, ...]:
        """A list of so many finite numbers."""
        return _finite_list(self._given(key, f"{count} numbers"), count, self._at(key))

    def rows(self, key: str, count: int) -> tuple[tuple[float, ...], ...]:
        """A list of lists of so many finite numbers."""
        value = self._items(key)
        return tuple(
            _finite_list(item, count, f"{self._at(key)}, entry {number}")
            for number, item in enumerate(value, start=1)
        )

    def inside(self, key: str) -> Fields:
        """The object under a key."""
        value = self._given(key, "an object")
        if not isinstance(value, Mapping):
            raise BadInput(self._at(key), _shown(value), "an object wanted", "Correct it.")
        return Fields(self._at(key), value)

    def objects(self, key: str, title: str) -> tuple[Fields, ...]:
        """The objects of a list, each called by its id, name or case, else by its number."""
        found = []
        for number, item in enumerate(self._items(key), start=1):
            if not isinstance(item, Mapping):
                raise BadInput(
                    f"{self._at(key)}, entry {number}",
                    _shown(item),
                    "an object wanted",
                    "Correct it.",
                )
            called = next((item[key] for key in _NAMES if key in item), number)
            found.append(Fields(f"{self.where}, {title} {called}", item))
        return tuple(found)

    def refuse_others(self, known: tuple[str, ...]) -> None:
        """Raise BadInput for the first key that is not among the known ones."""
        for key in self.values:
            if key not in known:
                raise BadInput(
                    self.where, f"{key} is not known here", "", f"Known are {', '.join(known)}."
                )

    def _items(self, key: str) -> list[Any]:
        value = self._given(key, "a list")
        if not isinstance(value, list) or not value:
            raise BadInput(
                self._at(key), _shown(value), "a list with something in it wanted", "Correct it."
            )
        return value


def _shown(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 40 else f"{text[:37]}..."


def _finite(value: Any, where: str) -> float:
    plain = isinstance(value, int | float) and not isinstance(value, bool)
    try:
        number = float(value) if plain else math.nan
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise BadInput(where, _shown(value), "a finite number wanted", "Correct it.")
    return number


def _finite_list(value: Any, count: int, where: str) -> tuple[float, ...]:
    if not isinstance(value, list) or len(value) != count:
        raise BadInput(where, _shown(value), f"{count} numbers wanted", "Correct it.")
    return tuple(_finite(item, where) for item in value)


def parse_cases(text: str, name: str) -> tuple[Fields, ...]:
    """The cases of a file, not looked into yet.

    Parameters
    ----------
    text : str
        The file's contents.
    name : str
        The file's name, for messages.

    Raises
    ------
    Unreadable
        If it is not JSON, or not in the form of case files.
    BadInput
        If there is no case in it.
    """
    whole = _json_object(text, name)
    told = whole.get("format")
    if told != FORMAT:
        got = "no format named" if told is None else f"format {_shown(told)}"
        raise Unreadable(name, got, f'"{FORMAT}" wanted', _FORM)
    return Fields(name, whole).objects("cases", "case")


def _json_object(text: str, name: str) -> Mapping[str, Any]:
    try:
        whole = json.loads(text, parse_constant=_refuse)
    except json.JSONDecodeError as trouble:
        place = f"line {trouble.lineno}, column {trouble.colno}: {trouble.msg}"
        raise Unreadable(name, f"not JSON ({place})", "", "Correct that place.") from None
    except (ValueError, RecursionError) as trouble:
        raise Unreadable(name, f"not JSON ({trouble})", "", "Correct it.") from None
    if not isinstance(whole, Mapping):
        raise Unreadable(name, f"{_shown(whole)}", "an object with format and cases wanted", _FORM)
    return whole


def _refuse(word: str) -> float:
    raise ValueError(f"{word} is no JSON number")
