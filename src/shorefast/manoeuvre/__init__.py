"""Getting her in, proving her, getting her out, and what this boat can do."""

from shorefast.manoeuvre.able import AbleAsked, able
from shorefast.manoeuvre.able_chain import RESERVE_M, wind_pulls_n
from shorefast.manoeuvre.able_gear import ahead_n, hanging_n, spanned_m
from shorefast.manoeuvre.able_kinds import Able, ChainPulls, EnginePulls, WindRange
from shorefast.manoeuvre.falling import falls, free_fall_s
from shorefast.manoeuvre.leeway import leeway

__all__ = [
    "RESERVE_M",
    "Able",
    "AbleAsked",
    "ChainPulls",
    "EnginePulls",
    "WindRange",
    "able",
    "ahead_n",
    "falls",
    "free_fall_s",
    "hanging_n",
    "leeway",
    "spanned_m",
    "wind_pulls_n",
]
