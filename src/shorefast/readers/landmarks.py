"""What there is to look at: the ``[[mark]]`` tables of bay.toml."""

from __future__ import annotations

from shorefast.bay import Frame, Landmark
from shorefast.errors import BadInput
from shorefast.readers.bay_parts import place_of
from shorefast.readers.toml_file import TomlTable


def read_landmarks(table: TomlTable, frame: Frame) -> tuple[Landmark, ...]:
    """The ``[[mark]]`` tables; names must differ.

    Raises
    ------
    BadInput
        For a mark without a name or a place, or a second one of its name.
    """
    found: dict[str, Landmark] = {}
    for one in table.tables("mark"):
        name = one.need_text("name")
        if name in found:
            raise BadInput(
                one.where("name"),
                f"a second mark '{name}'",
                "names must differ",
                "Give it another.",
            )
        east_m, north_m = place_of(one, frame)
        height_m = one.quantity("height", "length", least=-20.0, most=3000.0)
        found[name] = Landmark(name, east_m, north_m, height_m, one.flag("lit", False))
    return tuple(found.values())
