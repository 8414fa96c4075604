"""The folder that files are written to, looked at before the long sums and not after."""

from __future__ import annotations

from pathlib import Path

from shorefast.errors import BadInput


def ready(folder: Path) -> Path:
    """The folder again, made where it is not there yet.

    Raises
    ------
    BadInput
        If there is a file of that name, or on the way to it.
    """
    file = next((one for one in (folder, *folder.parents) if one.is_file()), None)
    if file is not None:
        raise BadInput(
            f"--out {folder}", f"{file} is a file", "a folder wanted", "Name another folder."
        )
    folder.mkdir(parents=True, exist_ok=True)
    return folder
