"""Getting her in, proving her, getting her out, and what this boat can do."""

from shorefast.manoeuvre.able import AbleAsked, able
from shorefast.manoeuvre.able_kinds import Able, ChainPulls, EnginePulls, WindRange

__all__ = ["Able", "AbleAsked", "ChainPulls", "EnginePulls", "WindRange", "able"]
