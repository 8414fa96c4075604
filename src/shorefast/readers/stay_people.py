"""The people of a stay file, the water they might swim in, and how long one watch is."""

from __future__ import annotations

from shorefast.errors import BadInput
from shorefast.readers.toml_file import TomlTable
from shorefast.readers.toml_words import PartNames
from shorefast.stay import DUTIES, Person

# one who cannot lend a hand may still keep a watch
_WITHOUT_A_HAND = ("watch", "guest")
_WATER_K = (270.15, 313.15)
_WATCH_S = (900.0, 43_200.0)


def read_people(table: TomlTable) -> tuple[Person, ...]:
    """All ``[[person]]``; none where nobody told.

    Raises
    ------
    BadInput
        If a name is missing or given twice, a duty is none we know, or one who is not
        able is given a duty that needs a hand.
    """
    names = PartNames()
    return tuple(_person(names, one) for one in table.tables("person"))


def _person(names: PartNames, table: TomlTable) -> Person:
    name = names.take(table)
    duties, able = table.words("duties", DUTIES), table.flag("able", True)
    beyond = [duty for duty in duties if duty not in _WITHOUT_A_HAND]
    if beyond and not able:
        raise BadInput(
            table.where("duties"),
            f"'{beyond[0]}' for somebody who is not able",
            f"{' or '.join(_WITHOUT_A_HAND)} wanted",
            "Take the duty out, or leave able out.",
        )
    return Person(name, duties, able)


def read_water(table: TomlTable) -> float | None:
    """The temperature of the sea; None where nobody knows. [K]"""
    water = table.table("water")
    if water is None:
        return None
    return water.need("temperature", "temperature", least=_WATER_K[0], most=_WATER_K[1])


def read_watch(table: TomlTable) -> float | None:
    """How long one anchor watch lasts; None where nobody told. [s]"""
    watch = table.table("watch")
    if watch is None:
        return None
    return watch.need("each", "time", least=_WATCH_S[0], most=_WATCH_S[1])
