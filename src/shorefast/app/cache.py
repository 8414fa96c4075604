"""Arrays worth keeping between two runs: one folder, deleted at no loss but time."""

from __future__ import annotations

import hashlib
import os
import zipfile
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from shorefast.basis import VERSION

Arrays = Mapping[str, NDArray[np.generic]]
Part = str | bytes | float | NDArray[np.generic]


def kept(folder: Path, what: str, inputs: Iterable[Part], make: Callable[[], Arrays]) -> Arrays:
    """The arrays that ``make`` gives, from the folder if they were made before.

    Parameters
    ----------
    folder : Path
        The cache's folder; made if it is not there.
    what : str
        What is kept ("surface"), part of the file's name.
    inputs : parts
        Everything the arrays depend on, in a fixed order.
    make : callable
        Makes them anew.

    Returns
    -------
    arrays : mapping of name to array
        The same to the bit, cold or warm. A damaged file is made anew; a folder
        that cannot be written is worked without.
    """
    file = folder / f"{what}-{_key(inputs)}.npz"
    found = _read(file)
    if found is not None:
        return found
    made = make()
    _write(file, made)
    return made


def _key(inputs: Iterable[Part]) -> str:
    digest = hashlib.sha256(VERSION.encode())
    for part in inputs:
        raw = _bytes(part)
        digest.update(f"|{type(part).__name__}:{len(raw)}|".encode())
        digest.update(raw)
    return digest.hexdigest()[:24]


def _bytes(part: Part) -> bytes:
    if isinstance(part, np.ndarray):
        shape = f"{part.dtype.str}{part.shape}".encode()
        return shape + np.ascontiguousarray(part).tobytes()
    if isinstance(part, bytes):
        return part
    return repr(part).encode()


def _read(file: Path) -> Arrays | None:
    try:
        with file.open("rb") as raw, np.load(raw, allow_pickle=False) as kept_arrays:
            return dict(kept_arrays)
    except (OSError, ValueError, zipfile.BadZipFile, EOFError):
        return None


def _write(file: Path, arrays: Arrays) -> None:
    draft = file.with_name(f"{file.name}.{os.getpid()}.part")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with draft.open("wb") as out:
            np.savez(out, allow_pickle=False, **dict(arrays))
        draft.replace(file)
    except OSError:
        with suppress(OSError):
            draft.unlink()
