"""The odds on the strip: a row of them under the winds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from shorefast.drawing.labels import Board
from shorefast.drawing.page import Box, Page, Style
from shorefast.wording import odds_short

if TYPE_CHECKING:
    from shorefast.stay import Odds

Floats = NDArray[np.float64]
_ODDS = Style("sans", "soft", 8.5)
_HIGH = Style("bold", "ink", 8.5)
# from here on they are told in bold: one in twenty, the share accepted by default
_TELLING = 0.05


def draw_odds(
    page: Page, board: Board, where: tuple[float, Floats], odds: Odds, shown: Sequence[int]
) -> None:
    """Under every wind that stands on the strip the worst odds up to the next one.

    Parameters
    ----------
    where : height of the row, and where each time stands (time,) [pt]
    shown : the times at which a wind stands
    """
    y, x = where
    for first, after in zip(shown, [*shown[1:], odds.share.size], strict=True):
        span = odds.share[first:after]
        # unknown among the rest counts as unknown, unless what is known tells already
        known = np.nan_to_num(span, nan=0.0)
        worst = first + int(np.argmax(known))
        if np.isnan(span).any() and known.max() < _TELLING:
            worst = first + int(np.argmax(np.isnan(span)))
        words = odds_short(float(odds.share[worst]), float(odds.error[worst]))
        style = _HIGH if odds.share[worst] >= _TELLING else _ODDS
        left = float(x[first]) + 9.0
        if words:
            page.text(left, y, words, style)
            board.take(Box(left, y - 7.0, left + style.width_pt(words), y + 2.0))
