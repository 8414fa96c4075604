"""Good enough, hour by hour?"""

from shorefast.stay.answer import (
    ChainReading,
    ChainShape,
    Judgement,
    LineAtRest,
    NeedAndProof,
    PartUse,
    RestOverStay,
    Room,
    Stands,
    WithoutOne,
)
from shorefast.stay.plan import Current, Lie, LieLine, ProofGiven, Stay

__all__ = [
    "ChainReading",
    "ChainShape",
    "Current",
    "Judgement",
    "Lie",
    "LieLine",
    "LineAtRest",
    "NeedAndProof",
    "PartUse",
    "ProofGiven",
    "RestOverStay",
    "Room",
    "Stands",
    "Stay",
    "WithoutOne",
]
