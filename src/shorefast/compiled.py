"""The one place that knows numba: a decorator, and where machine code is kept.

Numba does not see an edit in another module, so each file's machine code is kept in a
folder that carries a hash of its source and of all of ours that it imports.
"""

from __future__ import annotations

import functools
import hashlib
import os
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba
import numba.core.config

F = TypeVar("F", bound=Callable[..., Any])

_PACKAGE = Path(__file__).parent
_IMPORTS = re.compile(rb"^(?:from|import) shorefast((?:\.\w+)+)", re.MULTILINE)


def cache_root() -> Path:
    """The one folder Shorefast keeps made things in; deleting it loses time only."""
    told = os.environ.get("SHOREFAST_CACHE")
    if told:
        return Path(told)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", "~")).expanduser() / "shorefast"
    return Path(os.environ.get("XDG_CACHE_HOME", "~/.cache")).expanduser() / "shorefast"


@functools.cache
def _imported_by(path: Path) -> tuple[Path, ...]:
    """Our own files a file imports by name."""
    found = []
    for dotted in _IMPORTS.findall(path.read_bytes()):
        there = _PACKAGE.joinpath(*dotted.decode().strip(".").split("."))
        found.append(there / "__init__.py" if there.is_dir() else there.with_suffix(".py"))
    return tuple(found)


def reached_from(path: Path) -> frozenset[Path]:
    """A file and every file of ours it imports, through however many others."""
    reached, ahead = {path}, [path]
    while ahead:
        new = set(_imported_by(ahead.pop())) - reached
        reached |= new
        ahead += new
    return frozenset(reached)


@functools.cache
def _digest(path: Path) -> bytes:
    return hashlib.sha256(path.name.encode() + path.read_bytes()).digest()


@functools.cache
def kernel_hash(path: Path) -> str:
    """Hash of all the source a file's kernels can come from, and of the compiler's version."""
    whole = hashlib.sha256(f"{numba.__version__} {sys.version_info[:2]}".encode())
    for digest in sorted(_digest(one) for one in reached_from(path)):
        whole.update(digest)
    return whole.hexdigest()[:16]


def _compiled(function: F, **told: Any) -> F:
    """The function compiled, its machine code kept where its file's sources say."""
    path = Path(function.__code__.co_filename)
    numba.core.config.CACHE_DIR = str(cache_root() / "kernels" / kernel_hash(path))
    made = numba.njit(cache=True, nogil=True, error_model="numpy", **told)(function)
    return cast(F, made)


def kernel(function: F) -> F:
    """Compile a scalar function of floats and arrays; no threads, no fast maths."""
    return _compiled(function, _nrt=True)


def lean_kernel(function: F) -> F:
    """As ``kernel``, for what makes no array and hands none back: numbers only.

    It counts no references to the arrays it is handed. Counting them costs more than
    a look-up in a table; an array handed back uncounted would be freed twice.
    """
    return _compiled(function, _nrt=False)


def hot_kernel(function: F) -> F:
    """As ``lean_kernel``, and written out where it is called: for what runs millions of times."""
    return _compiled(function, _nrt=False, forceinline=True)
