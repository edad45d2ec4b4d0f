"""Work on many files at once: in order whatever the timing, and clean when it is stopped.

The pool is a standard ``concurrent.futures.Executor``, so that a caller may hand in one of an
existing engine; what travels is plain values.
"""

import copyreg
import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final, TypeVar

from translator.errors import WorkError

if TYPE_CHECKING:
    import threading
    from concurrent.futures import Executor, Future

Given = TypeVar("Given")
Made = TypeVar("Made")

_WAITING: Final = 4
"""So many pieces of work wait for each process: enough to keep it busy, few to keep memory flat."""

_LOOK_S: Final = 0.5
"""So often a process of the pool looks whether the first one is still there."""


def usable_processors() -> int:
    """Return how many processors this process may run on."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def pool(jobs: int) -> "Iterator[Executor | None]":
    """Give a pool of processes; None for a single job, which needs no pool.

    On the way out by an exception, what waits is dropped and the processes are ended.
    """
    if jobs <= 1:
        yield None
        return
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    # A fork has all modules loaded already; nothing else runs in this process that it could break.
    way = "fork" if "fork" in multiprocessing.get_all_start_methods() else None
    workers = ProcessPoolExecutor(
        jobs,
        mp_context=multiprocessing.get_context(way),
        initializer=_begin,
        initargs=(os.getpid(),),
    )
    try:
        yield workers
    except BaseException:
        # Work under way would hold a person who stops the run up, and none of it is wanted.
        for child in multiprocessing.active_children():
            child.terminate()
        workers.shutdown(wait=True, cancel_futures=True)
        raise
    workers.shutdown()


def each(
    work: Callable[[Given], Made],
    items: Iterable[Given],
    workers: "Executor | None",
    jobs: int,
) -> Iterator[Made]:
    """Do some work on each item, and yield what it made in the order of the items.

    Args:
        work: a function of a module, so that another process finds it.
        items: what it is given.
        workers: where to; None does it here, one after the other.
        jobs: how many items are worked on at once.

    Raises:
        WorkError: when a process of the pool died.
    """
    if workers is None:
        yield from map(work, items)
        return
    from concurrent.futures.process import BrokenProcessPool

    waiting: deque[Future[Made]] = deque()
    try:
        for item in items:
            if len(waiting) >= jobs * _WAITING:
                yield waiting.popleft().result()
            waiting.append(workers.submit(work, item))
        while waiting:
            yield waiting.popleft().result()
    except BrokenProcessPool as error:
        raise WorkError(
            "a process of this run was ended from outside, perhaps for want of memory;"
            " try again with fewer --jobs"
        ) from error
    finally:
        for future in waiting:
            future.cancel()


def _begin(first: int) -> None:
    """Begin a process of the pool: it leaves Ctrl-C to the first process, and ends with it."""
    import signal
    import threading

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with, args=(first, threading.Event()), daemon=True).start()


def _end_with(first: int, never: "threading.Event") -> None:
    """Wait until the first process is gone, however it ended; then nobody wants this one's work."""
    import signal

    while os.getppid() == first:
        never.wait(_LOOK_S)
    os.kill(os.getpid(), signal.SIGTERM)


def _view(plain: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(plain)


def _travelling(
    view: MappingProxyType[Any, Any],
) -> tuple[Callable[..., MappingProxyType[Any, Any]], tuple[Any, ...]]:
    return _view, (dict(view),)


copyreg.pickle(MappingProxyType, _travelling)  # read-only views do not travel by themselves
