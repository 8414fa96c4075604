"""The folder that files are written to, looked at before the long sums and not after."""

from __future__ import annotations

import os
from pathlib import Path

from shorefast.errors import BadInput


def ready(folder: Path) -> Path:
    """The folder again, made where it is not there yet.

    Raises
    ------
    BadInput
        If there is a file of that name or on the way to it, or nobody may write there.
    """
    file = next((one for one in (folder, *folder.parents) if one.is_file()), None)
    if file is not None:
        raise BadInput(
            f"--out {folder}", f"{file} is a file", "a folder wanted", "Name another folder."
        )
    folder.mkdir(parents=True, exist_ok=True)
    if not os.access(folder, os.W_OK):
        raise BadInput(
            f"--out {folder}", "nobody may write there", "", "Name another folder, or open it."
        )
    return folder
