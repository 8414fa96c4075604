"""A handled yacht at one moment, kept to the bit, so that she can be put back there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from shorefast.mooring.handled import Handled
from shorefast.mooring.handled_forces import S_AHEAD, S_ASIDE, S_EAST, S_HEADING, S_NORTH, S_TURN
from shorefast.mooring.shapes import Floats


@dataclass(frozen=True)
class Kept:
    """All that changes of a handled yacht, to the bit.

    values : her state, the anchor's place, lengths, what is fast, the rode as solved, tensions
    t_s : since she began [s]
    """

    values: bytes
    t_s: float


def kept(handled: Handled) -> Kept:
    """How she is now; equal to another only where every bit is."""
    rows = [row.ravel() for row in _rows(handled)]
    return Kept(np.concatenate(rows).tobytes(), handled.t_s)


def put_back(handled: Handled, moment: Kept) -> None:
    """Bring her back to a moment kept of her or of one rigged alike."""
    values, first = np.frombuffer(moment.values), 0
    for row in _rows(handled):
        row[...] = values[first : first + row.size].reshape(row.shape)
        first += row.size
    handled.t_s = moment.t_s


def stopped_at(handled: Handled, q: tuple[float, float, float]) -> None:
    """Set her there (east, north, heading), without any way on; all else stays."""
    state = handled.state
    state[S_EAST], state[S_NORTH], state[S_HEADING] = q
    state[S_AHEAD] = state[S_ASIDE] = state[S_TURN] = 0.0


def _rows(handled: Handled) -> tuple[Floats, ...]:
    lines = handled._lines
    return (
        handled.state, lines.east_m, lines.north_m, lines.length_m, lines.piece_cum,
        handled._on, handled._rode, handled._tension,
    )  # fmt: skip
