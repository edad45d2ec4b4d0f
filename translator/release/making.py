"""The bytes of the files that say what a release holds."""

from collections.abc import Mapping

from translator.errors import WorkError
from translator.findings import CAUTION
from translator.json_text import json_text
from translator.release.document import FORMAT, MANIFEST, SIGNATURE, VERSION
from translator.release.load import load_manifest
from translator.release.manifest import Release
from translator.release.sums import sums_text
from translator.source import Source


def manifest_bytes(release: Release) -> bytes:
    """Return the manifest as it is written; it is read back, and must say the same.

    Raises:
        WorkError: when it can't be read back: the set is too large for one release.
    """
    document = {
        "format": FORMAT,
        "version": VERSION,
        "caution": CAUTION,
        "release": release.model_dump(mode="json", exclude_defaults=True),
    }
    data = json_text(document).encode()
    read, findings = load_manifest(Source(path=MANIFEST, data=data))
    if read != release:
        why = findings[0].message if findings else "it reads back differently"
        raise WorkError(f"the manifest of this release could not be read again: {why}")
    return data


def sums_bytes(
    digests: Mapping[str, str], manifest_sha256: str, signature_sha256: str | None
) -> bytes:
    """Return the list of digests of all files, the manifest's and the signature's among them."""
    whole = {**digests, MANIFEST: manifest_sha256}
    if signature_sha256 is not None:
        whole[SIGNATURE] = signature_sha256
    return sums_text(whole).encode()
