"""One search for input files: folders, patterns and archives, each file once."""

import os
import re
import stat
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Final

from translator.batch.archive_search import ARCHIVES, inside
from translator.batch.archives import ENDING, INSIDE
from translator.batch.folder import Kind, Seen, walk
from translator.batch.input_file import InputFile, claimed_by, endings
from translator.batch.paths import fits, is_left_out, is_pattern, reason, shown
from translator.errors import WorkError
from translator.findings import Finding, Severity
from translator.readers import Reader
from translator.source import printable, whole_file


class Search:
    """One search: what was found so far, each file once, and what was left out."""

    def __init__(
        self,
        known: tuple[Reader, ...],
        is_skipped: Callable[[Path], bool],
        excluded_by: Callable[[str], Path | None],
        excludes: tuple[str, ...],
    ) -> None:
        """Begin with nothing found; the arguments are those of ``discover``."""
        self.known = known
        self.is_skipped = is_skipped
        self.excluded_by = excluded_by
        self.excludes = excludes
        self.files: dict[tuple[str, str], InputFile] = {}
        self.findings: list[Finding] = []
        self.left_out: dict[tuple[str, str], list[str]] = {}

    def take(self, path: Path) -> None:
        """Search one path that the caller named."""
        mode = _mode(path)
        if mode is None:
            self._take_missing(path)
        elif stat.S_ISDIR(mode):
            if not self._search(path, ()):
                raise WorkError(f"the folder {shown(path)} holds no part file ({self._endings()})")
        elif not stat.S_ISREG(mode):
            raise WorkError(f"{shown(path)} is neither a folder nor an ordinary file")
        elif reader := claimed_by(path.name, self.known):
            self._add(os.path.realpath(path), InputFile(path=shown(path), reader=reader))
        elif path.name.lower().endswith(ENDING):
            self._take_archive(path, ())
        else:
            self.findings.append(_unknown(path, self.known))

    def result(self) -> tuple[tuple[InputFile, ...], tuple[Finding, ...]]:
        """Return the files, sorted by name, and what is to be said.

        Raises:
            WorkError: when nothing is left to read; it must not pass as clean.
        """
        errors = [one for one in self.findings if one.severity is Severity.ERROR]
        if not self.files and (errors or self.left_out):
            whys = [_why(finding) for finding in errors]
            whys += [f"{_excluded(what, names)} ({where})" for what, where, names in self._out()]
            more = f" (and {len(whys) - 1} more)" if len(whys) > 1 else ""
            raise WorkError(f"there is no file to read: {whys[0]}{more}")
        out = [_left_out(what, where, names) for what, where, names in self._out()]
        ordered = sorted(self.files.values(), key=lambda file: file.name)
        return tuple(ordered), (*self.findings, *out)

    def _out(self) -> Sequence[tuple[str, str, list[str]]]:
        return [(what, where, names) for (where, what), names in sorted(self.left_out.items())]

    def _endings(self) -> str:
        return endings(self.known)

    def _take_missing(self, path: Path) -> None:
        """Search a path that is not there as it is spelt: a way into an archive or a pattern."""
        name = shown(path)
        way = _WAY.fullmatch(name)
        if way and Path(way["archive"]).is_file():
            self._take_archive(Path(way["archive"]), tuple(way["inside"].split("/")))
        elif is_pattern(name):
            self._take_pattern(path)
        else:
            raise WorkError(f"there is no file or folder {name}")

    def _take_archive(self, archive: Path, way: tuple[str, ...]) -> None:
        def is_wanted(steps: Sequence[str]) -> bool:
            return tuple(steps[: len(way)]) == way or fits(steps, way)

        found = inside(archive, self.known, is_wanted, is_named=True)
        is_faulty = any(finding.severity is Severity.ERROR for finding in found.findings)
        if not found.part_files and not is_faulty:
            named = f" named {'/'.join(way)}" if way else ""
            raise WorkError(
                f"the archive {shown(archive)} holds no part file{named} ({self._endings()})"
            )
        self.findings += found.findings
        is_outright = bool(way) and any(_entry(file) == "/".join(way) for file in found.files)
        self._add_inside(archive, found.files, (), shown(archive), is_outright=is_outright)

    def _take_pattern(self, path: Path) -> None:
        """Search from the last folder that a pattern names outright."""
        steps = path.parts
        fixed = next(number for number, step in enumerate(steps) if is_pattern(step))
        base = Path(*steps[:fixed])
        mode = _mode(base)
        if mode is None or not stat.S_ISDIR(mode):
            raise WorkError(f"there is no folder {shown(base)} to look for {shown(path)} in")
        if not self._search(base, steps[fixed:]):
            raise WorkError(f"no part file ({self._endings()}) is named by {shown(path)}")

    def _search(self, folder: Path, pattern: tuple[str, ...]) -> bool:
        """Search a folder; tell whether any part file, wanted or left out, was seen."""
        seen = False
        passed: dict[str, list[str]] = {}
        real: dict[str, str] = {}
        for one in walk(folder, self.is_skipped):
            reader = claimed_by(one.name, self.known)
            is_archive = reader is None and one.name.lower().endswith(ENDING)
            if one.kind is Kind.CLOSED_FOLDER:
                seen = True  # nobody knows
                self.findings.append(_closed(one))
            elif is_archive and one.kind is Kind.FILE:
                seen |= self._add_archive(one, pattern, shown(folder))
            elif not fits(one.steps, pattern):
                continue
            elif one.kind is Kind.LINKED_FOLDER:
                passed.setdefault(_LINKS, []).append(one.path)
            elif reader is None and not is_archive:
                if one.name.lower().endswith(ARCHIVES):
                    passed.setdefault(_ARCHIVES, []).append(one.path)
            else:
                seen = True
                self._add_one(one, reader, shown(folder), real)
        self.findings += [_passed(shown(folder), why, paths) for why, paths in passed.items()]
        return seen

    def _add_one(self, one: Seen, reader: str | None, top: str, real: dict[str, str]) -> None:
        if self._is_left_out(one.path, one.steps, top):
            return
        if one.kind is not Kind.FILE or reader is None:
            self.findings.append(_not_ordinary(one))
        else:
            self._add(_real(one, real), InputFile(path=one.path, reader=reader))

    def _add_archive(self, one: Seen, pattern: tuple[str, ...], top: str) -> bool:
        """Search an archive of a folder, as far as the pattern asks for it or what is in it."""
        within = (*one.steps[:-1], f"{one.name}!")
        is_whole = fits(one.steps, pattern)

        def is_wanted(way: Sequence[str]) -> bool:
            return is_whole or fits((*within, *way), pattern)

        if is_whole and self._is_left_out(one.path, one.steps, top):
            return True
        found = inside(Path(one.path), self.known, is_wanted, is_named=False)
        if not is_whole and not found.part_files:
            return False
        self.findings += found.findings
        self._add_inside(Path(one.path), found.files, one.steps, top, is_outright=False)
        return bool(found.part_files)

    def _add_inside(
        self,
        archive: Path,
        files: Iterable[InputFile],
        steps: tuple[str, ...],
        top: str,
        *,
        is_outright: bool,
    ) -> None:
        real = os.path.realpath(archive)
        for file in files:
            way = (*steps, *_entry(file).split("/"))
            if is_outright or not self._is_left_out(file.name, way, top):
                self._add(real, file)

    def _add(self, real: str, file: InputFile) -> None:
        self.files.setdefault((real, _entry(file)), file)

    def _is_left_out(self, name: str, steps: tuple[str, ...], top: str) -> bool:
        """Tell whether a file is left out, and keep its name."""
        settings = self.excluded_by(name)
        by = None if settings is None else (shown(settings), "`excludes` of the settings")
        if by is None:
            pattern = next((one for one in self.excludes if is_left_out(steps, one)), None)
            by = None if pattern is None else (top, f"`--exclude {printable(pattern)}`")
        if by is not None:
            self.left_out.setdefault(by, []).append(name)
        return by is not None


_WAY: Final = re.compile(
    rf"(?P<archive>.*?{re.escape(ENDING)}){INSIDE}(?P<inside>.+)", re.IGNORECASE | re.DOTALL
)
_LINKS: Final = "links to folders are not followed"
_ARCHIVES: Final = f"of archives only {ENDING} is read"


def _entry(file: InputFile) -> str:
    """Return the name of a file in its archive, "" for a file of its own."""
    return file.entry.name if file.entry else ""


def _why(finding: Finding) -> str:
    """Return the fault of a path, with the path where the sentence lacks it."""
    is_told = finding.rule == "file-unknown"
    return finding.message if is_told else f"{finding.message} ({finding.span.path})"


def _mode(path: Path) -> int | None:
    """Return what a path is; None where nothing of that name is there."""
    try:
        return path.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return None
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "no path can be spelt so"
        raise WorkError(f"can't look at {shown(path)}: {why}") from error


def _real(one: Seen, folders: dict[str, str]) -> str:
    """Return the real path of a file; a folder's is looked up once."""
    if one.is_link:
        return os.path.realpath(one.path)
    folder = one.path.removesuffix(one.name)
    if folder not in folders:
        folders[folder] = os.path.realpath(folder or ".")
    return f"{folders[folder]}/{one.name}"


def _unknown(path: Path, known: tuple[Reader, ...]) -> Finding:
    return Finding(
        rule="file-unknown",
        severity=Severity.ERROR,
        message=f"the name {path.name} does not end like that of a part file that can be read"
        f" here: {endings(known)}",
        span=whole_file(shown(path)),
    )


def _not_ordinary(one: Seen) -> Finding:
    return Finding(
        rule="file-not-ordinary",
        severity=Severity.ERROR,
        message="this file is not read: it is a link that leads nowhere, a pipe or a device",
        span=whole_file(one.path),
    )


def _closed(one: Seen) -> Finding:
    return Finding(
        rule="folder-unreadable",
        severity=Severity.ERROR,
        message="this folder can't be read: what is in it is not looked at",
        span=whole_file(one.path),
    )


def _passed(folder: str, why: str, paths: list[str]) -> Finding:
    first = printable(min(paths))
    what = f"{first} is" if len(paths) == 1 else f"{len(paths)} names, the first {first}, are"
    return Finding(
        rule="file-passed-over",
        severity=Severity.NOTE,
        message=f"{what} passed over: {why}",
        span=whole_file(folder),
    )


def _excluded(what: str, names: list[str]) -> str:
    first = min(names)
    files = f"{first} is" if len(names) == 1 else f"{len(names)} files are"
    more = "" if len(names) == 1 else f", the first is {first}"
    return f"{files} left out by {what}{more}"


def _left_out(what: str, where: str, names: list[str]) -> Finding:
    return Finding(
        rule="files-excluded",
        severity=Severity.NOTE,
        message=_excluded(what, names),
        span=whole_file(where),
    )
