"""A script of practice: a line an order, each with its time; how it is set before them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path

from shorefast.app.practice_words import (
    Aboard,
    failure_of,
    failure_words,
    order_of,
    said_so,
    words_of,
)
from shorefast.errors import BadInput
from shorefast.manoeuvre import MOST_S, Failure, Setting, Timed
from shorefast.quantities import to_si
from shorefast.readers import read_text

_TIME = re.compile(r"(?:(\d+):)?(\d+(?:\.\d*)?)")
_WIND = re.compile(r"wind(?: (\d+(?:\.\d*)?) ?kn)?(?: from (\d+(?:\.\d*)?))?")
_AHEAD = re.compile(r"line (\d+) waits ashore")
_COUNT = re.compile(r"(seed|drawn failures) (\d+)")


@dataclass(frozen=True)
class Script:
    """A script: what it sets before the first order, and the orders."""

    setting: Setting
    orders: tuple[Timed, ...]


def read_script(path: Path, aboard: Aboard) -> Script:
    """Read a script of practice.

    Blank rows and what follows '#' are passed over. Rows that begin with a time, in
    seconds or as minutes:seconds, are orders in rising time; those before them set wind,
    gusts, seed and failures.

    Raises
    ------
    BadInput, Unreadable
        If it is not there, no text, or a row is neither.
    """
    text = read_text(path, "a script of practice")
    setting, orders = Setting(), list[Timed]()
    for number, row in enumerate(text.splitlines(), start=1):
        plain = " ".join(row.split("#", 1)[0].split())
        where = f"{path.name}, line {number}"
        if not plain:
            continue
        first, _, rest = plain.partition(" ")
        if not first[0].isdigit():
            setting = _set(setting, plain, where, aboard, bool(orders))
            continue
        at_s = time_of(first, where)
        if orders and at_s < orders[-1].at_s:
            raise BadInput(
                where, first, f"the order above it is at {orders[-1].at_s:g} s",
                "Put it in its place.",
            )  # fmt: skip
        if not rest:
            raise BadInput(where, f"'{plain}'", "an order after its time wanted", "Add it.")
        orders.append(Timed(at_s, order_of(rest, where, aboard)))
    return Script(setting, tuple(orders))


def time_of(text: str, where: str) -> float:
    """Seconds from ``90``, ``90.5`` or ``1:30``.

    Raises
    ------
    BadInput
    """
    found = _TIME.fullmatch(text)
    if found is None or (found[1] is not None and float(found[2]) >= 60.0):
        raise BadInput(
            where, f"'{text}'", "a time in seconds, or minutes:seconds, wanted", "Correct it."
        )
    at_s = 60.0 * float(found[1] or 0) + float(found[2])
    if at_s > MOST_S:
        raise BadInput(where, f"'{text}'", f"at most {MOST_S / 60.0:g} minutes", "Correct it.")
    return at_s


def _set(setting: Setting, plain: str, where: str, aboard: Aboard, late: bool) -> Setting:
    if late:
        raise BadInput(
            where, f"'{plain}'", "an order begins with its time", "Put the time before it."
        )
    low = plain.lower()
    if low == "gusts":
        return replace(setting, gusts=True)
    found = _WIND.fullmatch(low)
    if found and low != "wind":
        blow = None if found[2] is None else bearing_of(float(found[2]), where)
        speed = None if found[1] is None else to_si(float(found[1]), "speed", "kn")
        return replace(setting, wind_mps=speed, from_rad=blow)
    found = _AHEAD.fullmatch(low)
    if found:
        return replace(setting, ahead=int(found[1]))
    found = _COUNT.fullmatch(low)
    if found:
        count = int(found[2])
        drawn = found[1] == "drawn failures"
        return replace(setting, drawn=count) if drawn else replace(setting, seed=count)
    if low.startswith("fail "):
        failure = failure_at(plain[5:], where, aboard)
        return replace(setting, failures=(*setting.failures, failure))
    raise BadInput(
        where,
        f"'{plain}'",
        "a time and an order wanted, or before the first of them wind 12 kn from 230, gusts,"
        " seed 7, line 1 waits ashore, drawn failures 2, or fail engine stops @ 90",
        "Correct it.",
    )


def bearing_of(angle_deg: float, where: str) -> float:
    """A bearing in degrees as radians.

    Raises
    ------
    BadInput
        Beyond 360.
    """
    if not 0.0 <= angle_deg <= 360.0:
        raise BadInput(where, f"from {angle_deg:g}", "0 to 360 wanted", "Correct it.")
    return to_si(angle_deg, "angle", "deg")


def failure_at(words: str, where: str, aboard: Aboard) -> Failure:
    """A failure with its time: ``engine stops @ 90``.

    Raises
    ------
    BadInput
    """
    kind, at, when = words.rpartition("@")
    if not at:
        raise BadInput(
            where, f"'{words.strip()}'", "a time after @ wanted", f"Write {words.strip()} @ 90."
        )
    return failure_of(kind, time_of(when.strip(), where), where, aboard)


def script_rows(script: Script) -> list[str]:
    """The rows of a script, as ``read_script`` reads them back to the same bits."""
    setting = script.setting
    wind, blow = setting.wind_mps, setting.from_rad
    row = "wind" if wind is None else f"wind {said_so(wind, 'speed', 'kn')} kn"
    row += "" if blow is None else f" from {said_so(blow, 'angle', 'deg')}"
    rows = [] if row == "wind" else [row]
    rows += ["gusts"] if setting.gusts else []
    rows += [f"seed {setting.seed}"] if setting.seed else []
    rows += [f"line {setting.ahead} waits ashore"] if setting.ahead else []
    rows += [f"drawn failures {setting.drawn}"] if setting.drawn else []
    rows += [f"fail {failure_words(one)} @ {one.at_s:g}" for one in setting.failures]
    rows += [f"{timed.at_s:<8g}{words_of(timed.order)}" for timed in script.orders]
    return rows
