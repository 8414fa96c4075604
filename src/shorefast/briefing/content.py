"""What the briefing sheet is drawn from: answers already worked out, nothing else."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from shorefast.basis import Basis

if TYPE_CHECKING:
    from shorefast.stay import (
        ChainShape,
        Judgement,
        NeedAndProof,
        Odds,
        Stands,
        Stay,
        WhereToLetGo,
        WithoutOne,
    )


@dataclass(frozen=True)
class SheetContent:
    """One stay, answered: everything that stands on the sheet.

    Attributes
    ----------
    stay : Stay
        ``stay.lie`` must be there; a lie still to be chosen has no sheet.
    judgement, stands, proof :
        The answers; ``proof`` None where nothing is known of the engine.
    shapes : tuple of ChainShape
        In the order they are to be named; the hardest pull is drawn heaviest.
    without : tuple of WithoutOne
        "If one goes", any number, none included.
    headline, reason : str
        The verdict as one sentence, and why.
    cautions : tuple of str
        All of them, the ones that matter most first: the front prints as many
        whole ones as it has room for, the back prints all.
    night : tuple of (from_utc, until_utc)
        Sunset to sunrise, aware; may reach beyond the stay.
    moonlight : tuple of (from_utc, until_utc, lit share)
        Dark hours with a moon that lights; drawn on the strip.
    let_go : WhereToLetGo or None
        Where letting go still gives a sound lie; None: not worked out.
    odds : Odds or None
        How sure, hour by hour; None: not worked out.
    """

    stay: Stay
    judgement: Judgement
    stands: Stands
    shapes: tuple[ChainShape, ...]
    without: tuple[WithoutOne, ...]
    proof: NeedAndProof | None
    headline: str
    reason: str
    cautions: tuple[str, ...]
    night: tuple[tuple[datetime, datetime], ...] = ()
    let_go: WhereToLetGo | None = None
    basis: Basis = field(default_factory=Basis)
    moonlight: tuple[tuple[datetime, datetime, float], ...] = ()
    odds: Odds | None = None
