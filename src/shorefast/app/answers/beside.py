"""The JSON keys of what is told beside a verdict."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from shorefast.stay import Judgement, Stay, heave


def beside_keys(stay: Stay, judgement: Judgement) -> dict[str, Any]:
    """Waves, comfort, snatch, natural periods, the wind to either side; ``null`` where none."""
    deeper, push, answer = heave(stay), judgement.waves, judgement.gust_answer
    return {
        "waves": None if push is None else asdict(push),
        "heave": {"waves_m": deeper.waves_m, "wash_m": deeper.wash_m},
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
