"""Flush written files to the disk while other work goes on, which else would wait for each."""

import contextlib
import os
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from translator.batch.discover import reason, shown
from translator.errors import WorkError

if TYPE_CHECKING:
    from concurrent.futures import Future, ThreadPoolExecutor

_THREADS: Final = 2

_TOGETHER: Final = 8
"""Files that are handed on at once: the disk takes them in one go, and handing on costs too."""

_MOST_WAITING: Final = 8
"""So many of these bundles may wait, so that few files are open, as a process may have few."""


class Flush:
    """Files that are written and on their way to the disk."""

    def __init__(self, threads: "ThreadPoolExecutor") -> None:
        """Begin with none; ``threads`` do the work."""
        self._threads = threads
        self._bundle: list[int] = []
        self._waiting: deque[Future[None]] = deque()

    def take(self, descriptor: int) -> None:
        """Flush an open file and close it, soon.

        Raises:
            OSError: when the disk refuses an earlier one.
        """
        self._bundle.append(descriptor)
        if len(self._bundle) < _TOGETHER:
            return
        self.hand_on()
        while len(self._waiting) > _MOST_WAITING:
            self._waiting.popleft().result()

    def wait(self) -> None:
        """Wait until all that was handed on is on the disk.

        Raises:
            OSError: when the disk refuses.
        """
        while self._waiting:
            self._waiting.popleft().result()

    def hand_on(self) -> None:
        """Let all that was taken be flushed."""
        self._waiting.append(self._threads.submit(_flushed, tuple(self._bundle)))
        self._bundle.clear()


@contextmanager
def flushing(folder: Path) -> Iterator[Flush]:
    """Give what flushes the files of a folder; at the end all of them are on the disk.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(_THREADS) as threads:
        flush = Flush(threads)
        try:
            yield flush
        finally:
            flush.hand_on()  # an open file would else stay open
        try:
            flush.wait()
        except OSError as error:
            message = f"can't write into the folder {shown(folder)}: {reason(error)}"
            raise WorkError(message) from error


def _flushed(descriptors: tuple[int, ...]) -> None:
    with contextlib.ExitStack() as opened:
        for descriptor in descriptors:
            opened.callback(os.close, descriptor)
        for descriptor in descriptors:
            os.fsync(descriptor)
