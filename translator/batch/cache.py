"""What earlier runs found, kept by the content it was found from.

An entry is named by a digest of everything it follows from: the bytes of the input, the settings
and the program itself. So it can never be out of date, only unused. Runs at the same time share
the folder; an entry that is spoilt is as good as none, and the folder may be removed at any time.
"""

import contextlib
import hashlib
import os
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Final

from translator import __version__

VARIABLE: Final = "BACKMARK_CACHE"
"""Environment variable that names the folder in place of the platform's."""

MOST_ENTRIES: Final = 1000
"""Entries in one of the 256 drawers; beyond it the older half goes."""

_DIGEST: Final = 20
_MARK: Final = b"backmark-cache 1\n"


def folder_of(environment: Mapping[str, str] = os.environ) -> Path | None:
    """Return the folder of this program's entries: the one named, else the platform's.

    None where the platform has none, like for a person without a home.
    """
    named = environment.get(VARIABLE)
    if named:
        return Path(named)
    from platformdirs import user_cache_path

    path = user_cache_path("backmark", appauthor=False)
    return path if path.is_absolute() else None


def key_of(parts: Iterable[bytes]) -> str:
    """Return the name of an entry that follows from some bytes, and from this program."""
    digest = hashlib.blake2b(digest_size=_DIGEST)
    for part in (program(), *parts):
        digest.update(len(part).to_bytes(8, "big"))
        digest.update(part)
    return digest.hexdigest()


def fetch(folder: Path, key: str) -> bytes | None:
    """Return an entry, None when there is none or it is spoilt."""
    try:
        data = _path(folder, key).read_bytes()
    except OSError:
        return None
    if not data.startswith(_MARK):
        return None
    body = data[len(_MARK) + _DIGEST :]
    return body if data[len(_MARK) :][:_DIGEST] == _check(body) else None


def keep(folder: Path, key: str, body: bytes) -> None:
    """Keep an entry. That the disk refuses is no fault of the run: then nothing is kept."""
    import tempfile

    path = _path(folder, key)
    with contextlib.suppress(OSError):
        if not path.parent.is_dir():
            path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=".", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(_MARK + _check(body) + body)
            Path(name).replace(path)
        except OSError:
            Path(name).unlink(missing_ok=True)
            raise


def tidy(folder: Path, key: str) -> None:
    """Keep the drawer of a key from growing without end: of too many entries the older go."""
    with contextlib.suppress(OSError):
        entries = list(os.scandir(_path(folder, key).parent))
        if len(entries) > MOST_ENTRIES:
            entries.sort(key=lambda entry: entry.stat().st_mtime_ns)
            for entry in entries[: len(entries) // 2]:
                Path(entry.path).unlink(missing_ok=True)


@cache
def program() -> bytes:
    """Return what tells this program from another: its version, and the files it is made of.

    The files count by name, size and time, so that a program that is being worked on does not
    take the word of its former self.
    """
    import translator

    digest = hashlib.blake2b(__version__.encode(), digest_size=_DIGEST)
    folders = [os.fspath(Path(translator.__file__).parent)]
    while folders:
        for entry in sorted(os.scandir(folders.pop()), key=lambda e: e.name):
            if entry.name.startswith((".", "__pycache__")):
                continue
            if entry.is_dir(follow_symlinks=False):
                folders.append(entry.path)
            else:
                told = entry.stat()
                digest.update(f"{entry.name} {told.st_size} {told.st_mtime_ns}\n".encode())
    return digest.digest()


def _path(folder: Path, key: str) -> Path:
    return folder / key[:2] / key[2:]


def _check(body: bytes) -> bytes:
    return hashlib.blake2b(body, digest_size=_DIGEST).digest()
