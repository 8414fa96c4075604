"""What the numbers in a chart cell stand for, and how its objects say them."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

Says = Mapping[str, Any]


@cache
def _tables() -> dict[str, dict[str, str]]:
    with Path(__file__).with_name("chart_codes.toml").open("rb") as opened:
        return tomllib.load(opened)


def meaning(table: str, code: int | None) -> str | None:
    """The words for a code; None where there is none, or none known here.

    Source
    ------
    iho-s57, Appendix A (attribute catalogue)
    """
    return None if code is None else _tables()[table].get(str(code))


def meanings(table: str, codes: Iterable[int]) -> tuple[str, ...]:
    """The words for several codes, unknown ones as their number."""
    return tuple(meaning(table, code) or f"code {code}" for code in codes)


def number_of(says: Says, key: str) -> float | None:
    """A number an object says, None where it does not."""
    told: Any = says.get(key)
    try:
        value = float(told)
    except (TypeError, ValueError):
        return None
    return value if value == value else None


def code_of(says: Says, key: str) -> int | None:
    """A single code an object says; of a list the first."""
    codes = codes_of(says, key)
    return codes[0] if codes else None


def codes_of(says: Says, key: str) -> tuple[int, ...]:
    """The codes of a list, in its order; what lies under something (4/9) comes after it."""
    told = says.get(key)
    if told is None:
        return ()
    if isinstance(told, str):
        parts = told.split(",")
    else:
        parts = [str(one) for one in told] if hasattr(told, "__iter__") else [str(told)]
    found = []
    for part in (piece for whole in parts for piece in whole.split("/")):
        try:
            found.append(int(float(part)))
        except (ValueError, OverflowError):
            continue
    return tuple(found)


def words_of(says: Says, key: str) -> str | None:
    """A text an object says, None where it is empty."""
    told = says.get(key)
    return " ".join(told.split()) or None if isinstance(told, str) else None
