"""How paths are told, and which of them a pattern names."""

import os
from collections.abc import Sequence
from fnmatch import fnmatchcase
from functools import lru_cache
from pathlib import Path
from typing import Final

ANY_FOLDERS: Final = "**"
"""In a pattern, any number of folders inside each other, none included."""

_WILD: Final = frozenset("*?[")


def shown(path: Path) -> str:
    """Return a path as findings and messages print it, with forward slashes."""
    return path.as_posix()


@lru_cache(maxsize=1024)
def _as_path(text: str) -> Path:
    return Path(text)


def folder_of(path: str) -> Path:
    """Return the folder of a file; made once for all files in it, which takes its time."""
    return _as_path(os.path.dirname(path))  # noqa: PTH120


def reason(error: OSError) -> str:
    """Return the operating system's reason in lower case, without number and path."""
    return (error.strerror or type(error).__name__).lower()


def is_pattern(text: str) -> bool:
    """Tell whether a path holds a sign that stands for others (``*``, ``?``, ``[``)."""
    return not _WILD.isdisjoint(text)


def fits(steps: Sequence[str], pattern: Sequence[str]) -> bool:
    """Tell whether a pattern names a file, or a folder that it lies in.

    Case counts. The work grows with the product of both lengths, whatever the pattern.

    Args:
        steps: the names on the way to the file, its own last.
        pattern: the same of the pattern, empty to name everything; ``**`` stands for any number
            of folders.
    """
    end = len(pattern)
    if not end:
        return True
    at = _skipped({0}, pattern)
    for step in steps:
        if end in at:
            return True
        at = _skipped(
            {
                place if pattern[place] == ANY_FOLDERS else place + 1
                for place in at
                if pattern[place] == ANY_FOLDERS or fnmatchcase(step, pattern[place])
            },
            pattern,
        )
    return end in at


def _skipped(at: set[int], pattern: Sequence[str]) -> set[int]:
    """Add the places that are reached when ``**`` stands for no folder."""
    for place in sorted(at):
        here = place
        while here < len(pattern) and pattern[here] == ANY_FOLDERS:
            here += 1
            at.add(here)
    return at


def is_left_out(steps: Sequence[str], pattern: str) -> bool:
    """Tell whether a pattern of ``--exclude`` leaves a file out.

    A pattern with a slash holds for the way from the folder that was named; one without for
    the name of the file and of every folder on the way to it.
    """
    plain = pattern.strip("/")
    if "/" in plain:
        return fits(steps, plain.split("/"))
    return any(fnmatchcase(step, plain) for step in steps)
