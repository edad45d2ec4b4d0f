"""What a run leaves out: parts that could not be read, and files of earlier runs of them."""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final

from msgspec import Struct

from translator.batch.discover import shown
from translator.batch.outputs import file_name
from translator.emitters import Emitter
from translator.findings import Finding, Severity, Verdict
from translator.model import LegName
from translator.source import Span

RULE: Final = "older-output"

_LEGS: Final[tuple[LegName, ...]] = ("a", "b", "face")


class Owner(Struct, frozen=True, kw_only=True):
    """A part, where it stands, and the stems that its files have or would have had."""

    mark: str
    span: Span
    stems: tuple[str, ...]


def older_files(
    folder: Path, owners: Iterable[Owner], formats: Sequence[Emitter], written: Iterable[str]
) -> tuple[tuple[str, Finding], ...]:
    """Return the files in an output folder that look like output of this run and are not.

    A file that an earlier run made of a part stays where it is when this run refuses the part
    or makes other files of it; nobody sees by its name that it is old.

    Args:
        folder: the output folder; it may be missing.
        owners: the parts of this run.
        formats: the formats asked for.
        written: the names in the folder that this run wrote or read.

    Returns:
        Path of each such file, with the warning on its part (one for each part).
    """
    there = _names(folder) - set(written)
    found: list[tuple[str, Finding]] = []
    for owner in owners:
        names = dict.fromkeys(
            name for stem in owner.stems for name in _possible(stem, formats) if name in there
        )
        there -= set(names)
        paths = [shown(folder / name) for name in names]
        found += [(path, _warning(owner, paths)) for path in paths]
    return tuple(found)


def _names(folder: Path) -> set[str]:
    try:
        return {path.name for path in folder.iterdir()}
    except OSError:  # no folder, so nothing old in it
        return set()


def _possible(stem: str, formats: Iterable[Emitter]) -> Iterator[str]:
    """Yield all names of a part's files; an angle may have been a flat bar before."""
    for emitter in formats:
        for leg in _LEGS if emitter.per_leg else (None,):
            yield file_name(stem, emitter, leg)


def _warning(owner: Owner, paths: Sequence[str]) -> Finding:
    were, them = ("was", "it") if len(paths) == 1 else ("were", "them")
    return Finding(
        rule=RULE,
        severity=Severity.WARNING,
        message=f"{' and '.join(paths)} {were} there before: this run did not write {them}",
        span=owner.span,
        mark=owner.mark,
    )


def unread(verdict: Verdict) -> tuple[Finding, ...]:
    """Return the first error of each part that is not among the parts read.

    The mark of a part that a reader could not tell is ""; that counts only for a file of
    which no part was read and no mark is known.
    """
    pieces = set(verdict.pieces)
    files = set(verdict.files)
    first: dict[tuple[str, str], Finding] = {}
    for finding in verdict.findings:
        key = (finding.span.path, finding.mark)
        is_open = finding.severity is Severity.ERROR and finding.waived is None
        if is_open and key[0] in files and key not in pieces:
            first.setdefault(key, finding)
    known = {path for path, _ in pieces} | {path for path, mark in first if mark}
    return tuple(f for (path, mark), f in first.items() if mark or path not in known)
