"""One thing a published check may ask: a function of ours and what it returns."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Call:
    """A function of named numbers and words, returning an SI number.

    Attributes
    ----------
    function : callable
        Takes the arguments as printed (``diameter_mm``), returns SI.
    kind : str
        Kind of quantity (see ``quantities``); empty for a plain number.
    """

    function: Callable[..., float]
    kind: str = ""
