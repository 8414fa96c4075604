"""One answer for terminal, page and notebook, and how it becomes JSON."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from shorefast.basis import Basis
from shorefast.errors import ShorefastError


@dataclass(frozen=True)
class Answer:
    """What a command found out.

    Attributes
    ----------
    command : str
        The command's name ("judge").
    keys : mapping
        The JSON keys of that command, in order; SI, NaN where unknown. Numpy
        arrays, datetimes (aware, or datetime64 in UTC) and paths may stand in it.
    basis : Basis
        What the answer rests on.
    text : str
        The same for people, several lines.
    written : paths
        Files that were written.
    passed : bool
        False only where a check that was asked for failed (exit code 1).
    """

    command: str
    keys: Mapping[str, Any]
    basis: Basis
    text: str
    written: tuple[Path, ...] = ()
    passed: bool = True


def to_json(answer: Answer) -> str:
    """The answer as one line of JSON: schema, version, basis, findings, then its keys."""
    basis = asdict(answer.basis)
    version, findings = basis.pop("version"), basis.pop("findings")
    head = {
        "schema": f"shorefast/{answer.command}/1",
        "version": version,
        "basis": basis,
        "findings": findings,
    }
    return json.dumps(_plain({**head, **answer.keys}), ensure_ascii=False, allow_nan=False)


def error_to_json(error: ShorefastError) -> str:
    """An error as one line of JSON, with its four texts and the whole sentence."""
    return json.dumps(
        {
            "schema": "shorefast/error/1",
            "kind": error.kind,
            "where": error.where,
            "got": error.got,
            "against": error.against,
            "way_out": error.way_out,
            "sentence": error.sentence,
        },
        ensure_ascii=False,
    )


def _plain(value: Any) -> Any:
    """Only what JSON knows: unknown numbers become null, times end in Z."""
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else None
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, datetime):
        return value.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, Path | date):
        return str(value)
    return _plain_numpy(value)


def _plain_numpy(value: Any) -> Any:
    kind = getattr(getattr(value, "dtype", None), "kind", "")
    if kind == "M":
        return _plain_times(value)
    if kind == "f":
        return _plain_floats(value)
    if kind:
        return _plain(value.tolist())
    if isinstance(value, Iterable):
        return [_plain(item) for item in value]
    raise TypeError(f"{type(value).__name__} has no form in JSON")


def _plain_floats(value: Any) -> Any:
    # a whole field at once: one number after another took a tenth of a second
    import numpy as np

    known = np.isfinite(value)
    unknown: Any = None
    return value.tolist() if known.all() else np.where(known, value, unknown).tolist()


def _plain_times(value: Any) -> Any:
    told = value.astype("datetime64[s]").astype(str).tolist()
    return _with_z(told)


def _with_z(told: Any) -> Any:
    if isinstance(told, list):
        return [_with_z(item) for item in told]
    return None if told == "NaT" else f"{told}Z"
