"""Flush written files to the disk while other work goes on, which else would wait for each."""

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

_AT_ONCE: Final = 4
"""The disk takes what comes together in one go."""

_MOST_WAITING: Final = 64
"""So many files may be open at once, far below what a process may have."""


class Flush:
    """Files that are written and on their way to the disk."""

    def __init__(self, threads: "ThreadPoolExecutor") -> None:
        """Begin with none; ``threads`` do the work."""
        self._threads = threads
        self._waiting: deque[Future[None]] = deque()

    def take(self, descriptor: int) -> None:
        """Flush an open file and close it, soon.

        Raises:
            OSError: when the disk refuses an earlier one.
        """
        while len(self._waiting) >= _MOST_WAITING:
            self._waiting.popleft().result()
        self._waiting.append(self._threads.submit(_flushed, descriptor))

    def wait(self) -> None:
        """Wait until all are on the disk.

        Raises:
            OSError: when the disk refuses.
        """
        while self._waiting:
            self._waiting.popleft().result()


@contextmanager
def flushing(folder: Path) -> Iterator[Flush]:
    """Give what flushes the files of a folder; at the end all of them are on the disk.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(_AT_ONCE) as threads:
        flush = Flush(threads)
        yield flush
        try:
            flush.wait()
        except OSError as error:
            message = f"can't write into the folder {shown(folder)}: {reason(error)}"
            raise WorkError(message) from error


def _flushed(descriptor: int) -> None:
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
