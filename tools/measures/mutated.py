"""Files made wrong at random, and what the readers say to them.

As a program (``python -m measures.mutated SEED FIRST LAST FOLDER [bay]``) it tries a
stretch of them and says how each was taken; ``tried`` starts such programs one after another,
so that a library that breaks or hangs on a file takes nothing with it.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np
from measures.mutated_kinds import Kind, Reader, bay_kinds, kinds

from shorefast.errors import BadInput, Unreadable

TOOLS = Path(__file__).parents[1]
LONGEST_S, MOST_KB = 10.0, 2 << 20
_WORDS = (
    b"nan", b"-1", b"1e999", b"''", b'""', b"[", b"]", b"=", b"#", b"\n", b"\x00", b"\xff",
    b"true", b"0", b"99999999999999999999", b"2026-13-45T99:99:99Z", b",,,", b"\xe2\x82\xac",
)  # fmt: skip


def mutated(good: bytes, draw: np.random.Generator, *, is_text: bool = False) -> bytes:
    """The file with one to four wounds: cut, doubled, overwritten or with a word put in.

    One in three of those made of lines has its lines or columns wounded instead.
    """
    if is_text and draw.integers(0, 3) == 0:
        return _lines_wounded(good, draw)
    bad = bytearray(good)
    for _ in range(draw.integers(1, 5)):
        at, to = sorted(draw.integers(0, len(bad) + 1, 2).tolist())
        to = min(to, at + 40)
        kind = draw.integers(0, 6)
        if kind == 0:
            del bad[at:to]
        elif kind == 1:
            bad[at:at] = bad[at:to]
        elif kind == 2:
            bad[at : at + 1] = bytes([draw.integers(0, 256)])
        elif kind == 3:
            bad[at:to] = _WORDS[draw.integers(0, len(_WORDS))]
        elif kind == 4:
            bad[at:to] = bytes(one ^ (1 << draw.integers(0, 8)) for one in bad[at:to])
        else:
            del bad[at:]
    return bytes(bad)


def _lines_wounded(good: bytes, draw: np.random.Generator) -> bytes:
    """Lines doubled, lost, in another order, or with two columns exchanged."""
    lines = good.split(b"\n")
    kind = draw.integers(0, 5)
    at, to = sorted(draw.integers(0, len(lines) + 1, 2).tolist())
    if kind == 0:
        lines[at:at] = lines[at:to]
    elif kind == 1:
        del lines[at:to]
    elif kind == 2:
        lines = [lines[k] for k in draw.permutation(len(lines))]
    elif kind == 3:
        lines[at:to] = lines[at:to][::-1]
    else:
        first, second = draw.integers(0, 8, 2).tolist()
        begin = int(draw.integers(0, 2))
        lines[begin:] = [_exchanged(line, first, second) for line in lines[begin:]]
    return b"\n".join(lines)


def _exchanged(line: bytes, first: int, second: int) -> bytes:
    parts = line.split(b",")
    if max(first, second) < len(parts):
        parts[first], parts[second] = parts[second], parts[first]
    return b",".join(parts)


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


def try_some(seed: int, first: int, last: int, folder: Path, *, bay: bool = False) -> None:
    """Try the files of some numbers, one a line of answer; what escaped is kept to be looked at."""
    every = bay_kinds() if bay else kinds()
    for number in range(first, last):
        kind = every[number % len(every)]
        bad = folder / f"{os.getpid()}-{kind.name}"
        _write(kind, bad, np.random.default_rng([seed, number]))
        print(json.dumps([number, "begun", kind.name]), flush=True)
        how = told(bad, kind.read)
        if resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > MOST_KB:
            how = "too big"
        print(json.dumps([number, how, kind.name]), flush=True)
        if how not in ("read", "said no"):
            bad.rename(folder / f"escaped-{number}-{how}-{kind.name}")
        for one in (bad, *(bad.with_suffix(end) for end in kind.beside)):
            one.unlink(missing_ok=True)
        if how == "too big":
            return


def _write(kind: Kind, bad: Path, draw: np.random.Generator) -> None:
    bad.write_bytes(mutated(kind.good, draw, is_text=kind.is_text))
    for end, good in kind.beside.items():
        bad.with_suffix(end).write_bytes(good)


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


def _stretch(
    seed: int, first: int, last: int, folder: Path, which: str
) -> tuple[Counter[str], int]:
    """One program's answers, and the number to go on with."""
    numbers = map(str, (seed, first, last))
    words = [sys.executable, "-m", "measures.mutated", *numbers, str(folder), which]
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


def tried(count: int, folder: Path, seed: int, which: str = "all") -> Counter[str]:
    """So many mutated files given to the readers in turn; how each was taken.

    ``which`` is "all", or "bay" for its kinds alone.

    "read", "said no", or else what escaped, of which file: an exception, "slow", "too big",
    or the end of the whole program. What escaped is kept in the folder.
    """
    counts: Counter[str] = Counter()
    number, stretch = 0, 2000
    while number < count:
        found, number = _stretch(seed, number, min(number + stretch, count), folder, which)
        counts += found
    return counts


if __name__ == "__main__":
    seed_told, begin, end = (int(word) for word in sys.argv[1:4])
    try_some(seed_told, begin, end, Path(sys.argv[4]), bay=sys.argv[5:] == ["bay"])
