"""Files made wrong at random, and what the readers say to them."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
from measures.commands import NOTCH

from shorefast.errors import BadInput, Unreadable
from shorefast.readers import parse_toml, read_boat, read_forecast, read_shapes, read_tide

COVE = NOTCH.parent / "stone_spur"
LONGEST_S = 10.0
_WORDS = (
    b"nan", b"-1", b"1e999", b"''", b'""', b"[", b"]", b"=", b"#", b"\n", b"\x00", b"\xff",
    b"true", b"0", b"99999999999999999999", b"2026-13-45T99:99:99Z", b",,,", b"\xe2\x82\xac",
)  # fmt: skip

Reader = Callable[[Path], object]


def readers() -> Mapping[Path, Reader]:
    """A good file of each kind of text, and what reads it."""
    return {
        COVE / "boat.toml": read_boat,
        COVE / "stay.toml": lambda path: parse_toml(path.read_text("utf-8", "replace"), path.name),
        COVE / "tide.csv": read_tide,
        COVE / "wind.csv": lambda path: read_forecast(path, 47.5, -40.0),
        COVE / "bay" / "shore.geojson": read_shapes,
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


def _short(text: bytes) -> bytes:
    """The first rows of a long table."""
    return text if len(text) < 20_000 else text[: text.rindex(b"\n", 0, 20_000) + 1]


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


def tried(count: int, folder: Path, seed: int) -> Counter[str]:
    """So many mutated files given to the readers in turn; how each was taken.

    What escaped is kept in the folder, to be looked at.
    """
    draw = np.random.default_rng(seed)
    counts: Counter[str] = Counter()
    kinds = list(readers().items())
    goods = [_short(path.read_bytes()) for path, _ in kinds]
    for number in range(count):
        (good, read), text = kinds[number % len(kinds)], goods[number % len(kinds)]
        bad = folder / good.name
        bad.write_bytes(mutated(text, draw))
        how = told(bad, read)
        counts[how] += 1
        if how not in ("read", "said no"):
            bad.replace(folder / f"escaped-{number}-{how}-{good.name}")
    return counts
