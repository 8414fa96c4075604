"""What all panels of a sheet share: where she is drawn, her lines by letter, the worst hour."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.errors import BadInput
from shorefast.wording import CardWords, card_words

if TYPE_CHECKING:
    from shorefast.bay import ShorePoint
    from shorefast.boat import Spot
    from shorefast.stay import Judgement, Lie, LieLine, PartUse, Stay

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class LineDrawn:
    """One line ashore as the sheet shows it.

    Attributes
    ----------
    letter : str
        A, B, ... in the lie's own order.
    most_pull_n, most_use : float
        The most of the stay, all but the accepted share of members; NaN unknown.
    pull_n : float
        In the state she is drawn in.
    gives : bool
        Whether it (or its point, cleat or sling) is the first to give.
    """

    letter: str
    point: ShorePoint
    cleat: Spot
    length_m: float
    doubled: bool
    most_pull_n: float
    most_use: float
    pull_n: float
    gives: bool


@dataclass(frozen=True)
class Pose:
    """Where she lies and which way she points, and at what hour. [m, rad]"""

    east_m: float
    north_m: float
    heading_rad: float
    at_utc: np.datetime64


@dataclass(frozen=True)
class Scene:
    """The lie, judged, ready to be drawn; ``pose`` is None where no rest was found.

    words : CardWords
        The language of what is written on the plan.
    """

    stay: Stay
    judgement: Judgement
    lie: Lie
    lines: tuple[LineDrawn, ...]
    pose: Pose | None
    anchor_gives: bool
    words: CardWords = field(default_factory=lambda: card_words("en"))


def of_members(values: Floats, share: float) -> Floats:
    """The value that this share of the members does not exceed, hour by hour.

    Parameters
    ----------
    values : array, shape (member, time)
        NaN entries are left out; the result is NaN where no entry is known.
    share : float
        Nearest rank: 0.95 of 51 members is the 49th in order.

    Returns
    -------
    array, shape (time,)
    """
    ordered = np.sort(np.ascontiguousarray(np.transpose(values)), axis=-1)
    known = np.count_nonzero(~np.isnan(ordered), axis=-1)
    # a hair less, since 0.95 times 20 is 19.000000000000004 here and there
    rank = np.ceil(share * known - 1e-9).astype(np.int64) - 1
    picked = ordered[np.arange(len(ordered)), np.maximum(rank, 0)]
    return np.where(known > 0, picked, np.nan)


def most(values: Floats) -> float:
    """The greatest known value, NaN where none is known."""
    known = values[~np.isnan(values)]
    return float(known.max()) if known.size else math.nan


def least(values: Floats) -> float:
    """The least known value, NaN where none is known."""
    return -most(-values)


def make_scene(stay: Stay, judgement: Judgement, words: CardWords | None = None) -> Scene:
    """Gather what the panels share.

    Raises
    ------
    BadInput
        If the lie is still to be chosen, or a line leads to nowhere.
    """
    if stay.lie is None:
        raise BadInput(
            "Sheet",
            "a lie still to be chosen",
            "a sheet shows one lie",
            "Give the lie in the stay file.",
        )
    at = _drawn_state(judgement)
    lines = tuple(_line(stay, judgement, index, at) for index in range(len(stay.lie.lines)))
    first = (judgement.first_to_give or "").lower()
    anchor = first in {"anchor", "chain", "rode"} or first.startswith(("anchor", "chain", "rode"))
    said = words or card_words("en")
    return Scene(stay, judgement, stay.lie, lines, _pose(judgement, at), anchor, said)


def short_name(scene: Scene, name: str) -> str:
    """A part's name where there is little room: lines and points by their letter."""
    letter = letter_of(scene, name)
    if letter is not None and name.lower().endswith("ashore"):
        return f"point {letter}"
    if letter is not None:
        return f"line {letter}"
    return name.removeprefix("water ") if name.startswith("water under") else name


def letter_of(scene: Scene, name: str) -> str | None:
    """The letter of the line or point that a part's name tells of, if it does."""
    found = [line.letter for line in scene.lines if _tells_of(name, line.point.name)]
    return found[0] if len(found) == 1 else None


def _tells_of(part: str, point: str) -> bool:
    """Whether a part's name is that of a line to this point, or of the point itself."""
    part, point = part.lower(), point.lower()
    return part == point or part.endswith(f" to {point}") or part.startswith(f"{point} ")


def _drawn_state(judgement: Judgement) -> tuple[int, int] | None:
    """The worst state if she was found there, else the first state with a rest."""
    found = np.isfinite(judgement.rest.east_m + judgement.rest.heading_rad)
    if judgement.worst is not None and found[judgement.worst]:
        return judgement.worst
    members, hours = np.nonzero(found)
    return (int(members[0]), int(hours[0])) if members.size else None


def _pose(judgement: Judgement, at: tuple[int, int] | None) -> Pose | None:
    if at is None:
        return None
    rest = judgement.rest
    return Pose(
        float(rest.east_m[at]),
        float(rest.north_m[at]),
        float(rest.heading_rad[at]),
        judgement.time_utc[at[1]],
    )


def _line(stay: Stay, judgement: Judgement, index: int, at: tuple[int, int] | None) -> LineDrawn:
    assert stay.lie is not None
    line = stay.lie.lines[index]
    part = _part_of(judgement, line, index, len(stay.lie.lines))
    share = 1.0 - stay.accepted_share
    return LineDrawn(
        letter=chr(ord("A") + index % 26),
        point=_named_point(stay, line.point),
        cleat=_named_cleat(stay, line.cleat),
        length_m=line.length_m,
        doubled=line.doubled,
        most_pull_n=math.nan if part is None else most(of_members(part.load_n, share)),
        most_use=math.nan if part is None else most(of_members(part.use, share)),
        pull_n=math.nan if part is None or at is None else float(part.load_n[at]),
        gives=_gives(judgement.first_to_give, part, line),
    )


def _part_of(judgement: Judgement, line: LieLine, index: int, count: int) -> PartUse | None:
    """The line's own row of the judgement: by its point's name, else by its order."""
    rows = [part for part in judgement.parts if part.kind == "line"]
    named = [part for part in rows if _tells_of(part.name, line.point)]
    if len(named) == 1:
        return named[0]
    return rows[index] if len(rows) == count else None


def _gives(first: str | None, part: PartUse | None, line: LieLine) -> bool:
    if first is None:
        return False
    return (part is not None and part.name == first) or _tells_of(first, line.point)


def _named_point(stay: Stay, name: str) -> ShorePoint:
    for point in stay.bay.points:
        if point.name == name:
            return point
    known = ", ".join(point.name for point in stay.bay.points) or "none"
    raise BadInput("Lie", f"point '{name}'", f"points known: {known}", "Correct the name.")


def _named_cleat(stay: Stay, name: str) -> Spot:
    for cleat in stay.boat.cleats:
        if cleat.name == name:
            return cleat.spot
    known = ", ".join(cleat.name for cleat in stay.boat.cleats) or "none"
    raise BadInput("Lie", f"cleat '{name}'", f"cleats aboard: {known}", "Correct the name.")
