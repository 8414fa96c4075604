"""The cautions every face carries, from one catalogue."""

from __future__ import annotations

import tomllib
from importlib import resources

_CATALOGUE = tomllib.loads(
    resources.files("shorefast.wording").joinpath("cautions.toml").read_text(encoding="utf-8")
)["caution"]

CAUTIONS: tuple[str, ...] = tuple(entry["text"] for entry in _CATALOGUE)
CAUTIONS_SHORT: tuple[str, ...] = tuple(entry["short"] for entry in _CATALOGUE)


def caution(number: int) -> str:
    """The caution of that number, counted from one."""
    return CAUTIONS[number - 1]
