"""What ``judge`` answers beside the verdict, each where it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shorefast.app.answers.judge_ground import ground_told
from shorefast.app.answers.judge_gust import gusts_told
from shorefast.app.answers.judge_let_go import let_go_told
from shorefast.app.answers.judge_odds import odds_answered
from shorefast.app.answers.judge_without import losses_told
from shorefast.app.answers.told import Told
from shorefast.app.progress import Progress
from shorefast.stay import Judged, Stay

Tell = Callable[[Stay, Judged, Any, Progress | None], Told]
# the options of ``judge``, in the order they are told
ALSO: dict[str, Tell] = {
    "odds": odds_answered,
    "let_go": let_go_told,
    "if_one_goes": losses_told,
    "gust_response": gusts_told,
    "ground_swept": ground_told,
}


@dataclass(frozen=True)
class AlsoTold:
    """All that was asked for beside the verdict, joined."""

    keys: dict[str, Any] = field(default_factory=dict)
    text: str = ""
    told: tuple[Told, ...] = ()

    @property
    def files(self) -> tuple[Path, ...]:
        """What was written."""
        return tuple(path for one in self.told for path in one.files)


def also_told(
    stay: Stay, judged: Judged, asked: dict[str, Any], progress: Progress | None
) -> AlsoTold:
    """Answers to the options asked for.

    asked : by option, what it was given; what is ``None`` or ``False`` is not asked.
    """
    unknown = sorted(set(asked) - set(ALSO))
    if unknown:
        raise TypeError(f"judge has no option {', '.join(unknown)}")
    told = tuple(
        tell(stay, judged, asked[name], progress) for name, tell in ALSO.items() if asked.get(name)
    )
    keys = {key: value for one in told for key, value in one.keys.items()}
    return AlsoTold(keys, "".join(f"\n\n{one.text}" for one in told), told)
