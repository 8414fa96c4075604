"""What an answer rests on: inputs, assumptions, sources, findings, version."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

VERSION = "0.1.0"

T = TypeVar("T")


@dataclass(frozen=True)
class Input:
    """One number or word that went in, and who said so.

    Attributes
    ----------
    name : str
        In the skipper's words ("displacement").
    value : str
        As it is read aloud, unit included ("11500 kg").
    said_by : str
        "skipper", "default", or the name of a file.
    """

    name: str
    value: str
    said_by: str


@dataclass(frozen=True)
class Assumption:
    """A sentence that was taken as true, and what happens if it is not."""

    said: str
    if_wrong: str


@dataclass(frozen=True)
class Finding:
    """Something noticed on the way: skipped, clipped, assumed or odd."""

    where: str
    said: str


def _joined(first: tuple[T, ...], second: tuple[T, ...]) -> tuple[T, ...]:
    return tuple(dict.fromkeys(first + second))


@dataclass(frozen=True)
class Basis:
    """All that an answer rests on; two bases join with ``|``, each entry once."""

    inputs: tuple[Input, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    sources: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    version: str = VERSION

    def __or__(self, other: Basis) -> Basis:
        return Basis(
            _joined(self.inputs, other.inputs),
            _joined(self.assumptions, other.assumptions),
            _joined(self.sources, other.sources),
            _joined(self.findings, other.findings),
            self.version,
        )
