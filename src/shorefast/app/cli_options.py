"""What the commands take alike, and the cautions under their help."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from shorefast.wording import CAUTIONS_SHORT

StayFile = Annotated[Path, typer.Argument(metavar="STAY", help="A stay file (stay.toml).")]
AsJson = Annotated[bool, typer.Option("--json", help="One JSON object in SI units instead.")]
Out = Annotated[Path, typer.Option("--out", metavar="FOLDER", help="Where to write the files.")]


def brief(*numbers: int) -> str:
    """The short cautions of those numbers, for the foot of a command's help."""
    return "\b\n" + "\n".join(CAUTIONS_SHORT[number - 1] for number in numbers)
