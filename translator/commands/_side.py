"""One side of a comparison: a delivery, or what a release hands out."""

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

from msgspec.structs import replace

from translator.commands._delivery import Delivery, take
from translator.commands._options import STDIN, Wanted

if TYPE_CHECKING:
    from translator.changes import Side, Unread
    from translator.findings import Finding
    from translator.release.manifest import Release

_READABLE: Final = ("json", "bmk", "nc")
"""Formats of released files, the one that holds most of a part first."""


def side(wanted: Wanted, name: str) -> "Side":
    """Read one side.

    Args:
        wanted: its one path, and the options.
        name: what messages call it.

    Raises:
        WorkError: when nothing of it can be read, or its settings have errors.
    """
    path = wanted.paths[0]
    if path != STDIN and _is_release(Path(path)):
        return _released(wanted, name)
    return _delivered(take(wanted), path, name)


def _is_release(path: Path) -> bool:
    from translator.release.document import MANIFEST

    return (path / MANIFEST).is_file()


def _delivered(delivery: Delivery, path: str, name: str) -> "Side":
    from translator.batch.older import unread
    from translator.changes import Side
    from translator.errors import WorkError

    verdict = delivery.outcome.verdict
    if delivery.has_bad_settings:
        fault = next(f for own in delivery.configurations for f in own.findings)
        raise WorkError(f"the settings of {name} have errors: {fault.span.path}: {fault.message}")
    lost = unread(verdict)
    if not delivery.outcome.parts:
        raise WorkError(f"no part of {name} ({path}) can be read{_first(lost)}")
    return Side(
        name="standard input" if path == STDIN else path.rstrip("/") or path,
        parts=delivery.outcome.parts,
        unread=tuple(_unread(finding) for finding in lost),
        not_ours=verdict.not_ours,
        nc_files=frozenset(i.source.path for i in delivery.inputs if i.reader.name == "nc"),
        doubtful=tuple(_doubtful(delivery, lost)),
    )


def _first(lost: "tuple[Finding, ...]") -> str:
    if not lost:
        return ""
    span = lost[0].span
    more = f" (and {len(lost) - 1} more)" if len(lost) > 1 else ""
    return f": {span.path}:{span.line}: {lost[0].message}{more}"


def _unread(finding: "Finding") -> "Unread":
    from translator.changes import Unread

    span = finding.span
    return Unread(path=span.path, line=span.line, mark=finding.mark, why=finding.message)


def _doubtful(delivery: Delivery, lost: "tuple[Finding, ...]") -> Iterator[str]:
    """Yield files with an error outside any known part, of which parts were read all the same."""
    from translator.findings import Severity

    told = {finding.span.path for finding in lost if not finding.mark}
    verdict = delivery.outcome.verdict
    errors = (f for f in verdict.findings if f.severity is Severity.ERROR and f.waived is None)
    yield from dict.fromkeys(
        f.span.path
        for f in errors
        if not f.mark and f.span.path in verdict.files and f.span.path not in told
    )


def _released(wanted: Wanted, name: str) -> "Side":
    """Read the files that a release hands out, in the format that holds most of a part."""
    from translator.changes import Unread
    from translator.errors import WorkError
    from translator.release.document import FILES, MANIFEST

    folder = Path(wanted.paths[0])
    release = _manifest(folder, name)
    form = next((f for f in _READABLE if f in release.options.formats), None)
    if form is None:
        known = ", ".join(release.options.formats)
        raise WorkError(
            f"{name} ({folder.as_posix()}) holds no files that can be read back, only {known}"
        )
    inside = folder / FILES / form
    if not inside.is_dir():
        raise WorkError(f"{name} ({folder.as_posix()}) lacks its folder {FILES}/{form}")
    delivery = take(replace(wanted, paths=(inside.as_posix(),)))
    read = _delivered(delivery, folder.as_posix(), name)
    manifest = (folder / MANIFEST).as_posix()
    held = tuple(
        Unread(path=manifest, line=1, mark=m.mark, why=m.reason or "", is_held=True)
        for m in release.marks
        if m.status == "on hold"
    )
    untrue = tuple(_untrue(delivery, folder, release, f"{FILES}/{form}/", name))
    return replace(read, unread=(*read.unread, *held), remarks=untrue)


def _manifest(folder: Path, name: str) -> "Release":
    from translator.batch.discover import reason
    from translator.errors import WorkError
    from translator.release.document import MANIFEST
    from translator.release.load import LARGEST_BYTES, load_manifest
    from translator.source import Source

    path = folder / MANIFEST
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise WorkError(f"can't read {path.as_posix()}: {reason(error)}") from error
    release, findings = load_manifest(Source(path=path.as_posix(), data=data))
    if release is None:
        why = findings[0].message if findings else "it is not understood"
        raise WorkError(f"the manifest of {name} ({path.as_posix()}) has errors: {why}")
    return release


def _untrue(
    delivery: Delivery, folder: Path, release: "Release", inside: str, name: str
) -> Iterator[str]:
    """Say which files are not those that the manifest lists; compare does not verify more."""
    listed = {
        (folder / file.path).as_posix(): file.sha256
        for file in release.outputs
        if file.path.startswith(inside)
    }
    read = {
        path: hashlib.sha256(delivery.sources[path]).hexdigest()
        for path in delivery.outcome.verdict.files
    }
    wrong = sorted(path for path in {**listed, **read} if listed.get(path) != read.get(path))
    if wrong:
        more = f" and {len(wrong) - 1} more differ" if len(wrong) > 1 else " differs"
        yield (
            f"{name} is not as it was released: {wrong[0]}{more} from the manifest;"
            " run backmark verify"
        )
