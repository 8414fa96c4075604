"""Bringing her in, proving her, getting her out: what is done, in which order, by whom."""

from shorefast.manoeuvre.leaving import leaving
from shorefast.manoeuvre.leaving_slip import DoubledBack
from shorefast.manoeuvre.leaving_told import Leaving, LeavingAt, LetGo, Why

__all__ = [
    "DoubledBack",
    "Leaving",
    "LeavingAt",
    "LetGo",
    "Why",
    "leaving",
]
