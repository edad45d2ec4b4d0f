"""The other files that an input uses: found in its folder tree, read once the input is loaded.

The tree is that of the settings file above the input; without one it is the input's own folder.
So a file may use the same others alone and among many. Nothing outside is opened, not even by
way of a link.
"""

import os
import stat
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from translator.source import Source

SETTINGS_NAME: Final = "backmark.toml"
MOST_FILES: Final = 50
LARGEST_BYTES: Final = 16_000_000
"""So much may all files together have that one input uses."""


def with_library(source: Source, path: Path, uses: Callable[[Source], tuple[str, ...]]) -> Source:
    """Return a source with the files that it uses, and that these use.

    Args:
        source: the input as it was read.
        path: where it was opened.
        uses: returns the paths that a source names.

    Returns:
        The same source where it names none. What can't be read is told by why, in ``unread``.
    """
    wanted = [*uses(source)]
    if not wanted:
        return source
    top = _top(path)
    library: dict[str, bytes] = {}
    unread: dict[str, str] = {}
    left = LARGEST_BYTES
    for name in wanted:  # it grows while it is walked
        if name in library or name in unread or name == source.path:
            continue
        if len(library) >= MOST_FILES:
            unread[name] = f"it is one more than the {MOST_FILES} files that may be used at once"
            continue
        data = _read(Path(name), top, left)
        if isinstance(data, str):
            unread[name] = data
            continue
        library[name] = data
        left -= len(data)
        wanted += uses(Source(path=name, data=data))
    return replace(source, library=library, unread=unread)


def _top(path: Path) -> Path:
    """Return the folder that a file's tree begins at."""
    own = Path(os.path.realpath(path)).parent
    for folder in (own, *own.parents):
        if (folder / SETTINGS_NAME).is_file():
            return folder
    return own


def _read(path: Path, top: Path, most: int) -> bytes | str:
    """Return a file's bytes, or why it is not read."""
    real = Path(os.path.realpath(path))
    if not real.is_relative_to(top):
        return "it lies outside the folder tree of this file"
    try:
        if not stat.S_ISREG(real.stat().st_mode):
            return "it is no ordinary file"
        with real.open("rb") as stream:
            data = stream.read(most + 1)
    except FileNotFoundError:
        return "there is no such file"
    except (OSError, ValueError) as error:
        return (getattr(error, "strerror", None) or "no path can be spelt so").lower()
    if len(data) > most:
        return f"the files used come to more than {LARGEST_BYTES} bytes"
    return data
