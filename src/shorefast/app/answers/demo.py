"""``shorefast demo``: the shipped bays, judged and drawn."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

from shorefast.app.answer import Answer
from shorefast.app.answers.sheet import answer_sheet
from shorefast.app.out_folder import ready
from shorefast.basis import Basis
from shorefast.errors import BadInput

_SHIPPED = Path(__file__).parents[2] / "demo"


def scenarios() -> tuple[str, ...]:
    """Names of the shipped bays."""
    return tuple(sorted(path.parent.name for path in _SHIPPED.glob("*/stay.toml")))


def answer_demo(
    scenario: str | None, out: Path, progress: Callable[[int, int], None] | None = None
) -> Answer:
    """Copy one shipped bay or all of them, judge the default stay and draw its sheet.

    Raises
    ------
    BadInput
        For a bay that is not shipped, and where ``out`` is a file.
    """
    known = scenarios()
    if scenario is not None and scenario not in known:
        raise BadInput(
            "Demo", f"'{scenario}'", f"shipped are {', '.join(known)}", "Take one of these."
        )
    ready(out)
    chosen = known if scenario is None else (scenario,)
    texts: list[str] = []
    written: list[Path] = []
    judged: list[dict[str, Any]] = []
    basis = Basis()
    for number, name in enumerate(chosen):
        if progress is not None:
            progress(number, len(chosen))
        folder = out / name
        shutil.copytree(_SHIPPED / name, folder, dirs_exist_ok=True)
        answer = answer_sheet(folder / "stay.toml", folder)
        texts.append(f"{name}\n{answer.text}")
        written.extend(answer.written)
        judged.append({"scenario": name, **answer.keys})
        basis = basis | answer.basis
    keys = {"stays": judged, "written": written}
    return Answer("demo", keys, basis, "\n\n".join(texts), tuple(written))
