"""``shorefast able``: what can this boat do?"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from textwrap import fill
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.bay_export_plan import PaletteName, palette_of, set_page
from shorefast.app.answers.noticed import with_noticed
from shorefast.app.out_folder import ready
from shorefast.drawing import able_page
from shorefast.manoeuvre import Able, AbleAsked, ChainPulls, EnginePulls, WindRange, able
from shorefast.quantities import to_si
from shorefast.readers import boat_or_stay
from shorefast.wording import (
    CAUTIONS_SHORT,
    able_words,
    chain_title,
    engine_rows,
    equal_rows,
    leeway_rows,
    needed_rows,
    pull_rows,
    slope_words,
    span_rows,
    windlass_rows,
    windlass_words,
)

_CAUTIONS = tuple(CAUTIONS_SHORT[number - 1] for number in (1, 2, 6, 9))
_WINDS_KN = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0)
_DRIFT_KN = (10.0, *_WINDS_KN)
_DOWN = (
    "down: she lies to seaward and pulls the anchor down its slope. The shank lifts far sooner",
    "and anchors hold less that way: turn her round, or let go elsewhere.",
)
_UP = "up: the bed comes up from the anchor toward her stern and the shore, as she should lie."
_LESS = "*: less chain out; with more she would touch before the shank lifts. Let go deeper."


def _told(thing: object, *names: str) -> dict[str, Any]:
    """Some of what an answer's part holds, under the same names."""
    return {name: getattr(thing, name) for name in names}


def _winds(winds: WindRange) -> dict[str, Any]:
    return _told(winds, "nominal_mps", "low_mps", "high_mps")


def _pulls(pulls: ChainPulls) -> dict[str, Any]:
    own = {"chain_out_m": pulls.asked_m, **_told(pulls, "pull_n", "out_m", "why")}
    return {**own, "ahead": _winds(pulls.ahead), "abeam": _winds(pulls.abeam)}


def _engine(engine: EnginePulls | None) -> dict[str, Any] | None:
    if engine is None:
        return None
    winds = {"ahead": _winds(engine.ahead), "abeam": _winds(engine.abeam)}
    pulls = _told(engine, "ahead_n", "astern_n")
    return {**pulls, **winds, **_told(engine, "keeps_down_m", "source")}


def able_keys(found: Able) -> dict[str, Any]:
    """The JSON keys of ``able``; arrays run over depth, then slope, then wind."""
    lifts = ("hanging_n", "pull_n", "lifts_from_m", "heave_mps", "veer_mps")
    takes = ("all_m", "heave_all_s", "veer_all_s", "up_s")
    drifts = ("wind_mps", "speed_mps", "low_mps", "high_mps", "printed_mps", "scatter_mps")
    led = ("line", "length_m", "led_rad", "single_m", "doubled_m")
    return {
        "boat": found.name,
        **_told(found, "aboard_m", "reserve_m"),
        **_told(found.chain[0], "depth_m", "slope_rad"),
        "chain": [_pulls(one) for one in found.chain],
        "needed": _told(found.needed, "wind_mps", "pull_n", "out_m", "too_deep_m"),
        "engine": _engine(found.engine),
        "lines": [_told(one, *led) for one in found.lines],
        "windlass": _told(found.heaving, *lifts, *takes),
        "fall": _told(found.falls, "motor_s", "free_low_s", "free_high_s"),
        "leeway": _told(found.leeway, *drifts),
    }


def _table(rows: Sequence[Sequence[str]], left: int = 1) -> list[str]:
    """Rows as text, the first columns to the left, the others to the right."""
    wide = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    said = []
    for row in rows:
        cells = [
            f"{cell:{wide[column]}}" if column < left else f"{cell:>{wide[column]}}"
            for column, cell in enumerate(row)
        ]
        said.append(f"  {'  '.join(cells)}".rstrip())
    return said


def _chain_text(found: Able) -> list[str]:
    lines: list[str] = []
    for pulls in found.chain:
        lines += ["", f"{chain_title(pulls, found.heaving.all_m)}:", *_table(pull_rows(pulls))]
        for name, abeam in (("on the bow", False), ("abeam", True)):
            lines += [f"Steady wind {name} that pulls as hard:"]
            lines += _table(equal_rows(pulls, abeam))
    starred = any("less out" in row for pulls in found.chain for row in pulls.why)
    return [*lines, f"  {_UP}", *(f"  {row}" for row in _DOWN), *([f"  {_LESS}"] * starred)]


def _needed_text(found: Able) -> list[str]:
    lines = ["", "Chain out that keeps the shank down in a steady wind ahead:"]
    for slope in (0, 2):
        said = slope_words(float(found.needed.slope_rad[slope]))
        lines += [f"  Bed {said}:", *_table(needed_rows(found, slope))]
    return [*lines, "  down to: deeper than this all of her chain does not."]


def _gear_text(found: Able) -> list[str]:
    lines = []
    if found.engine is not None:
        lines += ["", "Her engine, standing still:", *_table(engine_rows(found), 2)]
    lines += ["", "How far her stern can lie from the points ashore:"]
    lines += _table(span_rows(found)) if found.lines else ["  unknown: no [[line]] aboard"]
    lines += ["", "Her windlass:", *_table(windlass_rows(found))]
    lines += [
        fill(row, 94, initial_indent="  ", subsequent_indent="  ") for row in windlass_words(found)
    ]
    return [*lines, "", "Adrift beam-on, masts bare:", *_table(leeway_rows(found))]


def _text(found: Able) -> str:
    lines = [
        fill(able_words(found), 96),
        *_chain_text(found),
        *_needed_text(found),
        *_gear_text(found),
    ]
    return with_noticed("\n".join(lines), found.basis)


def answer_able(
    path: Path, chain_out: Sequence[float] = (), out: Path | None = None, palette: str = "print"
) -> Answer:
    """What a boat can do, from her own file or from that of a stay of hers.

    Parameters
    ----------
    path : Path
        A boat file, or a stay file; of a stay with a lie its chain out is told too.
    chain_out : sequence of float
        Lengths of rode out that are told besides. [m]
    out : Path, optional
        Where to write ``able.svg`` and ``able.pdf``.
    palette : str
        Of these: day, night or print.

    Raises
    ------
    BadInput, Unreadable
        As the readers; for more chain than is aboard; where ``out`` is a file.
    """
    chosen = palette_of(palette)
    if out is not None:
        ready(out)
    boat, stay = boat_or_stay(path)
    lies_m = () if stay is None or stay.lie is None else (stay.lie.chain_out_m,)
    lengths = tuple(dict.fromkeys((*lies_m, *chain_out)))
    found = able(boat, _asked(lengths))
    written = () if out is None else _drawn(out, found, chosen)
    return Answer("able", able_keys(found), found.basis, _text(found), written)


def _asked(lengths_m: Sequence[float]) -> AbleAsked:
    chain, drift = (
        tuple(to_si(wind, "speed", "kn") for wind in winds) for winds in (_WINDS_KN, _DRIFT_KN)
    )
    return AbleAsked(chain, drift, tuple(lengths_m))


def _drawn(out: Path, found: Able, palette: PaletteName) -> tuple[Path, ...]:
    """Write ``able.svg`` and ``able.pdf``; no time of writing in any."""
    page = able_page(found, _CAUTIONS)
    title, said = f"{found.name}: what she can do", able_words(found)
    paths = (out / "able.svg", out / "able.pdf")
    drawn = page.svg(palette, title, said, fonts_inside=True)
    paths[0].write_text(drawn, encoding="utf-8", newline="\n")
    plain = page.svg(palette, title, said).encode()
    paths[1].write_bytes(set_page(page, plain, (title, said), "pdf"))
    return paths
