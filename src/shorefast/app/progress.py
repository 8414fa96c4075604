"""How far a long sum has got, shown on a terminal and nowhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Progress = Callable[[int, int], None]


@contextmanager
def shown(title: str) -> Iterator[Progress]:
    """A bar on standard error while the block runs; silent where that is no terminal.

    Parameters
    ----------
    title : str
        What is being done, in a few words; "" for no bar.

    Yields
    ------
    progress : callable
        To be called with what is done and how much there is.
    """
    if not title or not sys.stderr.isatty():
        yield lambda done, of: None
        return
    from rich.console import Console
    from rich.progress import Progress as Bar

    with Bar(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(title, total=None)
        yield lambda done, of: bar.update(task, completed=done, total=of)
