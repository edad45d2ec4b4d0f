"""How far a long run is: a bar with rate and time left on a terminal, nothing in a pipe."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

import click

from translator.errors import WorkError

if TYPE_CHECKING:
    from click._termui_impl import ProgressBar

_AFTER_S: Final = 0.7
"""Work that is done sooner shows no progress."""


@contextmanager
def progress(total: int, things: str) -> Iterator[Callable[[int], None]]:
    """Give a function that is told how many more things are done.

    Args:
        total: how many there are.
        things: what they are called.

    Raises:
        WorkError: when the run is stopped by hand, or can't go on; it says how far it was.
    """
    begun = time.monotonic()
    finished = 0

    def rate() -> str:
        return f"{finished / max(time.monotonic() - begun, 0.001):,.0f} {things}/s"

    with _bar(total, rate) as bar:

        def done(number: int) -> None:
            nonlocal finished
            finished += number
            if bar is not None and time.monotonic() - begun > _AFTER_S:
                bar.update(finished - bar.pos)

        try:
            yield done
        except KeyboardInterrupt:
            raise WorkError(f"stopped after {finished:,} of {total:,} {things}") from None
        except WorkError as error:
            if total == 1:
                raise
            raise WorkError(f"{error} (after {finished:,} of {total:,} {things})") from error


@contextmanager
def _bar(total: int, rate: Callable[[], str]) -> "Iterator[ProgressBar[int] | None]":
    """Give a bar on a terminal; None in a pipe, where nothing is drawn and nothing loaded."""
    if not sys.stderr.isatty():
        yield None
        return
    bar: ProgressBar[int]
    with click.progressbar(
        length=total,
        file=sys.stderr,
        show_pos=True,
        show_eta=True,
        item_show_func=lambda _: rate(),
    ) as bar:
        yield bar
