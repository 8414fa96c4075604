"""Leaving worked out: as she lies, with the slack hove in, in a lull; the best at each hour."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shorefast.manoeuvre.clear_way import ClearWay, leads_out
from shorefast.manoeuvre.leaving_away import getting_away
from shorefast.manoeuvre.leaving_hands import Hands, hands_of, let_go_by
from shorefast.manoeuvre.leaving_heave import Heaving, heaving
from shorefast.manoeuvre.leaving_hold import Held, held_of
from shorefast.manoeuvre.leaving_hours import Hours, hours_of
from shorefast.manoeuvre.leaving_light import Light, light_of
from shorefast.manoeuvre.leaving_told import NO_ROOM, PAST_LIMIT, UNKNOWN, Why
from shorefast.manoeuvre.leaving_tried import Setting, Tried, Way, held_share, try_way
from shorefast.stay import Judged, Stay, lie_of, question_of, slack_m, up_and_down_m

Ints = NDArray[np.int64]
At = tuple[Tried, int]
_HELPED = (PAST_LIMIT, NO_ROOM, UNKNOWN)


@dataclass(frozen=True)
class Worked:
    """All that leaving is told from; by the numbers of the judged times.

    held_share : members in which she is not held; NaN unknown
    best : the way with least against it, and where the time stands in it; not for those
        that nobody asked for by name, in the dark or where she is not held
    lull : the best way in the lulls of an hour asked by name that has its gusts against it
    """

    setting: Setting
    hours: Hours
    light: Light
    heaving: Heaving
    hands: Hands
    untying_s: float
    held_share: dict[int, float]
    best: dict[int, At]
    lull: dict[int, At]

    @property
    def needs_s(self) -> float:
        """From the first hand to the lines until the anchor is broken out. [s]"""
        return self.untying_s + self.heaving.up_s

    @property
    def held(self) -> Held:
        """What the engine can do."""
        return self.setting.held

    @property
    def out(self) -> ClearWay:
        """The way out."""
        return self.setting.out


def work_out(stay: Stay, judged: Judged, now: int) -> Worked:
    """Everything for the judged time ``now``, and for the hours beside it."""
    level_m = judged.judgement.water_level_m[0, now]
    held, away = held_of(stay, judged), getting_away(stay, judged)
    setting = Setting(question_of(stay, judged), held, away, leads_out(stay, float(level_m)))
    down_m = float(up_and_down_m(stay, level_m))
    heave = heaving(stay, lie_of(stay).chain_out_m, down_m)
    hands = hands_of(stay, judged)
    untying = _untying_s(judged, hands)
    light, hours = light_of(stay), hours_of(stay, judged, now)
    shares = held_share(setting, setting.asked, hours.every)
    not_held = {int(one): float(share) for one, share in zip(hours.every, shares, strict=True)}
    named = np.array(hours.moments, np.int64)
    best = _best(setting, named, _by_day(setting, hours, light, not_held))
    lull = _lulls(setting, hours, best)
    return Worked(setting, hours, light, heave, hands, untying, not_held, best, lull)


def _untying_s(judged: Judged, hands: Hands) -> float:
    """How long the lines take, whichever goes last. [s]"""
    legs = judged.rigged.legs
    orders = [tuple(sorted(range(len(legs)), key=lambda k: k == last)) for last in range(len(legs))]
    sums = [sum(one.takes_s for one in let_go_by(hands, legs, order)) for order in orders]
    return max(sums, default=0.0)


def _best(setting: Setting, named: Ints, by_day: Ints, lull: bool = False) -> dict[int, At]:
    """As she lies; where that has lines or room against it, with the slack hove in.

    The latter only where its best order is within the limits. Of the hours named every set
    of lines is worked out.
    """
    best: dict[int, At] = {}
    for some, within in ((named, False), (by_day, True)):
        if some.size:
            best |= _places(try_way(setting, Way(lull=lull), some, within))
    lots: dict[float, list[int]] = defaultdict(list)
    for one, (tried, k) in best.items():
        slack = slack_m(setting.asked, one)
        if slack >= 1.0 and any(why.reason in _HELPED for why in tried.against(k)):
            lots[0.5 * math.floor(2.0 * slack)].append(one)
    for by_m, some_hours in lots.items():
        hove = try_way(setting, Way(by_m, lull), np.array(some_hours), True)
        best |= {one: at for one, at in _places(hove).items() if _better(at, best[one])}
    return best


def _better(hove: At, plain: At) -> bool:
    """Whether a way with the slack hove in is to be taken: lines first, then what is against it."""
    if not hove[0].within_limits(hove[1]):
        return False
    return not plain[0].within_limits(plain[1]) or _weight(hove) < _weight(plain)


def _places(tried: Tried) -> dict[int, At]:
    return {int(one): (tried, k) for k, one in enumerate(tried.at)}


def _weight(at: At) -> tuple[int, int, float]:
    """How much is against leaving so: reasons, then what is unknown, then the shares."""
    why: tuple[Why, ...] = at[0].against(at[1])
    known = [one for one in why if one.reason != UNKNOWN]
    return len(known), len(why) - len(known), float(np.nansum([one.share for one in known]))


def _by_day(setting: Setting, hours: Hours, light: Light, not_held: dict[int, float]) -> Ints:
    """The hours not asked by name in which she is held, by day, and the first in the dark."""
    judged, accepted = setting.judged, setting.stay.accepted_share
    named = np.isin(hours.every, hours.moments)
    lit = np.array([not light.is_dark(judged.moment(int(one))) for one in hours.every])
    after = np.concatenate([[False], (named | lit)[:-1]])
    held = np.array([not not_held[int(one)] > accepted for one in hours.every])
    return np.asarray(hours.every[(lit | after) & ~named & held])


def _lulls(setting: Setting, hours: Hours, best: dict[int, At]) -> dict[int, At]:
    """The hours asked by name that have their gusts against them, in the mean wind alone."""
    some = [one for one in hours.moments if best[one][0].against(best[one][1])]
    named, nothing = (np.array(one, np.int64) for one in (some, []))
    return _best(setting, nothing, named, lull=True)
