"""What lies in a release's folder, looked at without following anything out of it."""

import hashlib
import os
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final, Literal

from msgspec import Struct

from translator.batch.discover import reason, shown
from translator.errors import WorkError

_CHUNK: Final = 1 << 20
MOST_STRANGERS: Final = 1000
"""Files and folders that do not belong, before the rest is only counted."""

Kind = Literal["file", "folder", "link", "other"]


class Entry(Struct, frozen=True, kw_only=True):
    """One thing in the folder.

    Attributes:
        path: way down from the folder, with forward slashes.
        kind: what it is; links are told as such and never followed.
        size: of a file, in bytes.
        sha256: of its bytes; None where the size already differs from the one expected, where
            none is expected, and where it can't be read.
        trouble: why it can't be read; "" when it can.
    """

    path: str
    kind: Kind
    size: int = 0
    sha256: str | None = None
    trouble: str = ""


def entries(folder: Path, expected: Mapping[str, int | None]) -> Iterator[Entry]:
    """Yield what lies in a folder, in order: all files, and folders that nobody expects.

    A folder in which nothing is expected is told and not opened, so that neither its depth
    nor its size matters. A file is only read where its size is the one expected.

    Args:
        folder: of the release.
        expected: path of each file -> its size, None where any size will do.

    Raises:
        WorkError: when a folder can't be read.
    """
    inner = {path.rpartition("/")[0] for path in expected}
    for path in tuple(inner):
        inner.update(path[:at] for at, character in enumerate(path) if character == "/")
    waiting = [""]
    while waiting:
        here = waiting.pop()
        strangers = 0
        for item in _inside(folder, here):
            path = f"{here}/{item.name}" if here else item.name
            if path in inner and item.is_dir(follow_symlinks=False):
                waiting.append(path)
                continue
            strangers += path not in expected
            if strangers <= MOST_STRANGERS or path in expected:
                yield _entry(folder, path, item, expected)


def read_file(folder: Path, path: str, most: int) -> bytes:
    """Return the bytes of a file that was found, following no link.

    Raises:
        WorkError: when it can't be read, is no ordinary file, or is larger than ``most``.
    """
    where = folder / path
    try:
        with open(_opened(where), "rb") as stream:
            is_file = stat.S_ISREG(os.fstat(stream.fileno()).st_mode)
            data = stream.read(most + 1) if is_file else b""
    except OSError as error:
        raise WorkError(f"can't read {shown(where)}: {reason(error)}") from error
    if not is_file:
        raise WorkError(f"{shown(where)} is no ordinary file")
    if len(data) > most:
        raise WorkError(f"{shown(where)} is larger than the {most} bytes that it may have")
    return data


def _inside(folder: Path, here: str) -> "list[os.DirEntry[str]]":
    where = folder / here
    try:
        with os.scandir(where) as found:
            return sorted(found, key=lambda item: item.name)
    except OSError as error:
        raise WorkError(f"can't read the folder {shown(where)}: {reason(error)}") from error


def _entry(
    folder: Path, path: str, item: "os.DirEntry[str]", expected: Mapping[str, int | None]
) -> Entry:
    if item.is_symlink():
        return Entry(path=path, kind="link")
    if item.is_dir(follow_symlinks=False):
        return Entry(path=path, kind="folder")
    if not item.is_file(follow_symlinks=False):
        return Entry(path=path, kind="other")
    try:
        size = item.stat(follow_symlinks=False).st_size
        if path not in expected or expected[path] not in (None, size):
            return Entry(path=path, kind="file", size=size)
        return Entry(path=path, kind="file", size=size, sha256=_digest(folder / path, size))
    except OSError as error:
        return Entry(path=path, kind="file", trouble=reason(error))


def _digest(path: Path, size: int) -> str:
    """Return the SHA-256 of a file of a known size; one that grows meanwhile is not read on."""
    digest = hashlib.sha256()
    left = size + 1
    with open(_opened(path), "rb", buffering=0) as stream:
        while left > 0:
            piece = stream.read(min(_CHUNK, left))
            if not piece:
                break
            digest.update(piece)
            left -= len(piece)
    return digest.hexdigest()


def _opened(path: Path) -> int:
    flags = os.O_RDONLY | getattr(os, "O_BINARY", 0)
    # A pipe put in a file's place would keep us waiting, a link would lead out of the folder.
    flags |= getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    return os.open(path, flags)
