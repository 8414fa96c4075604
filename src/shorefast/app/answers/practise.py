"""``shorefast practise``: can we practise?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from shapely.geometry.base import BaseGeometry

from shorefast.app.answer import Answer
from shorefast.app.answers.bay_export_plan import palette_of, set_page
from shorefast.app.answers.practise_told import practise_keys, practise_text
from shorefast.app.out_folder import ready
from shorefast.app.practice_script import Script, bearing_of, failure_at, read_script, script_rows
from shorefast.app.practice_words import Aboard
from shorefast.app.progress import Progress
from shorefast.drawing import PaletteName, track_page
from shorefast.errors import BadInput
from shorefast.manoeuvre import (
    Debrief,
    Practice,
    Practised,
    Setting,
    debrief,
    practice,
    rehearse,
)
from shorefast.quantities import to_si
from shorefast.readers import read_stay
from shorefast.stay import Stay, judge, where_to_let_go
from shorefast.wording import CAUTIONS_SHORT, debrief_words

SCRIPT_NAME = "practice.txt"
MOST_WIND_KN = 60.0
_CAUTIONS = tuple(CAUTIONS_SHORT[number - 1] for number in (1, 3, 4, 5))


@dataclass(frozen=True)
class Asked:
    """What is asked beside a stay and a script; what is None or empty the script sets.

    wind_kn, from_deg : mean wind at 10 m, where from
    fail : failures with their times ("engine stops @ 90"), and "drawn" for one that is drawn
    """

    wind_kn: float | None = None
    from_deg: float | None = None
    gusts: bool = False
    seed: int | None = None
    fail: Sequence[str] = ()


def aboard_of(stay: Stay) -> Aboard:
    """What the words of a script are about."""
    engine = stay.boat.engine
    lines = 0 if stay.lie is None else len(stay.lie.lines)
    return Aboard(lines, None if engine is None else engine.full_revs_rpm)


def setting_of(script: Setting, asked: Asked, aboard: Aboard) -> Setting:
    """The script's setting, and over it what is asked.

    Raises
    ------
    BadInput
        For a wind, a bearing or a failure that cannot be so.
    """
    found = script
    if asked.wind_kn is not None:
        if not 0.0 <= asked.wind_kn <= MOST_WIND_KN:
            raise BadInput(
                "--wind", f"{asked.wind_kn:g}", f"0 to {MOST_WIND_KN:g} kn wanted", "Correct it."
            )
        found = replace(found, wind_mps=to_si(asked.wind_kn, "speed", "kn"))
    if asked.from_deg is not None:
        found = replace(found, from_rad=bearing_of(asked.from_deg, "--from"))
    if asked.seed is not None:
        if asked.seed < 0:
            raise BadInput("--seed", f"{asked.seed}", "0 or more wanted", "Correct it.")
        found = replace(found, seed=asked.seed)
    told = [one for one in asked.fail if one.strip().lower() != "drawn"]
    failures = tuple(failure_at(one, "--fail", aboard) for one in told)
    return replace(
        found,
        gusts=found.gusts or asked.gusts,
        failures=(*found.failures, *failures),
        drawn=found.drawn + len(asked.fail) - len(told),
    )


def answer_practise(
    stay_path: Path,
    script: Path | None = None,
    out: Path | None = None,
    palette: str = "day",
    let_go: bool = False,
    progress: Progress | None = None,
    **asked: Any,
) -> Answer:
    """Practise a stay by a script or by the keyboard, and what it came to.

    Parameters
    ----------
    script : Path, optional
        The orders; without one the keyboard gives them, on a terminal.
    out : Path, optional
        Where to write the script of it and its track.
    palette : str
        The track's: "day", "night" or "print".
    let_go : bool
        Whether the anchor is held against the patch from which the lie still is sound.
    asked :
        By the names of ``Asked``; what is given goes before what the script sets.

    Raises
    ------
    BadInput, Unreadable
        As ``read_stay`` and ``read_script``; without a script where there is no terminal.
    """
    colours = palette_of(palette)
    if out is not None:
        ready(out)
    stay = read_stay(stay_path)
    aboard = aboard_of(stay)
    read = Script(Setting(), ()) if script is None else read_script(script, aboard)
    one = practice(stay, setting_of(read.setting, Asked(**asked), aboard))
    done = _by_keys(one) if script is None else rehearse(one, read.orders, progress=progress)
    patch = where_to_let_go(stay, judge(stay), progress=progress).patch if let_go else None
    told = debrief(done, patch)
    written = () if out is None else _written(out, done, told, colours, patch)
    rows = script_rows(Script(one.setting, done.orders))
    return Answer(
        "practise", {**practise_keys(done, told), "script": rows}, told.basis,
        practise_text(done, told), written,
    )  # fmt: skip


def _by_keys(one: Practice) -> Practised:
    from shorefast.app.practice_terminal import by_keys

    return by_keys(one)


def _written(
    out: Path,
    done: Practised,
    told: Debrief,
    palette: PaletteName,
    patch: BaseGeometry | None,
) -> tuple[Path, Path, Path]:
    """Write ``practice.txt``, ``track.svg`` and ``track.pdf``; no time of writing in any."""
    paths = (out / SCRIPT_NAME, out / "track.svg", out / "track.pdf")
    said = " ".join(debrief_words(told))
    name = done.practice.stay.name
    rows = [f"# {row}" for row in (name, *debrief_words(told))]
    rows += script_rows(Script(done.practice.setting, done.orders))
    paths[0].write_text("\n".join(rows) + "\n", encoding="utf-8", newline="\n")
    page = track_page(done, told, (said, *_CAUTIONS), patch)
    title = f"{done.practice.stay.bay.name}: practice"
    drawn = page.svg(palette, title, said, fonts_inside=True)
    paths[1].write_text(drawn, encoding="utf-8", newline="\n")
    plain = page.svg(palette, title, said).encode()
    paths[2].write_bytes(set_page(page, plain, (title, said), "pdf"))
    return paths
