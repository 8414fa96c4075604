"""The one place that knows numba: a decorator, and where machine code is kept.

Numba does not see an edit in another module, so the folder of its cache carries
a hash of the source of every file that holds a kernel.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba
import numba.core.config

F = TypeVar("F", bound=Callable[..., Any])

_PACKAGE = Path(__file__).parent
_MARK = "from shorefast.compiled import"


def cache_root() -> Path:
    """The one folder Shorefast keeps made things in; deleting it loses time only."""
    told = os.environ.get("SHOREFAST_CACHE")
    if told:
        return Path(told)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", "~")).expanduser() / "shorefast"
    return Path(os.environ.get("XDG_CACHE_HOME", "~/.cache")).expanduser() / "shorefast"


def kernel_hash() -> str:
    """Hash of the source of every file with a kernel, and of the compiler's version."""
    digest = hashlib.sha256(f"{numba.__version__} {sys.version_info[:2]}".encode())
    for path in sorted(_PACKAGE.rglob("*.py")):
        text = path.read_bytes()
        if _MARK.encode() in text:
            digest.update(path.name.encode())
            digest.update(text)
    return digest.hexdigest()[:16]


numba.core.config.CACHE_DIR = str(cache_root() / f"kernels-{kernel_hash()}")


def kernel(function: F) -> F:
    """Compile a scalar function of floats and arrays; no threads, no fast maths."""
    compiled = numba.njit(cache=True, nogil=True, error_model="numpy", _nrt=True)(function)
    return cast(F, compiled)


def lean_kernel(function: F) -> F:
    """As ``kernel``, for what makes no array and hands none back: numbers only.

    It counts no references to the arrays it is handed. Counting them costs more than
    a look-up in a table; an array handed back uncounted would be freed twice.
    """
    compiled = numba.njit(cache=True, nogil=True, error_model="numpy", _nrt=False)(function)
    return cast(F, compiled)


def hot_kernel(function: F) -> F:
    """As ``lean_kernel``, and written out where it is called: for what runs millions of times."""
    compiled = numba.njit(
        cache=True, nogil=True, error_model="numpy", _nrt=False, forceinline=True
    )(function)
    return cast(F, compiled)
