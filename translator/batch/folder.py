"""The files under a folder, in order."""

import os
from collections.abc import Callable, Iterator
from enum import Enum, auto
from pathlib import Path
from typing import NamedTuple

from translator.batch.paths import reason, shown
from translator.errors import WorkError


class Kind(Enum):
    """What a name in a folder stands for."""

    FILE = auto()
    LINKED_FOLDER = auto()
    OTHER = auto()  # a link that leads nowhere, a pipe, a device
    CLOSED_FOLDER = auto()  # one that can't be read


class Seen(NamedTuple):
    """What was seen in a folder and is no folder itself, or one that can't be read.

    ``path`` is spelt as the caller spelt the folder, with forward slashes; ``steps`` are the
    names from the folder to it.
    """

    path: str
    steps: tuple[str, ...]
    kind: Kind
    is_link: bool

    @property
    def name(self) -> str:
        """Its own name."""
        return self.steps[-1]


def walk(folder: Path, is_skipped: Callable[[Path], bool]) -> Iterator[Seen]:
    """Yield the files under a folder: those of a folder by name, before those below it.

    Hidden names and folders that ``is_skipped`` are passed over; links to folders are not
    followed.

    Raises:
        WorkError: when the folder itself can't be read.
    """
    top = shown(folder)
    waiting: list[tuple[str, tuple[str, ...]]] = [("" if top == "." else top, ())]
    while waiting:
        base, steps = waiting.pop()
        inner: list[str] = []
        try:
            entries = _entries(base)
        except OSError as error:
            if not steps:
                raise WorkError(f"can't read the folder {top}: {reason(error)}") from error
            yield Seen(base, steps, Kind.CLOSED_FOLDER, is_link=False)
            continue
        for entry in entries:
            path = f"{base.rstrip('/')}/{entry.name}" if base else entry.name
            if entry.is_dir(follow_symlinks=False):
                if not is_skipped(Path(path)):
                    inner.append(entry.name)
            else:
                yield Seen(path, (*steps, entry.name), _kind(entry), entry.is_symlink())
        waiting += [
            (f"{base.rstrip('/')}/{name}" if base else name, (*steps, name))
            for name in reversed(inner)
        ]


def _entries(folder: str) -> list[os.DirEntry[str]]:
    with os.scandir(folder or ".") as found:
        seen = [entry for entry in found if not entry.name.startswith(".")]
    return sorted(seen, key=lambda entry: entry.name)


def _kind(entry: os.DirEntry[str]) -> Kind:
    try:
        if entry.is_file():
            return Kind.FILE
        return Kind.LINKED_FOLDER if entry.is_dir() else Kind.OTHER
    except OSError:  # a link that leads to itself
        return Kind.OTHER
