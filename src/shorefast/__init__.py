"""Shorefast: can she lie here, anchor down and lines ashore from the stern?

Every command is a function of the same name: ``shorefast.judge("stay.toml")``
gives the answer whose ``text`` the terminal prints and whose ``keys`` are the JSON.
"""

from __future__ import annotations

import sys
from functools import partial
from types import ModuleType
from typing import Any

from shorefast.app.ask import COMMANDS, ask

__all__ = [*COMMANDS]


def __getattr__(name: str) -> Any:
    if name in COMMANDS:
        return partial(ask, name)
    raise AttributeError(f"module 'shorefast' has no attribute {name!r}")


class _Asked(ModuleType):
    """A package that has a command's name: called, it answers that command."""

    def __call__(self, *given: Any, **named: Any) -> Any:
        return ask(self.__name__.rpartition(".")[2], *given, **named)


class _FrontDoor(ModuleType):
    """Lets ``shorefast.bay`` be both the package and the question."""

    def __setattr__(self, name: str, value: Any) -> None:
        if name in COMMANDS and isinstance(value, ModuleType):
            value.__class__ = _Asked
        super().__setattr__(name, value)


sys.modules[__name__].__class__ = _FrontDoor
