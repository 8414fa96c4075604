"""The ``[[depths]]`` tables of a bay: grids and soundings, or a log kept under way."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from shorefast.bay import Frame
from shorefast.boat import Yacht
from shorefast.errors import BadInput
from shorefast.readers.boat_file import read_boat
from shorefast.readers.depth_file import check_there, is_under_way, read_depths, read_under_way
from shorefast.readers.depths import DepthsRead, Told
from shorefast.readers.tide_of_run import TideOfRun, read_tide_of_run
from shorefast.readers.toml_file import TomlTable
from shorefast.readers.track_told import COUNTED_FROM, Sailed, sailed_by


def read_depths_table(table: TomlTable, folder: Path, frame: Frame) -> DepthsRead:
    """One ``[[depths]]`` table.

    A log of soundings under way is brought to chart datum by ``tide`` (a file, or a
    table as a stay's ``[tide]``) or ``level_m``; ``boat`` (a file) tells where antenna
    and transducer are.

    Raises
    ------
    BadInput, Unreadable
        As the readers of each kind do.
    """
    path = folder / table.need_text("file")
    told = Told(
        table.choice("depth", ("down", "up")),
        table.text("crs"),
        None,
        table.number("no_data"),
        table.quantity("datum_offset", "length", least=-30.0, most=30.0) or 0.0,
        table.quantity("deviation", "length", least=0.0, most=100.0),
    )
    sailed, counted_from, said = _sailed(table, folder)
    check_there(path, f"the depths of {table.where('file')}")
    if is_under_way(path, timed=sailed.water is not None):
        read = read_under_way(path, told, sailed, frame, counted_from)
        more = sailed.water.notes() if isinstance(sailed.water, TideOfRun) else ()
        return replace(read, notes=(*read.notes, *more))
    if said:
        raise BadInput(
            table.where(said),
            f"{path.name} is no log kept under way",
            "only such depths are brought to datum by the tide",
            "Take it out, or name the log.",
        )
    return read_depths(path, told, frame)


def _sailed(table: TomlTable, folder: Path) -> tuple[Sailed, str, str]:
    """What is told of a run, what its depths count from, and the first key that says any of it."""
    level_m = table.quantity("level", "length", least=-30.0, most=30.0)
    boat, day = table.text("boat"), table.text("day")
    ignored = table.choice("checksums", ("used", "ignored")) == "ignored"
    counted_from = table.choice("counted_from", COUNTED_FROM)
    if table.has("tide") and level_m is not None:
        raise BadInput(
            table.where("tide"), "a tide and a level", "one of them wanted", "Take one out."
        )
    tide = read_tide_of_run(table, folder)
    water = level_m if tide is None else tide
    sailed = sailed_by(_boat(table, folder, boat), water, day=_day(table, day), checked=not ignored)
    keys = {
        "tide": tide, "level": level_m, "boat": boat, "day": day, "counted_from": counted_from,
    }  # fmt: skip
    said = next((key for key, value in keys.items() if value is not None), "")
    return sailed, counted_from or "surface", said


def _boat(table: TomlTable, folder: Path, name: str | None) -> Yacht | None:
    if name is None:
        return None
    check_there(folder / name, f"the boat of {table.where('boat')}")
    return read_boat(folder / name)


def _day(table: TomlTable, text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadInput(
            table.where("day"), f"'{text}'", "a date like 2026-07-01 wanted", "Correct it."
        ) from None
