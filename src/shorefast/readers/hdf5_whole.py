"""Whether a file of the HDF5 kind can be read at all, tried apart.

On some damaged files the library that reads them breaks the whole program or goes on for
ever. So each is first read to the end by a program of its own.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from shorefast.errors import Unreadable

_SIGNATURE = b"\x89HDF"
_LONGEST_S, _SLOWEST_BYTES_A_S = 6.0, 5e6
_MOST_BYTES = 2_000_000_000
# 0 read to the end; 1 the library says what is wrong, and says it again to us
_LIMIT = """
import sys
try:
    import resource
    resource.setrlimit(resource.RLIMIT_DATA, (%d, %d))
except (ImportError, ValueError, OSError):
    pass
"""
_TRY = """
import netCDF4
with netCDF4.Dataset(sys.argv[1]) as opened:
    opened.set_auto_maskandscale(False)
    groups = [opened]
    while groups:
        group = groups.pop()
        groups.extend(group.groups.values())
        for variable in group.variables.values():
            variable[...]
            variable.__dict__
"""
# of a BAG as GDAL reads it: on some damage one library ends where the other does not
_TRY_BAG = """
import rasterio
with rasterio.open(sys.argv[1], driver="BAG") as opened:
    for _, window in opened.block_windows(1):
        opened.read(window=window)
"""


def check_hdf5(path: Path, wanted: str) -> None:
    """Raise where the HDF5 library breaks or hangs on a file; one of another kind passes.

    Parameters
    ----------
    path : Path
    wanted : str
        What it should be, for the message.

    Raises
    ------
    Unreadable
        If it cannot be read to the end in a time that its size explains.
    """
    _check(path, wanted, _TRY)


def check_bag(path: Path, wanted: str) -> None:
    """As ``check_hdf5``, for a file that GDAL is to read as a BAG."""
    _check(path, wanted, _TRY_BAG)


def _check(path: Path, wanted: str, script: str) -> None:
    with path.open("rb") as opened:
        if opened.read(4) != _SIGNATURE:
            return
    within_s = _LONGEST_S + path.stat().st_size / _SLOWEST_BYTES_A_S
    limited = _LIMIT % (_MOST_BYTES, _MOST_BYTES) + script
    try:
        ended = subprocess.run(
            [sys.executable, "-I", "-c", limited, str(path)],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=within_s,
            check=False,
        )
    except subprocess.TimeoutExpired:
        why = "the HDF5 library comes to no end with it"
    else:
        if ended.returncode in (0, 1):
            return
        why = "the HDF5 library breaks on it"
    raise Unreadable(path.name, f"it is damaged: {why}", wanted, "Fetch the file again.")
