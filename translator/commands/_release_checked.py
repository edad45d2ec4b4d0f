"""A release looked at on the disk: what its manifest says, and what of it does not hold."""

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from translator.findings import Finding
    from translator.release.manifest import Release


class Checked(Struct, frozen=True, kw_only=True):
    """A release and its faults.

    Attributes:
        folder: where it lies.
        release: what its manifest says; None when that can't be read.
        manifest: the bytes of the manifest.
        signature: the bytes of the signature; None when there is none.
        findings: every difference, in the order of the files.
    """

    folder: Path
    release: "Release | None"
    manifest: bytes
    signature: bytes | None
    findings: "tuple[Finding, ...]"

    @property
    def manifest_sha256(self) -> str:
        """SHA-256 of the manifest."""
        return hashlib.sha256(self.manifest).hexdigest()


def look_at(folder: Path) -> Checked:
    """Hold every file of a release against its manifest.

    Nothing outside the folder is opened, whatever the manifest says.

    Raises:
        WorkError: when there is no release at all, or a folder can't be read.
    """
    from translator.batch.discover import shown
    from translator.findings import Finding, Severity, in_order
    from translator.release.checking import Own, differences, expected_sizes
    from translator.release.document import MANIFEST, SIGNATURE, SUMS
    from translator.release.listing import entries
    from translator.release.load import LARGEST_BYTES, load_manifest
    from translator.release.signing import LENGTH
    from translator.source import Source, whole_file

    _refuse_strange(folder)
    name = f"{shown(folder)}/{MANIFEST}"
    manifest = _own(folder, MANIFEST, LARGEST_BYTES)
    if manifest is None:
        message = f"{MANIFEST} is missing: without it nothing can be proved"
        fault = Finding(
            rule="release-file-missing",
            severity=Severity.ERROR,
            message=message,
            span=whole_file(name),
            unit="",
        )
        return Checked(folder=folder, release=None, manifest=b"", signature=None, findings=(fault,))
    release, said = load_manifest(Source(path=name, data=manifest))
    signature = _own(folder, SIGNATURE, LENGTH + 1)
    findings = list(said)
    if release is not None:
        own = Own(
            folder=shown(folder),
            manifest_sha256=hashlib.sha256(manifest).hexdigest(),
            sums=_own(folder, SUMS, LARGEST_BYTES),
            signature_sha256=None if signature is None else hashlib.sha256(signature).hexdigest(),
        )
        findings += differences(release, entries(folder, expected_sizes(release)), own)
    return Checked(
        folder=folder,
        release=release,
        manifest=manifest,
        signature=signature,
        findings=in_order(findings),
    )


def _refuse_strange(folder: Path) -> None:
    """Refuse a folder that is none, or in which there is nothing of a release.

    Raises:
        WorkError: says so.
    """
    from translator.batch.discover import shown
    from translator.errors import WorkError
    from translator.release.placing import holds_release

    if not folder.is_dir():
        raise WorkError(f"there is no folder {shown(folder)}")
    if not holds_release(folder):
        raise WorkError(f"the folder {shown(folder)} holds no release")


def _own(folder: Path, name: str, most: int) -> bytes | None:
    """Return the bytes of one of the release's own files; None when it is not there."""
    from translator.batch.discover import shown
    from translator.errors import WorkError
    from translator.release.listing import read_file

    path = folder / name
    if path.is_symlink():
        raise WorkError(f"{shown(path)} is a link, and a release holds none")
    return read_file(folder, name, most) if path.exists() else None
