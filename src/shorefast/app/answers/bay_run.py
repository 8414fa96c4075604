"""A bay with a run's soundings in its bed, taken in as for a judgement of its stay."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from shorefast.app.answers.run_soundings import run_day, with_their_bed
from shorefast.app.answers.run_words import taken_keys
from shorefast.basis import Basis
from shorefast.bay import Bay
from shorefast.errors import BadInput
from shorefast.readers import outside_tide
from shorefast.stay import Stay


class BayRun(NamedTuple):
    """The stay with the run in its bay's bed, the key ``soundings``, and the bay's basis."""

    stay: Stay
    keys: dict[str, Any]
    basis: Basis


def run_into_bay(bay: Bay, stay: Stay, soundings: Sequence[Path], day: str | None) -> BayRun:
    """Take runs into the bed of a stay that lies in this bay.

    Raises
    ------
    BadInput, Unreadable
        As ``with_their_bed``; if the stay lies in another bay.
    """
    _check_same(bay, stay.bay)
    found = with_their_bed(stay, soundings, run_day(day), "a bay")
    after = found.taken.stay
    keys = taken_keys(found.read, [found.taken], bay.frame)
    return BayRun(after, keys, after.bay.basis | Basis(findings=outside_tide(found.read, stay)))


def check_run_asked(stay: Path | None, *, folder: bool) -> None:
    """Raise unless there is a bay folder to take a run into, and a stay that tells of the run.

    Raises
    ------
    BadInput
        Then.
    """
    if not folder:
        raise BadInput(
            "--soundings",
            "a run, and files that are no bay folder",
            "a run is taken into the bed of a bay folder",
            "Name the folder; or name the log among the files, to see it as it was sounded.",
        )
    if stay is None:
        raise BadInput(
            "--soundings",
            "a run without a stay",
            "the stay's tide and its boat's sounder bring it to chart datum",
            "Add --stay STAY, a stay in this bay.",
        )


def _check_same(bay: Bay, of_stay: Bay) -> None:
    one, other = bay.soundings, of_stay.soundings
    if bay.frame == of_stay.frame and np.array_equal(one.level_m, other.level_m):
        return
    raise BadInput(
        "--stay",
        f"a stay in {of_stay.name}",
        f"the folder is another bay, {bay.name}",
        "Name a stay in this bay.",
    )
