"""The kinds of anchor and propeller a boat file may name."""

from __future__ import annotations

ANCHOR_CLASSES = ("scoop", "plough", "claw", "fluke", "fisherman", "grapnel", "stockless")
PROPELLERS = ("fixed", "fixed 2-blade", "fixed 3-blade", "folding", "feathering")
# the way the stern goes when the propeller turns astern
WALKS = ("port", "starboard", "no")
