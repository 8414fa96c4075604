"""One thing told beside the verdict: JSON keys, text, basis, files."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shorefast.basis import Basis


@dataclass(frozen=True)
class Told:
    """Keys of the JSON object, text for the terminal, what both rest on, files written."""

    keys: dict[str, Any]
    text: str
    basis: Basis = field(default_factory=Basis)
    files: tuple[Path, ...] = ()
