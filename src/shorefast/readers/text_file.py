"""A text file's contents, or a sentence about why there are none."""

from __future__ import annotations

from pathlib import Path

from shorefast.errors import BadInput, Unreadable

_MOST_BYTES = 5_000_000


def read_text(path: Path, wanted: str) -> str:
    """The whole file, decoded as UTF-8.

    Parameters
    ----------
    path : Path
    wanted : str
        What it should be ("a stay file").

    Raises
    ------
    BadInput
        If there is no such file, or it is a folder.
    Unreadable
        If it is far too large for what it should be, or no UTF-8 text.
    """
    if path.is_dir():
        raise BadInput(str(path), "a folder", f"{wanted} wanted", "Name the file in it.")
    if not path.is_file():
        raise BadInput(str(path), "no such file", f"{wanted} wanted", "Correct the path.")
    if path.stat().st_size > _MOST_BYTES:
        megabytes = path.stat().st_size / 1e6
        raise Unreadable(
            path.name, f"{megabytes:.0f} MB", f"{wanted} wanted", "Name the right file."
        )
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        raise Unreadable(
            path.name,
            f"no UTF-8 text at byte {trouble.start}",
            f"{wanted} wanted",
            "Save it as UTF-8, or name the right file.",
        ) from None
