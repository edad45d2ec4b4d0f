"""A document's tree to its part, places and findings."""

from typing import Final

from translator.conventions import Conventions
from translator.documents.fault import Fault
from translator.documents.head import Head, head_faults
from translator.documents.locate import Json, Path
from translator.documents.strict import Tree
from translator.findings import Severity
from translator.model import Part, Placed
from translator.model.document import FORMAT, MAJOR, VERSION
from translator.readers._reader import Reading
from translator.readers.part_json._fault import resolve
from translator.readers.part_json._places import Places
from translator.readers.part_json._shape import shape
from translator.readers.part_json._stale import stale_faults
from translator.readers.part_json._unknown import unknown_faults

_HEAD: Final = Head(format=FORMAT, major=MAJOR, version=VERSION, holds="part")
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
    faults = list(head_faults(document, _HEAD))
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
