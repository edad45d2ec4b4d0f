"""Hold what lies in a folder against the manifest: every difference is a finding."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import zip_longest
from typing import Final

from msgspec import Struct

from translator.findings import Finding, Severity
from translator.release.document import MANIFEST, SIGNATURE, SUMS
from translator.release.listing import Entry
from translator.release.manifest import Release
from translator.release.sums import sums_text
from translator.source import Span, whole_file

_LONGEST_SUMS_LINE: Final = 200
_KINDS: Final = {
    "link": "a link, and a release holds none",
    "folder": "a folder",
    "other": "no ordinary file",
}


class Own(Struct, frozen=True, kw_only=True):
    """The files that say what a release holds, as they lie there.

    Attributes:
        folder: how the release is called in findings, with forward slashes.
        manifest_sha256: of the manifest.
        sums: the bytes of the list of digests; None when it is not there.
        signature_sha256: of the signature; None when there is none.
    """

    folder: str
    manifest_sha256: str
    sums: bytes | None
    signature_sha256: str | None


def expected_digests(release: Release) -> Mapping[str, str]:
    """Return path and SHA-256 of all files that a manifest names."""
    return {file.path: file.sha256 for file in release.files}


def expected_sizes(release: Release) -> Mapping[str, int | None]:
    """Return path and size of all files that a manifest names."""
    return {file.path: file.bytes for file in release.files}


def differences(release: Release, found: Iterable[Entry], own: Own) -> Iterator[Finding]:
    """Yield a finding for each file that is missing, changed, of another kind, or too many."""
    digests, sizes = expected_digests(release), expected_sizes(release)
    folded = {path.casefold(): path for path in (*digests, MANIFEST, SUMS, SIGNATURE)}
    seen: set[str] = set()
    for entry in found:
        path = entry.path
        if path in digests:
            seen.add(path)
            yield from _compared(entry, digests[path], sizes[path], own)
        elif path in (MANIFEST, SUMS, SIGNATURE):
            if entry.kind != "file":
                yield _about(own, path, "release-file-changed", f"{path} is {_KINDS[entry.kind]}")
        else:
            yield _stranger(entry, folded.get(path.casefold()), own)
    for path in sorted(digests.keys() - seen):
        yield _about(own, path, "release-file-missing", f"{path} is missing")
    yield from _sums_faults(digests, own)


def _compared(entry: Entry, sha256: str, size: int | None, own: Own) -> Iterator[Finding]:
    path = entry.path
    if entry.kind != "file":
        what = f"{path} is {_KINDS[entry.kind]}; a file is expected"
    elif entry.trouble:
        what = f"{path} can't be read: {entry.trouble}"
    elif entry.size != size:
        what = f"{path} has {entry.size} bytes, it had {size} when it was released"
    elif entry.sha256 != sha256:
        what = f"{path} has other bytes than when it was released"
    else:
        return
    yield _about(own, path, "release-file-changed", what)


def _stranger(entry: Entry, alike: str | None, own: Own) -> Finding:
    path, rule = entry.path, "release-file-extra"
    if alike is not None:
        what = f"{path} differs from {alike} in capitals only and is no file of the release"
    elif entry.kind == "folder":
        what = f"the folder {path}, with all that is in it, is no part of the release"
    elif entry.kind == "file":
        what = f"{path} is no file of the release"
    else:
        what = f"{path} is {_KINDS[entry.kind]}, and is no file of the release"
    return _about(own, path, rule, what)


def _sums_faults(digests: Mapping[str, str], own: Own) -> Iterator[Finding]:
    if own.sums is None:
        yield _about(own, SUMS, "release-file-missing", f"{SUMS} is missing")
        return
    whole = {**digests, MANIFEST: own.manifest_sha256}
    if own.signature_sha256 is not None:
        whole[SIGNATURE] = own.signature_sha256
    fresh = sums_text(whole).encode()
    if own.sums == fresh:
        return
    signed_later = {path: digest for path, digest in whole.items() if path != SIGNATURE}
    if own.signature_sha256 is not None and own.sums == sums_text(signed_later).encode():
        what = f"{SIGNATURE} is no file of the release: {SUMS} does not name it"
        yield _about(own, SIGNATURE, "release-file-extra", what)
        return
    if own.signature_sha256 is None and f"  {SIGNATURE}\n".encode() in own.sums:
        what = f"{SIGNATURE} is missing, {SUMS} names it"
        yield _about(own, SIGNATURE, "release-file-missing", what)
        return
    yield _first_line(own.sums, fresh, own)


def _first_line(sums: bytes, fresh: bytes, own: Own) -> Finding:
    """Say on which line a list of digests is not the one that the manifest makes."""
    pairs = zip_longest(sums.split(b"\n"), fresh.split(b"\n"))
    number = next((n for n, (is_, was) in enumerate(pairs, start=1) if is_ != was), 1)
    lines = fresh.split(b"\n")
    due = lines[number - 1].decode() if number <= len(lines) else ""
    says = f"it must be {due!r}" if due else "nothing more may stand there"
    message = f"line {number} of {SUMS} is not what the files and the manifest give; {says}"
    span = Span(f"{own.folder}/{SUMS}", number, 1, number, 1)
    return _finding("release-sums-differ", message, span)


def _about(own: Own, path: str, rule: str, message: str) -> Finding:
    return _finding(rule, message, whole_file(f"{own.folder}/{path}"))


def _finding(rule: str, message: str, span: Span) -> Finding:
    return Finding(rule=rule, severity=Severity.ERROR, message=message, span=span, unit="")
