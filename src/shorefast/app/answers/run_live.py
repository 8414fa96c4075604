"""A stay with a run's soundings in its bed: as it was, as it is, what came in."""

from __future__ import annotations

from dataclasses import dataclass, field

from shorefast.readers import DepthsRead
from shorefast.stay import BedChange, Judged, Stay, TakenIn


@dataclass(frozen=True)
class Live:
    """A stay before and after a run, and what came in between."""

    before: Stay
    judged_before: Judged
    stay: Stay
    judged: Judged
    read: tuple[DepthsRead, ...] = ()
    taken: tuple[TakenIn, ...] = ()
    bed: tuple[BedChange, ...] = field(default=())

    def total(self, name: str) -> int:
        """The sum of one count over all that was taken in."""
        return sum(int(getattr(one, name)) for one in self.taken)


@dataclass(frozen=True)
class Taken:
    """Runs taken into a stay's bed that is not judged: what was read, what came in."""

    read: tuple[DepthsRead, ...]
    taken: TakenIn
