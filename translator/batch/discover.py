"""From the paths a person names to the sorted list of files to read."""

import os
import re
import stat
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from translator.batch.library import with_library
from translator.errors import UnknownNameError, WorkError
from translator.findings import Finding, Severity
from translator.readers import Reader, readers
from translator.source import Source, whole_file

LARGEST_BYTES: Final = 64 * 1024 * 1024
"""A part file of more than 64 MB is no part file; it is refused before it fills the memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InputFile:
    """One file to read: small, and cheap to hand to another process.

    Attributes:
        path: where it is opened; forward slashes, as the caller spelt the folder.
        reader: name of the reader that claims it.
    """

    path: str
    reader: str

    @property
    def name(self) -> str:
        """What findings call it."""
        return self.path

    @property
    def folder(self) -> Path:
        """The folder whose settings it comes under."""
        return Path(self.path).parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Discovered:
    """The files of a delivery, sorted by name, and what is to be said about the paths."""

    files: tuple[InputFile, ...]
    findings: tuple[Finding, ...]


def discover(
    paths: Iterable[Path],
    known: tuple[Reader, ...],
    is_skipped: Callable[[Path], bool] = lambda _: False,
    excluded_by: Callable[[Path], Path | None] = lambda _: None,
) -> Discovered:
    """Find the input files under some paths.

    A folder is searched to its bottom for names that a reader claims; hidden names, links to
    folders and folders within it that ``is_skipped`` (outputs) are passed over. A file named
    outright that no reader claims is a finding. Files of a folder that a settings file leaves
    out (``excluded_by`` names it) are counted in a note; one named outright is read.

    Raises:
        WorkError: for a path that is missing, unreadable or no ordinary file, for a folder
            without a single part file, and when all paths together leave no file to read.
    """
    files: dict[Path, InputFile] = {}
    findings: list[Finding] = []
    left_out: dict[Path, list[str]] = {}
    for path in paths:
        mode = _mode(path)
        if stat.S_ISDIR(mode):
            every = [f for p in _walk(path, is_skipped) if (f := _claimed(p, known))]
            inside = []
            for file in every:
                settings = excluded_by(Path(file.path))
                if settings is None:
                    inside.append(file)
                else:
                    left_out.setdefault(settings, []).append(file.name)
            if not every:
                raise WorkError(f"the folder {shown(path)} holds no part file ({_endings(known)})")
        elif not stat.S_ISREG(mode):
            raise WorkError(f"{shown(path)} is neither a folder nor an ordinary file")
        elif claimed := _claimed(path, known):
            inside = [claimed]
        else:
            inside = []
            findings.append(_unknown(path, known))
        for file in inside:
            files.setdefault(Path(os.path.realpath(file.path)), file)
    if not files and (findings or left_out):
        raise WorkError(_nothing(findings, left_out))
    ordered = sorted(files.values(), key=lambda f: f.name)
    findings += [_left_out(path, names) for path, names in sorted(left_out.items())]
    return Discovered(files=tuple(ordered), findings=tuple(findings))


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
    try:
        with Path(file.path).open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise WorkError(f"can't read {file.name}: {reason(error)}") from error
    if len(data) > LARGEST_BYTES:
        raise WorkError(f"{file.name} is larger than 64 MB; a part file is not")
    uses = reader_of(file, known).uses
    return with_library(Source(path=file.name, data=data), Path(file.path), uses)


def shown(path: Path) -> str:
    """Return a path as findings and messages print it, with forward slashes."""
    return path.as_posix()


def reason(error: OSError) -> str:
    """Return the operating system's reason in lower case, without number and path."""
    return (error.strerror or type(error).__name__).lower()


def _mode(path: Path) -> int:
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        raise WorkError(f"there is no file or folder {shown(path)}") from None
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "no path can be spelt so"
        raise WorkError(f"can't look at {shown(path)}: {why}") from error


def _walk(folder: Path, is_skipped: Callable[[Path], bool]) -> Iterator[Path]:
    def refuse(error: OSError) -> None:
        raise WorkError(f"can't read the folder {error.filename}: {reason(error)}") from error

    for base, folders, names in os.walk(folder, onerror=refuse):
        folders[:] = sorted(
            name
            for name in folders
            if not name.startswith(".") and not is_skipped(Path(base, name))
        )
        for name in sorted(names):
            path = Path(base, name)
            if not name.startswith(".") and path.is_file():
                yield path


def _claimed(path: Path, known: tuple[Reader, ...]) -> InputFile | None:
    name = path.name.lower()
    for reader in known:
        if re.fullmatch(reader.pattern, name):
            return InputFile(path=shown(path), reader=reader.name)
    return None


def _endings(known: tuple[Reader, ...]) -> str:
    return ", ".join(sorted(reader.ending for reader in known))


def _unknown(path: Path, known: tuple[Reader, ...]) -> Finding:
    return Finding(
        rule="file-unknown",
        severity=Severity.ERROR,
        message=f"the name {path.name} does not end like that of a part file that can be read"
        f" here: {_endings(known)}",
        span=whole_file(shown(path)),
    )


def _nothing(unknown: list[Finding], left_out: dict[Path, list[str]]) -> str:
    """Say why there is nothing to read: a run that looked at nothing must not pass as clean."""
    whys = [finding.message for finding in unknown]
    whys += [
        f"{_excluded(names)} ({shown(settings)})" for settings, names in sorted(left_out.items())
    ]
    more = f" (and {len(whys) - 1} more)" if len(whys) > 1 else ""
    return f"there is no file to read: {whys[0]}{more}"


def _excluded(names: list[str]) -> str:
    first = min(names)
    what = f"{first} is" if len(names) == 1 else f"{len(names)} files are"
    more = "" if len(names) == 1 else f", the first is {first}"
    return f"{what} left out by `excludes` of the settings{more}"


def _left_out(settings: Path, names: list[str]) -> Finding:
    return Finding(
        rule="files-excluded",
        severity=Severity.NOTE,
        message=_excluded(names),
        span=whole_file(shown(settings)),
    )
