"""The yacht and her gear."""

from shorefast.boat.yacht import (
    Anchor,
    Cleat,
    Engine,
    Hull,
    LongLine,
    RodePiece,
    Sling,
    Snubber,
    Sounder,
    Spot,
    Underwater,
    Windage,
    Windlass,
    Yacht,
)

__all__ = [
    "Anchor",
    "Cleat",
    "Engine",
    "Hull",
    "LongLine",
    "RodePiece",
    "Sling",
    "Snubber",
    "Sounder",
    "Spot",
    "Underwater",
    "Windage",
    "Windlass",
    "Yacht",
]
