"""From the paths a person names to the sorted list of files to read.

A path is a folder, a file, a zip archive, a way into one (``delivery.zip!/stair``) or a pattern
of these (``delivery/**/*.nc1``). Archives in a folder are read as part of it.
"""

import os
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final

from msgspec import Struct

from translator.batch.archives import ArchiveError, read_entry
from translator.batch.input_file import InputFile
from translator.batch.library import with_archived_library, with_library
from translator.batch.paths import reason, shown
from translator.batch.search import Search
from translator.errors import UnknownNameError, WorkError
from translator.findings import Finding
from translator.readers import Reader, readers
from translator.source import Source

__all__ = [
    "LARGEST_BYTES",
    "Discovered",
    "InputFile",
    "discover",
    "load",
    "reader_of",
    "reason",
    "shown",
]

LARGEST_BYTES: Final = 64 * 1024 * 1024
"""A part file of more than 64 MB is no part file; it is refused before it fills the memory."""


class Discovered(Struct, frozen=True, kw_only=True):
    """The files of a delivery, sorted by name, and what is to be said about the paths."""

    files: tuple[InputFile, ...]
    findings: tuple[Finding, ...]


def discover(
    paths: Iterable[Path],
    known: tuple[Reader, ...],
    is_skipped: Callable[[Path], bool] = lambda _: False,
    excluded_by: Callable[[str], Path | None] = lambda _: None,
    excludes: tuple[str, ...] = (),
) -> Discovered:
    """Find the input files under some paths.

    A folder is searched to its bottom for names that a reader claims; hidden names, links to
    folders and folders within it that ``is_skipped`` (outputs) are passed over. So is a
    pattern, from the last folder it names without a wild sign. A zip archive is searched like
    a folder. A file named outright that no reader claims is a finding. Files that a settings
    file leaves out (``excluded_by`` names it), or one of the patterns ``excludes``, are
    counted in a note; one named outright is read.

    Raises:
        WorkError: for a path that is missing, unreadable or no ordinary file, for a folder,
            an archive or a pattern without a single part file, and when all paths together
            leave no file to read.
    """
    search = Search(known, is_skipped, excluded_by, excludes)
    for path in paths:
        search.take(path)
    files, findings = search.result()
    return Discovered(files=files, findings=findings)


def reader_of(file: InputFile, known: tuple[Reader, ...] = ()) -> Reader:
    """Return the reader that claims a file, of those known, else of all.

    Raises:
        UnknownNameError: when there is none of that name.
    """
    for reader in known or readers():
        if reader.name == file.reader:
            return reader
    raise UnknownNameError(f"there is no reader {file.reader!r}")


def load(file: InputFile, known: tuple[Reader, ...] = ()) -> Source:
    """Read the bytes of an input file, and of the files that it uses.

    Args:
        file: one that ``discover`` found.
        known: the readers that it was found for; all when empty.

    Raises:
        WorkError: when it can't be read or is larger than 64 MB.
    """
    uses = reader_of(file, known).uses
    if file.entry is not None:
        try:
            data = read_entry(Path(file.path), file.entry)
        except ArchiveError as error:
            raise WorkError(f"can't read {file.name}: {error}") from error
        return with_archived_library(Source(path=file.name, data=data), file, uses)
    try:
        with open(file.path, "rb") as stream:  # noqa: PTH123 - a Path takes longer than to read
            size = os.fstat(stream.fileno()).st_size
            data = stream.read(min(size, LARGEST_BYTES) + 1)
            if len(data) > size:  # it grows, or is no file that has a size
                data += stream.read(LARGEST_BYTES + 1 - len(data))
    except OSError as error:
        raise WorkError(f"can't read {file.name}: {reason(error)}") from error
    if len(data) > LARGEST_BYTES:
        raise WorkError(f"{file.name} is larger than 64 MB; a part file is not")
    return with_library(Source(path=file.name, data=data), file.path, uses)
