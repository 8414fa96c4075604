"""Sizes, words and names in a TOML table, read leniently in form, never in meaning."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from shorefast.errors import BadInput
from shorefast.quantities import units_of
from shorefast.readers.toml_file import TomlTable


def key_of(table: TomlTable, name: str, kind: str) -> str:
    """The key a quantity was given under, unit included."""
    keys = [f"{name}_{unit.name}" for unit in units_of(kind)]
    return next((key for key in keys if key in table.values), keys[0])


def maybe_size(table: TomlTable, name: str, kind: str, least: float, most: float) -> float | None:
    """A size above nothing and of a likely order, in SI; None if absent."""
    table.quantity(name, kind, above=0.0)
    return table.quantity(name, kind, least=least, most=most)


def size(table: TomlTable, name: str, kind: str, least: float, most: float) -> float:
    """As ``maybe_size``, but it must be there."""
    table.need(name, kind, above=0.0)
    return table.need(name, kind, least=least, most=most)


def word(table: TomlTable, key: str, known: tuple[str, ...], also: Mapping[str, str]) -> str:
    """One of a few words, in any case; ``also`` holds other words for the same things.

    Raises
    ------
    BadInput
        If it is missing or none of them.
    """
    said = table.need_text(key)
    plain = " ".join(said.lower().replace("_", " ").split())
    meant = also.get(plain) or _inside(plain, known) or plain
    if meant not in known:
        near = get_close_matches(plain, known, 1, 0.6)
        out = f"Did you mean '{near[0]}'?" if near else "Take the nearest of these."
        raise BadInput(table.where(key), f"'{said}'", f"one of {', '.join(known)} wanted", out)
    return meant


def _inside(plain: str, known: tuple[str, ...]) -> str | None:
    """The one known word in a longer saying ("hinged plough"); None if none or several."""
    inside = [one for one in known if f" {one} " in f" {plain} "]
    longest = max(inside, key=len, default=None)
    return longest if longest and all(one in longest for one in inside) else None


@dataclass
class PartNames:
    """The names given so far to parts of one sort; each may be given once."""

    given: set[str] = field(default_factory=set)

    def take(self, table: TomlTable) -> str:
        """The name of a part.

        Raises
        ------
        BadInput
            If it is missing or was given before.
        """
        name = table.need_text("name")
        if name in self.given:
            raise BadInput(
                table.where("name"), f"'{name}' a second time", "", "Give each its own name."
            )
        self.given.add(name)
        return name
