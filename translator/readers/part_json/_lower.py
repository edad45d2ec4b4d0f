"""A document's tree to its part, places and findings."""

import re
from collections.abc import Iterator
from typing import Final

from translator.conventions import Conventions
from translator.documents.locate import Json, Path
from translator.documents.strict import Tree
from translator.documents.words import shown
from translator.findings import Severity
from translator.model import Part, Placed
from translator.model.document import FORMAT, MAJOR, VERSION
from translator.readers._reader import Reading
from translator.readers.part_json._fault import Fault, resolve
from translator.readers.part_json._places import Places
from translator.readers.part_json._shape import shape
from translator.readers.part_json._stale import stale_faults
from translator.readers.part_json._unknown import unknown_faults

_VERSION: Final = re.compile(r"([0-9]{1,4})\.([0-9]{1,4})")
_FIELDS: Final = frozenset({"format", "version", "caution", "part", "computed"})


def lower(tree: Tree, conventions: Conventions) -> Reading:
    """Turn a tree into the one part it holds.

    The part is there although fields were unknown or what was computed is stale, so that
    rules can speak of it too; the findings say whether it may be used.
    """
    if not tree.is_sound:
        return Reading(findings=tree.findings)
    part, faults = _read(tree.value, is_strict=conventions.strict == "yes")
    findings = (*tree.findings, *resolve(tree, faults))
    if part is None:
        return Reading(findings=findings)
    return Reading(parts=(Placed(part=part, places=Places(tree, part)),), findings=findings)


def _read(document: Json, *, is_strict: bool) -> tuple[Part | None, tuple[Fault, ...]]:
    if not isinstance(document, dict):
        message = f"the document is {shown(document)}, it must be one object that holds one part"
        return None, (_wrong(message, ()),)
    faults = list(_head_faults(document))
    if any(fault.severity is Severity.ERROR for fault in faults):
        return None, tuple(faults)
    shaped = shape(document["part"])
    faults += shaped.faults
    unknown: list[Path] = [(name,) for name in document if name not in _FIELDS]
    unknown += shaped.unknown
    if shaped.part is not None and "computed" in document:
        stale, beside = stale_faults(shaped.part, document["computed"])
        faults += stale
        unknown += beside
    said, carried = unknown_faults(document, unknown, is_strict=is_strict)
    return _with_carried(shaped.part, carried), (*faults, *said)


def _with_carried(part: Part | None, carried: tuple[str, ...]) -> Part | None:
    if part is None or not carried:
        return part
    fields = {name: getattr(part, name) for name in Part.model_fields}
    return Part(**{**fields, "carried": (*part.carried, *carried)})


def _head_faults(document: dict[str, Json]) -> Iterator[Fault]:
    """Check what stands around the part; nothing else is looked at before this is right."""
    said = document.get("format")
    if "format" not in document:
        yield _missing(f'format is missing, it must be "{FORMAT}"')
    elif said != FORMAT:
        yield _wrong(f'format is {shown(said)}, it must be "{FORMAT}"', ("format",))
    if "version" not in document:
        yield _missing(f'version is missing, it must be "{MAJOR}." and a number')
    else:
        yield from _version_faults(document["version"])
    if not isinstance(document.get("caution", ""), str):
        shown_caution = shown(document["caution"])
        yield _wrong(
            f"caution is {shown_caution}, it must be a text in double quotes", ("caution",)
        )
    if "part" not in document:
        yield _missing("part is missing, it must be an object")
    elif not isinstance(document["part"], dict):
        yield _wrong(f"part is {shown(document['part'])}, it must be an object", ("part",))


def _version_faults(said: Json) -> Iterator[Fault]:
    match = _VERSION.fullmatch(said) if isinstance(said, str) else None
    if match is None:
        message = f'version is {shown(said)}, it must be a text like "{VERSION}"'
        yield _wrong(message, ("version",))
    elif int(match[1]) != MAJOR:
        yield Fault(
            rule="version-unknown",
            message=f"version is {shown(said)}, only versions {MAJOR}.x can be read",
            path=("version",),
        )
    elif said != VERSION:
        yield Fault(
            rule="version-newer",
            message=f"version is {shown(said)}, newer than the {VERSION} known here; fields"
            " added since are reported as unknown",
            path=("version",),
            severity=Severity.NOTE,
        )


def _missing(message: str) -> Fault:
    return Fault(rule="field-missing", message=message, path=())


def _wrong(message: str, path: Path) -> Fault:
    return Fault(rule="field-wrong", message=message, path=path)
