"""What a command takes from a cold process, with filled caches."""

from __future__ import annotations

import subprocess
import sys
from importlib import resources
from pathlib import Path

from measures.figure import Figure, best_s, measured

NOTCH = Path(str(resources.files("shorefast") / "demo" / "grey_notch"))


def _python(*words: str) -> None:
    subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)


def _command(*words: str) -> None:
    _python("-m", "shorefast.app.cli", *words)


def start_help() -> Figure:
    """``shorefast --help``."""
    empty_s = best_s(lambda: _python("-c", "pass"), 5)
    value_s = best_s(lambda: _command("--help"), 5)
    return measured("start-help", value_s, "s", "< 0.3", ("an empty Python", empty_s))


def judge_cold() -> Figure:
    """The whole of ``shorefast judge`` on the overnight stay of Grey Notch."""
    stay = str(NOTCH / "stay.toml")
    _command("judge", stay, "--json")
    empty_s = best_s(lambda: _python("-c", "import numba, scipy.interpolate"), 3)
    value_s = best_s(lambda: _command("judge", stay, "--json"), 3)
    return measured("judge-cold", value_s, "s", "< 2.5", ("importing numba and scipy", empty_s))
