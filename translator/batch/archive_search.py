"""The part files of a zip archive, and a word on everything else that is in it."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final, NamedTuple

from msgspec import Struct

from translator.batch.archive_list import Listed, listed
from translator.batch.archives import (
    DEFLATED,
    HIGHEST_RATIO,
    INSIDE,
    LARGEST_ARCHIVE_BYTES,
    LARGEST_ENTRY_BYTES,
    LARGEST_UNPACKED_BYTES,
    SMALL_BYTES,
    STORED,
    ArchiveError,
)
from translator.batch.input_file import InputFile, claimed_by
from translator.batch.paths import shown
from translator.findings import Finding, Severity
from translator.readers import Reader
from translator.source import printable, whole_file

ARCHIVES: Final = (".zip", ".7z", ".rar", ".tar", ".tgz", ".gz", ".bz2", ".xz", ".zst")
"""Ends of the names of archives, to say that one is not opened."""

MOST_NAMED: Final = 10
"""Files with the same fault that are named one by one; of more, the rest is counted."""

_SETTINGS: Final = ("backmark.toml", "waivers.toml")
_DRIVE: Final = re.compile(r"[A-Za-z]:")
_LEAST_PLACE: Final = 30
"""Bytes of the header before each file's own."""


class Inside(Struct, frozen=True, kw_only=True):
    """What an archive holds.

    Attributes:
        files: its part files that may be read, in the order of its list.
        findings: what is to be said about it and what is in it.
        part_files: how many part files were seen, those that may not be read included.
    """

    files: tuple[InputFile, ...]
    findings: tuple[Finding, ...]
    part_files: int


class _Fault(NamedTuple):
    rule: str
    text: str
    value: float | None = None
    limit: float | None = None


def inside(
    archive: Path,
    known: tuple[Reader, ...],
    is_wanted: Callable[[Sequence[str]], bool],
    *,
    is_named: bool,
) -> Inside:
    """Find the part files of an archive; nothing is unpacked.

    Args:
        archive: the file.
        known: the readers.
        is_wanted: whether the file of a way (the names from the archive's top) is asked for.
        is_named: whether the caller named the archive, so that need not be told.
    """
    path = shown(archive)
    try:
        every = [one for one in listed(archive) if not one.is_folder]
    except ArchiveError as error:
        text = f"this archive is not read: {error}"
        fault = _Fault("archive-unreadable", text, error.value, error.limit)
        return Inside(files=(), findings=(_finding(path, fault),), part_files=0)
    asked = [
        (one, claimed_by(steps[-1], known))
        for one in every
        if not _is_hidden(steps := one.entry.name.split("/")) and is_wanted(steps)
    ]
    claimed = [(one, reader) for one, reader in asked if reader is not None]
    others = [one for one, reader in asked if reader is None]
    faults = _faults([one for one, _ in claimed], every)
    sound = [(one, reader) for one, reader in claimed if one not in faults]
    findings = [*_grouped(path, faults), *_remarks(path, claimed, others, is_named=is_named)]
    total = sum(one.entry.size for one, _ in sound)
    if total > LARGEST_UNPACKED_BYTES:
        findings.append(_finding(path, _bomb(total)))
        sound = []
    files = (InputFile(path=path, reader=reader, entry=one.entry) for one, reader in sound)
    return Inside(files=tuple(files), findings=tuple(findings), part_files=len(claimed))


def refusal(one: Listed) -> _Fault | None:
    """Return why a file in an archive may not be read, by itself; None when it may."""
    return next((fault for check in _CHECKS if (fault := check(one))), None)


def _is_hidden(steps: Sequence[str]) -> bool:
    """Tell whether a file is passed over like a hidden one in a folder."""
    return any(step.startswith(".") and step not in (".", "..") for step in steps)


def _faults(claimed: Sequence[Listed], every: Iterable[Listed]) -> dict[Listed, _Fault]:
    names: dict[str, int] = {}
    for one in claimed:
        names[one.entry.name] = names.get(one.entry.name, 0) + 1
    shared = _sharing(every)
    faults: dict[Listed, _Fault] = {}
    for one in claimed:
        fault = refusal(one)
        count = names[one.entry.name]
        if fault is None and count > 1:
            text = f"the archive holds {count} files of this name; which one counts is open"
            fault = _Fault("archive-name-twice", text, count, 1)
        if fault is None and one.entry.offset in shared:
            text = "its bytes are also those of another file in the archive"
            fault = _Fault("archive-bytes-shared", text)
        if fault is not None:
            faults[one] = fault
    return faults


def _sharing(every: Iterable[Listed]) -> set[int]:
    """Return the places of files that reach into the next one's bytes, and of those."""
    entries = sorted((one.entry.offset, one.entry.packed) for one in every)
    shared: set[int] = set()
    end, last = 0, -1
    for offset, packed in entries:
        if offset < end:
            shared |= {offset, last}
        end, last = max(end, offset + _LEAST_PLACE + packed), offset
    return shared


def _odd_name(one: Listed) -> _Fault | None:
    name, rule = one.entry.name, "archive-name-odd"
    if not name.isprintable():
        return _Fault(rule, "its name holds signs that can't be seen")
    if name.startswith("/") or _DRIVE.match(name):
        return _Fault(rule, "its name begins at the top of a disk, not of the archive")
    if not {"", ".", ".."}.isdisjoint(name.split("/")):
        return _Fault(rule, "its name holds a step that is empty, `.` or `..`")
    return None


def _locked(one: Listed) -> _Fault | None:
    if one.is_encrypted:
        return _Fault("archive-encrypted", "it is encrypted; send it without a password")
    return None


def _not_ordinary(one: Listed) -> _Fault | None:
    if not one.is_ordinary:
        return _Fault("archive-link", "it is a link or a device, no ordinary file")
    return None


def _oddly_packed(one: Listed) -> _Fault | None:
    if one.entry.method not in (STORED, DEFLATED):
        text = (
            f"it is packed by method {one.entry.method}; only methods {STORED} (stored) and"
            f" {DEFLATED} (deflated) are read"
        )
        return _Fault("archive-packing-unknown", text)
    return None


def _too_large(one: Listed) -> _Fault | None:
    size, packed = one.entry.size, one.entry.packed
    most = max(size, packed)
    if most > LARGEST_ENTRY_BYTES:
        limit = LARGEST_ENTRY_BYTES
        text = f"it has {most} bytes, more than the {limit} that a part file may have"
        return _Fault("archive-too-large", text, most, limit)
    if size > SMALL_BYTES and size > packed * HIGHEST_RATIO:
        text = (
            f"its {packed} bytes unpack to {size}, more than {HIGHEST_RATIO} for each, as no"
            " part file does"
        )
        return _Fault("archive-too-large", text, size / max(packed, 1), HIGHEST_RATIO)
    return None


def _misplaced(one: Listed) -> _Fault | None:
    if one.entry.offset > LARGEST_ARCHIVE_BYTES:
        return _Fault("archive-damaged", "its bytes would lie behind the end of any archive")
    return None


_CHECKS: Final = (_odd_name, _locked, _not_ordinary, _oddly_packed, _too_large, _misplaced)


def _bomb(total: int) -> _Fault:
    limit = LARGEST_UNPACKED_BYTES
    text = (
        f"its part files come to {total} bytes unpacked, more than the {limit} that those of an"
        " archive may have: none is read"
    )
    return _Fault("archive-too-large", text, total, limit)


def _grouped(path: str, faults: dict[Listed, _Fault]) -> Iterator[Finding]:
    """Say the faults of single files; of many files with one fault the first are named."""
    kinds: dict[str, list[tuple[str, _Fault]]] = {}
    for one, fault in faults.items():
        kinds.setdefault(fault.rule, []).append((f"{path}{INSIDE}{one.entry.name}", fault))
    for rule, said in kinds.items():
        said.sort(key=lambda each: each[0])
        for name, fault in said[:MOST_NAMED]:
            text = f"this file is not read: {fault.text}"
            yield _finding(name, _Fault(rule, text, fault.value, fault.limit))
        rest = len(said) - MOST_NAMED
        if rest > 0:
            text = f"{rest} more part files in this archive are not read for the same fault"
            yield _finding(path, _Fault(rule, text, rest))


def _remarks(
    path: str,
    claimed: Sequence[tuple[Listed, str]],
    others: Sequence[Listed],
    *,
    is_named: bool,
) -> Iterator[Finding]:
    """Say what in an archive is no part file, and what was done to names."""
    names = sorted(one.entry.name for one in others)
    nested = [name for name in names if name.lower().endswith(ARCHIVES)]
    if nested:
        text = f"{_counted(nested, 'archive')} in it: an archive in an archive is not opened"
        yield _finding(path, _Fault("archive-in-archive", text), Severity.WARNING)
    settings = [name for name in names if name.rpartition("/")[2] in _SETTINGS]
    if settings:
        text = (
            f"{_counted(settings, 'file')} of settings or waivers in it: not read, those of the"
            " folder that the archive lies in count"
        )
        yield _finding(path, _Fault("archive-settings", text), Severity.WARNING)
    spelt = [one.entry.name for one, _ in claimed if one.has_backslash]
    if spelt:
        text = f"{_counted(spelt, 'name')} with backslashes in it, read as slashes"
        yield _finding(path, _Fault("archive-name-spelt", text), Severity.NOTE)
    guessed = [one.entry.name for one, _ in claimed if one.is_guessed]
    if guessed:
        text = f"{_counted(guessed, 'name')} in it that are not said to be UTF-8: letters guessed"
        yield _finding(path, _Fault("archive-name-guessed", text), Severity.NOTE)
    rest = [name for name in names if name not in {*nested, *settings}]
    if rest or not is_named:
        count = len(claimed)
        text = f"{count} part file{'s' * (count != 1)} in it" if count else "no part file in it"
        text += f"; beside {_counted(rest, 'other file')}" if rest else ""
        yield _finding(path, _Fault("archive-read", text), Severity.NOTE)


def _counted(names: Sequence[str], what: str) -> str:
    first = printable(min(names))
    return f"1 {what} ({first})" if len(names) == 1 else f"{len(names)} {what}s (first {first})"


def _finding(path: str, fault: _Fault, severity: Severity = Severity.ERROR) -> Finding:
    return Finding(
        rule=fault.rule,
        severity=severity,
        message=fault.text,
        span=whole_file(path),
        value=fault.value,
        limit=fault.limit,
        unit="",
    )
