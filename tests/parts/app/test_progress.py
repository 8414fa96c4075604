"""The bar over a long sum."""

import io
import sys

from shorefast.app.progress import shown


class Terminal(io.StringIO):
    """Standard error of somebody who looks at it."""

    def isatty(self):
        return True


def test_nothing_is_shown_where_nobody_looks(monkeypatch):
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    with shown("Judging the stay") as progress:
        progress(1, 2)
    assert sys.stderr.getvalue() == ""


def test_a_terminal_shows_what_is_done(monkeypatch):
    monkeypatch.setattr(sys, "stderr", Terminal())
    with shown("Judging the stay") as progress:
        progress(1, 2)
    assert "Judging the stay" in sys.stderr.getvalue()
