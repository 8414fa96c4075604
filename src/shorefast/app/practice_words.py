"""Orders of practice in words, one a line, and the words of an order again."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from shorefast.errors import BadInput
from shorefast.manoeuvre import FAILURES, Failure, Order, drawn_value
from shorefast.quantities import from_si, to_si, units_of

_NUMBER = r"(\d+(?:\.\d*)?|\.\d+)"
MOST_HELM_DEG, MOST_LENGTH_M, MOST_PULL_KG = 45.0, 500.0, 100_000.0
# words alone, as they are written: name of the order
_PLAIN = {
    "helm by crew": "helm by crew",
    "neutral": "neutral",
    "stop engine": "stop engine",
    "start engine": "start engine",
    "engine stopped": "engine stopped",
    "let go": "let go",
    "hold chain": "hold chain",
    "chain by crew": "chain by crew",
    "tend line": "tend line",
    "leave line": "leave line",
    "go to ladder": "go to ladder",
    "step back": "step back",
    "come back": "come back",
    "end": "end",
}
_LINES = {"take line": "take line", "hold line": "hold line", "cast off line": "cast off"}
_FORMS = (
    "helm port 20, helm starboard 20, helm midships, helm by crew, ahead 30 %, astern 1500 rpm,"
    " neutral, stop engine, engine stopped, start engine, thruster port 50 %, thruster off, let go,"
    " chain to 40 m, hold chain, chain by crew, tend line, leave line, go to ladder, step back,"
    " take line 1, come back, line 1 to 23 m, hold line 1, cast off line 1, say, fail or end"
)


@dataclass(frozen=True)
class Aboard:
    """What the words are about: lines the lie has; her full revs, None where nobody knows."""

    lines: int
    full_revs_rpm: float | None = None


def order_of(words: str, where: str, aboard: Aboard) -> Order:
    """One order from its words.

    Parameters
    ----------
    words : str
        As they stand in a script ("helm port 20").
    where : str
        The place, for messages.
    aboard : Aboard

    Raises
    ------
    BadInput
        For words that are no order, and values out of range.
    """
    plain = " ".join(words.split())
    low = plain.lower()
    if low in _PLAIN:
        return Order(_PLAIN[low])
    if low.startswith("say"):
        said = plain[3:].strip().strip('"').strip()
        if not said:
            raise BadInput(where, "'say' alone", "what is said wanted", "Write it after say.")
        return Order("say", words=said)
    if low.startswith("fail "):
        return Order("fail", failure=failure_of(plain[5:], 0.0, where, aboard))
    for pattern, made in _READ:
        found = pattern.fullmatch(low)
        if found:
            return made(found, where, aboard)
    raise BadInput(where, f"'{plain}'", f"one of {_FORMS} wanted", "Correct it.")


def _helm(found: re.Match[str], where: str, _aboard: Aboard) -> Order:
    if found[0] == "helm midships":
        return Order("helm", 0.0)
    angle_deg = float(found[2])
    if angle_deg > MOST_HELM_DEG:
        raise BadInput(
            where, f"helm {angle_deg:g} degrees", f"at most {MOST_HELM_DEG:g} wanted", "Correct it."
        )
    size = to_si(angle_deg, "angle", "deg")
    return Order("helm", size if found[1] == "starboard" else -size)


def _share(found: re.Match[str], where: str, aboard: Aboard) -> float:
    """A share of full, told as such or in revs."""
    value, unit = float(found[2]), found[3]
    if unit == "rpm":
        if aboard.full_revs_rpm is None:
            raise BadInput(
                where,
                f"{value:g} rpm",
                "the boat file does not tell full_revs_rpm",
                "Add it to [engine], or order a share like 30 %.",
            )
        value = 100.0 * value / aboard.full_revs_rpm
    if value > 100.0:
        most = "100 %" if unit == "%" else f"{aboard.full_revs_rpm:g} rpm"
        raise BadInput(where, f"{found[2]} {unit}", f"at most {most} wanted", "Correct it.")
    return value / 100.0


def _engine(found: re.Match[str], where: str, aboard: Aboard) -> Order:
    share = _share(found, where, aboard)
    return Order("revs", share if found[1] == "ahead" else -share)


def _thruster(found: re.Match[str], where: str, aboard: Aboard) -> Order:
    if found[0] == "thruster off":
        return Order("thruster", 0.0)
    share = _share(found, where, aboard)
    return Order("thruster", share if found[1] == "starboard" else -share)


def _length_m(number: str, unit: str, where: str) -> float:
    units = [one.name for one in units_of("length")]
    if unit not in units:
        raise BadInput(
            where, f"{number} {unit}".strip(), f"a length in {', '.join(units)} wanted",
            f"Write {number} m.",
        )  # fmt: skip
    length_m = to_si(float(number), "length", unit)
    if length_m > MOST_LENGTH_M:
        raise BadInput(
            where, f"{number} {unit}", f"at most {MOST_LENGTH_M:g} m wanted", "Correct it."
        )
    return length_m


def _chain(found: re.Match[str], where: str, _aboard: Aboard) -> Order:
    return Order("chain to", _length_m(found[1], found[2], where))


def _line_to(found: re.Match[str], where: str, aboard: Aboard) -> Order:
    line = _line(found[1], where, aboard)
    return Order("line to", _length_m(found[2], found[3], where), line)


def _line(number: str, where: str, aboard: Aboard) -> int:
    line = int(number)
    if not 1 <= line <= aboard.lines:
        has = f"the lie has {aboard.lines}, counted from 1" if aboard.lines else "the lie has none"
        raise BadInput(where, f"line {line}", has, "Number it as the stay file does.")
    return line


def _of_line(found: re.Match[str], where: str, aboard: Aboard) -> Order:
    return Order(_LINES[found[1]], line=_line(found[2], where, aboard))


_Made = Callable[[re.Match[str], str, Aboard], Order]
_READ: tuple[tuple[re.Pattern[str], _Made], ...] = (
    (re.compile(rf"helm midships|helm (port|starboard) {_NUMBER}(?: deg| degrees)?"), _helm),
    (re.compile(rf"(ahead|astern) {_NUMBER} ?(%|rpm)"), _engine),
    (re.compile(rf"thruster off|thruster (port|starboard) {_NUMBER} ?(%)"), _thruster),
    (re.compile(rf"chain to {_NUMBER} ?([a-z]*)"), _chain),
    (re.compile(rf"line (\d+) to {_NUMBER} ?([a-z]*)"), _line_to),
    (re.compile(r"(take line|hold line|cast off line) (\d+)"), _of_line),
)
_FAILS = re.compile(rf"(.+?)(?: {_NUMBER} ?(kg|m|))?")


def failure_of(words: str, at_s: float, where: str, aboard: Aboard) -> Failure:
    """A failure from its words: ``anchor drags 40 kg``, ``line parts 2``, ``engine stops``.

    Raises
    ------
    BadInput
        For no such failure, and a number it does not take.
    """
    plain = " ".join(words.split()).lower()
    found = _FAILS.fullmatch(plain)
    kind = found[1] if found else plain
    if kind not in FAILURES:
        raise BadInput(where, f"'{plain}'", f"one of {', '.join(FAILURES)} wanted", "Correct it.")
    assert found is not None
    number, unit, takes = found[2], found[3], FAILURES[kind]
    if number is None:
        return Failure(kind, at_s, drawn_value(kind))
    wanted = {"pull": ("kg", "40 kg"), "length": ("m", "3 m"), "line": ("", "2")}.get(takes)
    if wanted is None or unit != wanted[0]:
        against = "no number wanted" if wanted is None else f"a number like {wanted[1]} wanted"
        raise BadInput(where, f"'{plain}'", against, "Correct it.")
    if takes == "line":
        return Failure(kind, at_s, None, _line(number, where, aboard))
    if takes == "length":
        return Failure(kind, at_s, _length_m(number, unit, where))
    return Failure(kind, at_s, to_si(float(number), "force", "kgf"))


def said_so(value_si: float, kind: str, unit: str) -> str:
    """The shortest number in a unit that is read back as these very bits.

    Every value that was read has one; of another the nearest number is given.
    """
    return _shortest(from_si(value_si, kind, unit), lambda one: to_si(one, kind, unit) == value_si)


def _shortest(value: float, is_it: Callable[[float], bool]) -> str:
    tried = [float(f"{value:.{digits}g}") for digits in range(1, 18)]
    tried += [math.nextafter(value, way) for way in (-math.inf, math.inf)]
    found = next((one for one in tried if is_it(one)), value)
    return np.format_float_positional(found, trim="-")


def _share_words(value: float) -> str:
    return _shortest(100.0 * value, lambda one: one / 100.0 == value)


def words_of(order: Order) -> str:
    """The words of an order, as ``order_of`` reads them back."""
    if order.do == "say":
        return f"say {order.words}"
    if order.do == "fail" and order.failure is not None:
        return f"fail {failure_words(order.failure)}"
    if order.do in ("take line", "hold line"):
        return f"{order.do} {order.line}"
    if order.do == "cast off":
        return f"cast off line {order.line}"
    if order.value is None:
        return order.do
    return _valued(order, order.value)


def _valued(order: Order, value: float) -> str:
    size = abs(value)
    if order.do == "helm":
        side = "starboard" if value > 0.0 else "port"
        return f"helm {side} {said_so(size, 'angle', 'deg')}" if value else "helm midships"
    if order.do == "revs":
        return f"{'astern' if value < 0.0 else 'ahead'} {_share_words(size)} %"
    if order.do == "thruster":
        side = "starboard" if value > 0.0 else "port"
        return f"thruster {side} {_share_words(size)} %" if value else "thruster off"
    length = said_so(value, "length", "m")
    return f"line {order.line} to {length} m" if order.do == "line to" else f"chain to {length} m"


def failure_words(failure: Failure) -> str:
    """The words of a failure, as ``failure_of`` reads them back."""
    takes = FAILURES[failure.kind]
    if takes == "line" and failure.line:
        return f"{failure.kind} {failure.line}"
    if failure.value is None or not takes:
        return failure.kind
    if takes == "pull":
        return f"{failure.kind} {said_so(failure.value, 'force', 'kgf')} kg"
    return f"{failure.kind} {said_so(failure.value, 'length', 'm')} m"
