"""A machine document to its profile: strict, every fault at its place."""

from typing import Final

from pydantic import ValidationError

from translator.documents.fault import Fault, resolve
from translator.documents.head import Head, head_faults
from translator.documents.locate import Json
from translator.documents.strict import parse
from translator.documents.words import shown_name
from translator.findings import Finding, Severity
from translator.machines.document import FORMAT, MAJOR, VERSION
from translator.machines.profile import Machine
from translator.machines.sentences import fault_of
from translator.source import Source

MOST_FAULTS: Final = 100
"""Faults of one profile that are worded one by one."""

_HEAD: Final = Head(format=FORMAT, major=MAJOR, version=VERSION, holds="machine")
_FIELDS: Final = frozenset({"$schema", "format", "version", "caution", "machine"})


def load_machine(source: Source) -> tuple[Machine | None, tuple[Finding, ...]]:
    """Read one machine profile (JSON, UTF-8).

    An unknown field is an error, for a limit that is misspelt would be no limit.

    Returns:
        The profile, None when a fault keeps it from being one; and all findings.
    """
    tree = parse(source, "machine profile")
    if not tree.is_sound:
        return None, tree.findings
    faults = list(head_faults(tree.value, _HEAD))
    machine = None
    if not _has_error(faults):
        machine, wrong = _validated(tree.value["machine"])
        faults += wrong
        faults += [_unknown(name) for name in tree.value if name not in _FIELDS]
    findings = (*tree.findings, *resolve(tree, faults))
    return (None if _has_error(faults) else machine), findings


def _validated(raw: Json) -> tuple[Machine | None, tuple[Fault, ...]]:
    try:
        return Machine.model_validate(raw), ()
    except ValidationError as error:
        errors = error.errors(include_url=False)
    faults = [fault_of(error, raw) for error in errors[:MOST_FAULTS]]
    if len(errors) > MOST_FAULTS:
        message = f"the machine has {len(errors)} faults, more than are listed"
        faults.append(Fault(rule="field-wrong", message=message, path=("machine",)))
    return None, tuple(faults)


def _unknown(name: str) -> Fault:
    message = f"the document has no field {shown_name(name)}"
    return Fault(rule="field-unknown", message=message, path=(name,), is_name=True)


def _has_error(faults: list[Fault]) -> bool:
    return any(fault.severity is Severity.ERROR for fault in faults)
