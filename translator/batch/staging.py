"""Put the files of a delivery on the disk: written under hidden names, called by theirs at the end.

A run has a folder of its own in the output folder, where files wait, written whole and safely on
the disk; processes of a pool write there side by side. When all is well each takes its name. A
run that is killed leaves old files or new ones, never half of one; what it left waiting is
cleared by the next run.
"""

import contextlib
import hashlib
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from msgspec import Struct

from translator.batch.discover import reason, shown
from translator.batch.flushing import Flush, flushing
from translator.batch.write import sync_folder
from translator.errors import WorkError

PREFIX: Final = ".backmark-"
"""Names that begin so are those of a run under way; nothing else may take them."""


class Making(Struct, frozen=True, kw_only=True):
    """What is made of each part without errors, and where it waits for its name.

    Attributes:
        formats: names of the formats.
        waiting: the folder of files that wait.
        verify: read each file back and compare it with the part.
        paper: name of the paper of a sheet; None for the smallest usual one.
    """

    formats: tuple[str, ...]
    waiting: Path
    verify: bool = False
    paper: str | None = None


class WaitingRoom(Struct, frozen=True, kw_only=True):
    """Where files are put while they are made: what is to be made, and what flushes it."""

    making: Making
    flush: Flush

    def put(self, hidden: str, data: bytes) -> bytes:
        """Write a file that waits; see ``put``."""
        return put(self.making.waiting, hidden, data, self.flush)


@contextmanager
def waiting_room(making: Making) -> Iterator[WaitingRoom]:
    """Give the room for one piece of work; at its end all files in it are on the disk.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    with flushing(making.waiting.parent) as flush:
        yield WaitingRoom(making=making, flush=flush)


@contextmanager
def staging(folder: Path) -> Iterator[Path]:
    """Give a folder for files that wait, within an output folder that is made if need be.

    What still waits at the end is taken away, and so are folders that were made for nothing.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    new = [path for path in (folder, *folder.parents) if not path.exists()]
    waiting = folder / f"{PREFIX}{os.getpid()}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _clear_abandoned(folder)
        waiting.mkdir()
    except OSError as error:
        _unmake(new)
        raise WorkError(f"can't write into the folder {shown(folder)}: {reason(error)}") from error
    import shutil

    try:
        yield waiting
    finally:
        shutil.rmtree(waiting, ignore_errors=True)
        _unmake(new)


def put(waiting: Path, hidden: str, data: bytes, flush: Flush) -> bytes:
    """Write a file that waits and give it to be flushed; return the SHA-256 of its bytes.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        descriptor = os.open(f"{waiting}/{hidden}", flags, 0o666)
        try:
            left = memoryview(data)
            while left:
                left = left[os.write(descriptor, left) :]
        except BaseException:
            os.close(descriptor)
            raise
        flush.take(descriptor)
    except OSError as error:
        folder = shown(waiting.parent)
        raise WorkError(f"can't write into the folder {folder}: {reason(error)}") from error
    return hashlib.sha256(data).digest()


def call_by_name(waiting: Path, names: Iterable[tuple[str, str]]) -> None:
    """Give waiting files their names in the output folder, in the order given.

    Args:
        waiting: where they are.
        names: hidden name and name of each.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    folder = waiting.parent
    target = folder
    try:
        for hidden, name in names:
            target = folder / name
            (waiting / hidden).replace(target)
    except OSError as error:
        raise WorkError(f"can't write {shown(target)}: {reason(error)}") from error
    sync_folder(folder)


def remove(folder: Path, names: Iterable[str]) -> None:
    """Remove files of an output folder.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    target = folder
    try:
        for name in names:
            target = folder / name
            target.unlink(missing_ok=True)
    except OSError as error:
        raise WorkError(f"can't remove {shown(target)}: {reason(error)}") from error


def discard(waiting: Path, hidden: Iterable[str]) -> None:
    """Take away files that will never get a name."""
    for name in hidden:
        (waiting / name).unlink(missing_ok=True)


def _unmake(new: Iterable[Path]) -> None:
    with contextlib.suppress(OSError):  # a folder that holds something by now stays
        for folder in new:
            folder.rmdir()


def _clear_abandoned(folder: Path) -> None:
    """Take away what killed runs left waiting."""
    import shutil

    for entry in folder.iterdir():
        number = entry.name.removeprefix(PREFIX)
        if entry.name.startswith(PREFIX) and number.isdecimal() and not _is_alive(int(number)):
            shutil.rmtree(entry, ignore_errors=True)


def _is_alive(process: int) -> bool:
    if process == os.getpid():
        return False  # ours has not begun: it is of an earlier process of the same number
    if sys.platform == "win32":  # there, to ask a process by its number may end it
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
