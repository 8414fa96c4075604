"""A live feed a line at a time, and when it has fallen quiet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from queue import Empty, Queue
from threading import Thread

# a sounder speaks every second; our own choice
QUIET_S = 5.0
_MOST_WAITING = 100_000


class Feed:
    """Lines of a stream as they come; ``quiet`` after a while without one.

    Parameters
    ----------
    stream : iterable of bytes
        Lines; reading it may block.
    quiet_s : float
        How long without a line is quiet. [s]
    """

    def __init__(self, stream: Iterable[bytes], quiet_s: float = QUIET_S) -> None:
        self.quiet = False
        self._wait_s = quiet_s
        self._lines: Queue[bytes | None] = Queue(_MOST_WAITING)
        Thread(target=self._listen, args=(stream,), daemon=True).start()

    def _listen(self, stream: Iterable[bytes]) -> None:
        try:
            for line in stream:
                self._lines.put(line)
        finally:
            self._lines.put(None)

    def __iter__(self) -> Iterator[bytes | None]:
        """Lines until the stream ends; None, once, where it has fallen quiet."""
        while True:
            try:
                line = self._lines.get(timeout=None if self.quiet else self._wait_s)
            except Empty:
                self.quiet = True
                yield None
                continue
            if line is None:
                return
            self.quiet = False
            yield line
