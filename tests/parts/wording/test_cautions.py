"""The cautions every face carries."""

import re

from shorefast.wording import CAUTIONS, CAUTIONS_SHORT, caution


def test_all_thirteen_are_there_long_and_short():
    assert len(CAUTIONS) == len(CAUTIONS_SHORT) == 13
    assert caution(1) == CAUTIONS[0]


def test_the_first_says_who_decides():
    assert caution(1) == (
        "Arithmetic on your numbers and a forecast. You decide. Unseen rock, mud, weed and "
        "other people's chains are not in it. Not for navigation."
    )


def test_the_short_ones_fit_a_line_of_a_terminal():
    assert max(len(text) for text in CAUTIONS_SHORT) <= 84


def test_none_promises_anything():
    assert not re.search(r"\b(safe|allowed)\b", " ".join(CAUTIONS + CAUTIONS_SHORT))
