"""What stands around the one thing that a document holds: format, version, caution."""

import re
from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.words import shown
from translator.findings import Severity

_VERSION: Final = re.compile(r"([0-9]{1,4})\.([0-9]{1,4})")


class Head(Struct, frozen=True, kw_only=True):
    """What a kind of document must say of itself.

    Attributes:
        format: what stands in the field ``format``.
        major: the number of the version before the point that can be read.
        version: the version known here.
        holds: name of the field that holds the thing itself.
    """

    format: str
    major: int
    version: str
    holds: str


def head_faults(document: Json, head: Head) -> Iterator[Fault]:
    """Check what stands around the thing; nothing else is looked at before this is right."""
    if not isinstance(document, dict):
        message = f"the document is {shown(document)}, it must be one object that holds one"
        yield _wrong(f"{message} {head.holds}", ())
        return
    if "format" not in document:
        yield _missing(f'format is missing, it must be "{head.format}"')
    elif document["format"] != head.format:
        shown_format = shown(document["format"])
        yield _wrong(f'format is {shown_format}, it must be "{head.format}"', ("format",))
    if "version" not in document:
        yield _missing(f'version is missing, it must be "{head.major}." and a number')
    else:
        yield from _version_faults(document["version"], head)
    if not isinstance(document.get("caution", ""), str):
        shown_caution = shown(document["caution"])
        yield _wrong(
            f"caution is {shown_caution}, it must be a text in double quotes", ("caution",)
        )
    if head.holds not in document:
        yield _missing(f"{head.holds} is missing, it must be an object")
    elif not isinstance(document[head.holds], dict):
        held = shown(document[head.holds])
        yield _wrong(f"{head.holds} is {held}, it must be an object", (head.holds,))


def _version_faults(said: Json, head: Head) -> Iterator[Fault]:
    match = _VERSION.fullmatch(said) if isinstance(said, str) else None
    if match is None:
        message = f'version is {shown(said)}, it must be a text like "{head.version}"'
        yield _wrong(message, ("version",))
    elif int(match[1]) != head.major:
        yield Fault(
            rule="version-unknown",
            message=f"version is {shown(said)}, only versions {head.major}.x can be read",
            path=("version",),
        )
    elif said != head.version:
        yield Fault(
            rule="version-newer",
            message=f"version is {shown(said)}, newer than the {head.version} known here; fields"
            " added since are reported as unknown",
            path=("version",),
            severity=Severity.NOTE,
        )


def _missing(message: str) -> Fault:
    return Fault(rule="field-missing", message=message, path=())


def _wrong(message: str, path: Path) -> Fault:
    return Fault(rule="field-wrong", message=message, path=path)
