"""A boat from her own file, or from that of a stay of hers."""

from __future__ import annotations

from pathlib import Path

from shorefast.boat import Yacht
from shorefast.errors import BadInput
from shorefast.readers.boat_file import boat_from_text
from shorefast.readers.stay_file import read_stay
from shorefast.readers.text_file import read_text
from shorefast.readers.toml_file import parse_toml
from shorefast.stay import Stay


def boat_or_stay(path: Path) -> tuple[Yacht, Stay | None]:
    """The boat, and the stay where the file is one.

    Parameters
    ----------
    path : Path
        A stay file names its boat; a boat file has a ``[hull]``.

    Raises
    ------
    BadInput
        If there is no such file, it is neither, or as ``read_boat`` and ``read_stay``.
    Unreadable
        If it is no text or no TOML.
    """
    text = read_text(path, "a boat or stay file")
    told = parse_toml(text, path.name)
    if told.has("hull"):
        return boat_from_text(text, path.name), None
    if told.has("boat"):
        stay = read_stay(path)
        return stay.boat, stay
    raise BadInput(
        path.name,
        "neither a [hull] nor a boat",
        "a boat file or a stay file wanted",
        "Name one of these.",
    )
