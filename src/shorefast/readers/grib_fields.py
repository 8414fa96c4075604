"""The messages of a GRIB file, one field each, and what each of them is."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shorefast.readers.grib_frame import broken, check_frame

_ALWAYS = {
    "10u": "east", "10v": "north", "10si": "speed", "10wdir": "from", "lsm": "land",
    "gust": "gust", "10fg": "gust", "10fg1": "gust", "10fg3": "gust", "10fg6": "gust",
    "i10fg": "gust", "max_i10fg": "gust",
}  # fmt: skip
_AT_TEN_METRES = {"u": "east", "v": "north", "ws": "speed", "wdir": "from"}
# some centres write the span of a maximum only into the field's name
_NAMED_SPAN_S = {"10fg1": 3600.0, "10fg3": 10800.0, "10fg6": 21600.0}
_STEP_S = {0: 60.0, 1: 3600.0, 2: 86400.0, 10: 10800.0, 11: 21600.0, 12: 43200.0, 13: 1.0}


@dataclass(frozen=True)
class Label:
    """What one field is.

    Attributes
    ----------
    what : str
        "east", "north", "speed", "from", "gust", "land"; empty for anything else.
    name : str
        The tables' own short name.
    time_utc, run_utc : datetime64
        When it holds, and when its run began.
    span_s : float
        0 for an instant, else how long before ``time_utc`` it is the most of.
    """

    what: str
    name: str
    member: int
    time_utc: np.datetime64
    run_utc: np.datetime64
    span_s: float


def load_eccodes() -> Any:
    """The eccodes library, loaded so that it leaves map projections alone.

    Its wheel puts a PROJ of its own before the whole process; if pyproj comes after
    it, pyproj finds the wrong one and the process dies. So pyproj goes first.
    """
    import pyproj  # noqa: F401
    import eccodes  # isort: skip

    return eccodes


def number(handle: Any, name: str, otherwise: int = 0) -> int:
    """A key of a message as a whole number, ``otherwise`` where it has none."""
    eccodes = load_eccodes()
    try:
        return int(eccodes.codes_get_long(handle, name))
    except eccodes.KeyValueNotFoundError:
        return otherwise


def word(handle: Any, name: str) -> str:
    """A key of a message as text, empty where it has none."""
    eccodes = load_eccodes()
    try:
        return str(eccodes.codes_get_string(handle, name))
    except eccodes.KeyValueNotFoundError:
        return ""


def messages(path: Path) -> Iterator[Any]:
    """Every field of the file in turn; each is let go when the next is asked for.

    Several fields packed into one message (u and v often are) come one by one.

    Raises
    ------
    Unreadable
        If a message is broken or cut off.
    """
    check_frame(path)
    eccodes = load_eccodes()
    eccodes.codes_grib_multi_support_on()
    with path.open("rb") as file:
        try:
            number = 1
            while (handle := _next(file, path.name, number)) is not None:
                try:
                    yield handle
                finally:
                    eccodes.codes_release(handle)
                number += 1
        finally:
            eccodes.codes_grib_multi_support_reset_file(file)
            eccodes.codes_grib_multi_support_off()


def _next(file: Any, name: str, number: int) -> Any:
    eccodes = load_eccodes()
    try:
        return eccodes.codes_grib_new_from_file(file)
    except eccodes.CodesInternalError as trouble:
        raise broken(name, number, str(trouble)) from None


@contextmanager
def whole(name: str, place: int) -> Iterator[None]:
    """Whatever is done with one message: if it cannot be, the message is broken.

    Raises
    ------
    Unreadable
        If eccodes cannot make sense of it, or its dates or numbers are none.
    """
    try:
        yield
    except load_eccodes().CodesInternalError as trouble:
        raise broken(name, place, str(trouble)) from None
    except (ValueError, IndexError, OverflowError):
        raise broken(name, place, "its dates or its grid cannot be") from None


@lru_cache(maxsize=1024)
def _moment(date: int, clock: int) -> np.datetime64:
    text = f"{date:08d}"
    day = np.datetime64(f"{text[:4]}-{text[4:6]}-{text[6:]}", "s")
    return day + np.timedelta64(clock // 100 * 3600 + clock % 100 * 60, "s")


# what tells one kind of field from another, cheap to read beside the short name
_SIGNATURE = {
    1: ("centre", "table2Version", "indicatorOfParameter", "indicatorOfTypeOfLevel", "level",
        "timeRangeIndicator"),
    2: ("discipline", "parameterCategory", "parameterNumber", "typeOfFirstFixedSurface", "level",
        "productDefinitionTemplateNumber"),
}  # fmt: skip


@dataclass
class Names:
    """Looks up what fields are, each kind once: eccodes takes its time over names."""

    known: dict[tuple[int, ...], tuple[str, str, bool]] = field(default_factory=dict)

    def of(self, handle: Any) -> tuple[str, str, bool]:
        """What the field is to us, its short name, whether it is the most of a span."""
        edition = number(handle, "edition")
        signature = (edition, *(number(handle, name, -1) for name in _SIGNATURE[edition]))
        if signature not in self.known:
            self.known[signature] = self._look_up(handle)
        return self.known[signature]

    def _look_up(self, handle: Any) -> tuple[str, str, bool]:
        name = word(handle, "shortName")
        at_ten = (
            word(handle, "typeOfLevel") == "heightAboveGround" and number(handle, "level") == 10
        )
        what = _ALWAYS.get(name, _AT_TEN_METRES.get(name, "") if at_ten else "")
        return what, name, word(handle, "stepType") == "max"


def _span_s(handle: Any, name: str, is_most: bool) -> float:
    unit_s = _STEP_S.get(number(handle, "stepUnits", 1), 3600.0)
    steps = number(handle, "endStep") - number(handle, "startStep")
    return steps * unit_s if is_most and steps > 0 else _NAMED_SPAN_S.get(name, 0.0)


def label(handle: Any, names: Names) -> Label:
    """What a field is, where it stands in the run and the ensemble."""
    what, name, is_most = names.of(handle)
    return Label(
        what,
        name,
        number(handle, "number"),
        _moment(number(handle, "validityDate"), number(handle, "validityTime")),
        _moment(number(handle, "dataDate"), number(handle, "dataTime")),
        _span_s(handle, name, is_most) if what == "gust" else 0.0,
    )


def grid_name(handle: Any) -> str:
    """A name that all fields on one grid share."""
    return word(handle, "md5GridSection")


def grid_places(handle: Any) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Latitudes and longitudes, in degrees, in rows where the grid has rows."""
    eccodes = load_eccodes()
    shape: tuple[int, ...] = (-1,)
    # a reduced grid has rows of different length: its points stand in one line
    rows, columns = number(handle, "Nj"), number(handle, "Ni")
    if rows * columns == number(handle, "numberOfDataPoints"):
        by_columns = number(handle, "jPointsAreConsecutive")
        shape = (columns, rows) if by_columns else (rows, columns)
    lat = eccodes.codes_get_array(handle, "latitudes").reshape(shape)
    return lat, eccodes.codes_get_array(handle, "longitudes").reshape(shape)


def values(handle: Any) -> NDArray[np.float64]:
    """All values of a field in one line, NaN where it has none."""
    eccodes = load_eccodes()
    found: NDArray[np.float64] = eccodes.codes_get_values(handle)
    if not number(handle, "bitmapPresent"):
        return found
    return np.where(found == number(handle, "missingValue"), np.nan, found)


def value(handle: Any, index: int) -> float:
    """One value of a field, NaN where it has none."""
    eccodes = load_eccodes()
    if index >= eccodes.codes_get_size(handle, "values"):
        raise ValueError("fewer values than grid points")
    found = eccodes.codes_get_double_element(handle, "values", index)
    missing = number(handle, "bitmapPresent") and found == number(handle, "missingValue")
    return float("nan") if missing else float(found)
