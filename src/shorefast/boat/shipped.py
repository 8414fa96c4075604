"""The tables shipped inside the package: printed values with source and status."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def shipped_table(package: str, name: str) -> tuple[Mapping[str, str], ...]:
    """All rows of a shipped table, as printed.

    Parameters
    ----------
    package : str
        The package that ships it ("shorefast.boat").
    name : str
        Its name without the ending ("chain").

    Returns
    -------
    rows : tuple of mappings, column name to text
    """
    text = files(package).joinpath("tables", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(row for row in text.splitlines() if not row.startswith("#")))
