"""The other files that an input uses: found in its folder tree, read once the input is loaded.

The tree is that of the settings file above the input; without one it is the input's own folder.
So a file may use the same others alone and among many. Nothing outside is opened, not even by
way of a link. For a file in an archive the tree is the archive.
"""

import os
import stat
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Final

from msgspec.structs import replace

from translator.batch.archive_list import Listed, listed
from translator.batch.archive_search import refusal
from translator.batch.archives import INSIDE, ArchiveError, read_entry
from translator.batch.input_file import InputFile
from translator.batch.paths import reason
from translator.source import Source

SETTINGS_NAME: Final = "backmark.toml"
MOST_FILES: Final = 50
LARGEST_BYTES: Final = 16_000_000
"""So much may all files together have that one input uses."""

_TOO_MUCH: Final = f"the files used come to more than {LARGEST_BYTES} bytes"


def with_library(source: Source, path: str, uses: Callable[[Source], tuple[str, ...]]) -> Source:
    """Return a source with the files that it uses, and that these use.

    Args:
        source: the input as it was read.
        path: where it was opened.
        uses: returns the paths that a source names.

    Returns:
        The same source where it names none. What can't be read is told by why, in ``unread``.
    """
    # Most files use none, so the tree is looked for only when one does.
    return _gathered(source, uses, lambda name, most: _read(Path(name), _top(Path(path)), most))


def with_archived_library(
    source: Source, file: InputFile, uses: Callable[[Source], tuple[str, ...]]
) -> Source:
    """Return a source out of an archive with the files in the archive that it uses.

    Args:
        source: the input as it was read.
        file: where it was found.
        uses: returns the paths that a source names.
    """
    top = f"{file.path}{INSIDE}"

    def read(name: str, most: int) -> bytes | str:
        if not name.startswith(top):
            return "it lies outside the archive of this file"
        return _unpacked(Path(file.path), name.removeprefix(top), most)

    return _gathered(source, uses, read)


def _gathered(
    source: Source,
    uses: Callable[[Source], tuple[str, ...]],
    read: Callable[[str, int], bytes | str],
) -> Source:
    """Read what a source uses, and what that uses.

    ``read`` takes a path and the most bytes it may have; it returns why there are none.
    """
    wanted = [*uses(source)]
    if not wanted:
        return source
    library: dict[str, bytes] = {}
    unread: dict[str, str] = {}
    left = LARGEST_BYTES
    for name in wanted:  # it grows while it is walked
        if name in library or name in unread or name == source.path:
            continue
        if len(library) >= MOST_FILES:
            unread[name] = f"it is one more than the {MOST_FILES} files that may be used at once"
            continue
        data = read(name, left)
        if isinstance(data, str):
            unread[name] = data
            continue
        library[name] = data
        left -= len(data)
        wanted += uses(Source(path=name, data=data))
    return replace(source, library=library, unread=unread)


def _unpacked(archive: Path, name: str, most: int) -> bytes | str:
    """Return the bytes of a file in an archive, or why it is not read."""
    try:
        status = archive.stat()
        found = _contents(archive, status.st_size, status.st_mtime_ns).get(name, ())
        if why := _refused(found, most):
            return why
        return read_entry(archive, found[0].entry)
    except ArchiveError as error:
        return str(error)
    except OSError as error:
        return reason(error)


def _refused(found: tuple[Listed, ...], most: int) -> str:
    """Return why the file that an archive lists under a name is not read, "" when it is."""
    if not found:
        return "there is no such file in the archive"
    if len(found) > 1:
        return f"the archive holds {len(found)} files of this name"
    fault = refusal(found[0])
    if fault is not None:
        return fault.text
    return _TOO_MUCH if found[0].entry.size > most else ""


@lru_cache(maxsize=1)
def _contents(archive: Path, _size: int, _changed_ns: int) -> Mapping[str, tuple[Listed, ...]]:
    """Return name -> what an archive lists under it.

    Remembered for the last archive, as it stood: a library in it is used by hundreds of its
    files, and each is read by itself.
    """
    names: dict[str, tuple[Listed, ...]] = {}
    for one in listed(archive):
        names[one.entry.name] = (*names.get(one.entry.name, ()), one)
    return names


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
        return _TOO_MUCH
    return data
