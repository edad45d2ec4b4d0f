"""A manifest from its bytes: strict, every fault at its place."""

from collections.abc import Iterable, Iterator
from typing import Final

from pydantic import ValidationError

from translator.documents.fault import Fault, resolve
from translator.documents.head import Head, head_faults
from translator.documents.locate import Json, Path
from translator.documents.strict import parse
from translator.documents.words import shown_name
from translator.findings import Finding, Severity
from translator.release.document import FORMAT, MAJOR, VERSION
from translator.release.manifest import Release
from translator.release.sentences import fault_of
from translator.source import Source

LARGEST_BYTES: Final = 64_000_000
"""20,000 marks in three formats stay at half of it."""

MOST_FAULTS: Final = 50
"""Faults of one manifest that are worded one by one."""

MOST_FIELDS: Final = 64
"""Fields of an object; none has half of them."""

_HEAD: Final = Head(format=FORMAT, major=MAJOR, version=VERSION, holds="release")
_FIELDS: Final = frozenset({"$schema", "format", "version", "caution", "release"})


def load_manifest(source: Source) -> tuple[Release | None, tuple[Finding, ...]]:
    """Read a manifest (JSON, UTF-8); any bytes give findings, never an exception.

    Returns:
        The release, None when a fault keeps it from being one; and all findings.
    """
    tree = parse(source, "manifest", LARGEST_BYTES)
    if not tree.is_sound:
        return None, tree.findings
    faults = list(head_faults(tree.value, _HEAD)) or list(_overfull(tree.value))
    release = None
    if not _has_error(faults):
        release, wrong = _validated(tree.value["release"])
        faults += wrong
        faults += [_unknown(name) for name in tree.value if name not in _FIELDS]
    findings = (*tree.findings, *resolve(tree, faults))
    return (None if _has_error(faults) else release), findings


def _validated(raw: Json) -> tuple[Release | None, list[Fault]]:
    try:
        return Release.model_validate(raw), []
    except ValidationError as error:
        count = error.error_count()
        faults = [fault_of(one) for one in error.errors(include_url=False)[:MOST_FAULTS]]
    if count > MOST_FAULTS:
        message = f"the release has {count} faults, more than are listed"
        faults.append(Fault(rule="field-wrong", message=message, path=("release",)))
    return None, faults


def _overfull(document: Json) -> Iterator[Fault]:
    """Find objects of more fields than any has; the model would complain of each field."""
    waiting: list[tuple[Path, Json]] = [((), document)]
    while waiting:
        path, node = waiting.pop()
        if isinstance(node, dict):
            if len(node) > MOST_FIELDS:
                message = f"an object has {len(node)} fields here, more than {MOST_FIELDS}"
                yield Fault(rule="field-unknown", message=message, path=path)
                return
            steps: Iterable[tuple[str | int, Json]] = node.items()
        else:
            steps = enumerate(node)
        waiting += [((*path, step), m) for step, m in steps if isinstance(m, dict | tuple)]


def _unknown(name: str) -> Fault:
    message = f"the document has no field {shown_name(name)}"
    return Fault(rule="field-unknown", message=message, path=(name,), is_name=True)


def _has_error(faults: list[Fault]) -> bool:
    return any(fault.severity is Severity.ERROR for fault in faults)
