"""The JSON keys of what is told beside a verdict."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import numpy as np

from shorefast.stay import Judgement, SeaByFetch, Stay, as_ridden, heave, skyline_of


def beside_keys(stay: Stay, judgement: Judgement) -> dict[str, Any]:
    """Waves, skyline, comfort, snatch, natural periods, wind to either side; ``null`` for none."""
    deeper = heave(as_ridden(stay, judgement.sea))
    push, answer = judgement.waves, judgement.gust_answer
    return {
        "waves": None if push is None else asdict(push),
        "heave": {"waves_m": deeper.waves_m, "wash_m": deeper.wash_m},
        "sea": None if judgement.sea is None else _sea(judgement.sea),
        "skyline": None if (sky := skyline_of(stay)) is None else asdict(sky),
        "comfort": [asdict(one) for one in judgement.comfort],
        "snatch": [asdict(one) for one in judgement.snatch],
        "natural_period_s": None
        if answer is None
        else dict(zip(answer.way, answer.period_s, strict=True)),
        "gust_answered": None
        if answer is None
        else {"over_s": answer.averaging_s, "share": answer.share},
        "wind_to_side": [asdict(one) for one in judgement.sides],
    }


def _sea(sea: SeaByFetch) -> dict[str, Any]:
    """Waves by fetch, the highest of the members hour by hour; ``null`` where unknown."""
    height_m = np.nan_to_num(sea.height_m, nan=-1.0)
    highest = height_m.argmax(axis=0), np.arange(height_m.shape[1])
    return {
        "height_m": sea.height_m[highest],
        "period_s": sea.period_s[highest],
        "from_rad": np.where(np.isnan(sea.height_m[highest]), np.nan, sea.from_rad[highest]),
        "fetch_m": sea.fetch_m[highest],
        "unknown_share": np.isnan(sea.height_m).mean(axis=0),
    }
