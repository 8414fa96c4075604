"""Files made wrong at random, and what the readers say to them.

As a program (``python -m measures.mutated SEED FIRST LAST FOLDER``) it tries a stretch of them
and says how each was taken; ``tried`` starts such programs one after another, so that a
library that breaks or hangs on a file takes nothing with it.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
from measures.commands import NOTCH

from shorefast.errors import BadInput, Unreadable
from shorefast.readers import (
    Told,
    parse_toml,
    read_boat,
    read_depths,
    read_forecast,
    read_shapes,
    read_tide,
)

TOOLS = Path(__file__).parents[1]
FILES = TOOLS.parent / "tests" / "files"
COVE = NOTCH.parent / "stone_spur"
LONGEST_S, MOST_KB = 10.0, 2 << 20
_DOWN, _UP = Told(depth="down"), Told(depth="up", crs="EPSG:4326")
_LONGEST_TEXT = 20_000
_TEXTS = {".toml", ".csv", ".geojson", ".json", ".asc", ".log", ".gpx"}
_WORDS = (
    b"nan", b"-1", b"1e999", b"''", b'""', b"[", b"]", b"=", b"#", b"\n", b"\x00", b"\xff",
    b"true", b"0", b"99999999999999999999", b"2026-13-45T99:99:99Z", b",,,", b"\xe2\x82\xac",
)  # fmt: skip

Reader = Callable[[Path], object]


def _weather(path: Path) -> object:
    return read_forecast(path, 47.5, -40.0)


def _north(path: Path) -> object:
    return read_forecast(path, 51.5, 0.0)


def _downward(path: Path) -> object:
    return read_depths(path, _DOWN)


def _in_metres(path: Path) -> object:
    return read_depths(path, Told(depth="down", crs="EPSG:32602"))


def _upward(path: Path) -> object:
    return read_depths(path, _UP)


def readers() -> Mapping[Path, Reader]:
    """A good file of each kind, and what reads it."""
    bay, air = FILES / "bay", FILES / "forecasts"
    return {
        COVE / "boat.toml": read_boat,
        COVE / "stay.toml": lambda path: parse_toml(path.read_text("utf-8", "replace"), path.name),
        COVE / "tide.csv": read_tide,
        COVE / "wind.csv": _weather,
        COVE / "bay" / "shore.geojson": read_shapes,
        COVE / "bay" / "soundings.csv": _downward,
        bay / "samos_strait_15s.asc": _upward,
        bay / "howe_sound_curved.nc": _downward,
        bay / "no_usable_crs.bag": _in_metres,
        NOTCH / "forecast.nc": _weather,
        air / "point_forecast.json": _north,
        air / "gfs_wind_in_one_message.grib2": _weather,
        air / "ensemble_gust_6h.grib1": _north,
    }


def mutated(good: bytes, draw: np.random.Generator) -> bytes:
    """The file with one to four wounds: cut, doubled, overwritten or with a word put in."""
    bad = bytearray(good)
    for _ in range(draw.integers(1, 5)):
        at, to = sorted(draw.integers(0, len(bad) + 1, 2).tolist())
        to = min(to, at + 40)
        kind = draw.integers(0, 5)
        if kind == 0:
            del bad[at:to]
        elif kind == 1:
            bad[at:at] = bad[at:to]
        elif kind == 2:
            bad[at : at + 1] = bytes([draw.integers(0, 256)])
        elif kind == 3:
            bad[at:to] = _WORDS[draw.integers(0, len(_WORDS))]
        else:
            del bad[at:]
    return bytes(bad)


def _short(path: Path) -> bytes:
    """A file, or the first rows of a long table."""
    good = path.read_bytes()
    if path.suffix not in _TEXTS or len(good) < _LONGEST_TEXT:
        return good
    return good[: good.rindex(b"\n", 0, _LONGEST_TEXT) + 1]


def told(path: Path, read: Reader) -> str:
    """How a reader took a file: "read", "said no", "slow", or the name of what escaped."""
    begun = time.perf_counter()
    try:
        read(path)
        how = "read"
    except (BadInput, Unreadable):
        how = "said no"
    except Exception as escaped:  # noqa: BLE001 (anything that escapes is what is looked for)
        how = type(escaped).__name__
    return how if time.perf_counter() - begun < LONGEST_S else "slow"


def try_some(seed: int, first: int, last: int, folder: Path) -> None:
    """Try the files of some numbers, one a line of answer; what escaped is kept to be looked at."""
    kinds = [(path, read, _short(path)) for path, read in readers().items()]
    for number in range(first, last):
        good, read, text = kinds[number % len(kinds)]
        bad = folder / f"{os.getpid()}-{good.name}"
        bad.write_bytes(mutated(text, np.random.default_rng([seed, number])))
        print(json.dumps([number, "begun", good.name]), flush=True)
        how = told(bad, read)
        if resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > MOST_KB:
            how = "too big"
        print(json.dumps([number, how, good.name]), flush=True)
        if how not in ("read", "said no"):
            bad.rename(folder / f"escaped-{number}-{how}-{good.name}")
        if how == "too big":
            return
        bad.unlink(missing_ok=True)


def _until_done(program: subprocess.Popen[bytes], answers: Path) -> tuple[str, str]:
    """What a program has answered when it ends, or says nothing new for long; and how it ended."""
    size, since = 0, time.monotonic()
    while program.poll() is None:
        time.sleep(0.05)
        if answers.stat().st_size != size:
            size, since = answers.stat().st_size, time.monotonic()
        if time.monotonic() - since > 2.0 * LONGEST_S:
            program.kill()
            program.wait()
            return answers.read_text("utf-8"), "hung"
    return answers.read_text("utf-8"), f"broke ({program.returncode})"


def _stretch(seed: int, first: int, last: int, folder: Path) -> tuple[Counter[str], int]:
    """One program's answers, and the number to go on with."""
    words = [sys.executable, "-m", "measures.mutated", *map(str, (seed, first, last)), str(folder)]
    counts: Counter[str] = Counter()
    answers = folder / "answers"
    with answers.open("wb") as kept:
        program = subprocess.Popen(words, cwd=TOOLS, stdout=kept, stderr=subprocess.DEVNULL)
        heard, broke = _until_done(program, answers)
    rows = [json.loads(line) for line in heard.splitlines() if line.endswith("]")]
    for _, how, name in rows:
        if how != "begun":
            counts[how if how in ("read", "said no") else f"{how}, {name}"] += 1
    if rows and rows[-1][1] == "begun":
        counts[f"{broke}, {rows[-1][2]}"] += 1
    return counts, rows[-1][0] + 1 if rows else last


def tried(count: int, folder: Path, seed: int) -> Counter[str]:
    """So many mutated files given to the readers in turn; how each was taken.

    "read", "said no", or else what escaped, of which file: an exception, "slow", "too big",
    or the end of the whole program. What escaped is kept in the folder.
    """
    counts: Counter[str] = Counter()
    number, stretch = 0, 2000
    while number < count:
        found, number = _stretch(seed, number, min(number + stretch, count), folder)
        counts += found
    return counts


if __name__ == "__main__":
    try_some(int(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]))
