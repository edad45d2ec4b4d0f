"""A machine document to its profile: strict, every fault at its place."""

from itertools import islice
from typing import Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

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

LARGEST_BYTES: Final = 250_000
"""A machine with a thousand tools stays below."""

MOST_FAULTS: Final = 100
"""Faults of one profile that are worded one by one."""

_MOST_ENTRIES: Final = 60
"""Entries of a list or an object that are looked at in a profile full of faults."""

_HEAD: Final = Head(format=FORMAT, major=MAJOR, version=VERSION, holds="machine")
_FIELDS: Final = frozenset({"$schema", "format", "version", "caution", "machine"})


def load_machine(source: Source) -> tuple[Machine | None, tuple[Finding, ...]]:
    """Read one machine profile (JSON, UTF-8).

    An unknown field is an error, for a limit that is misspelt would be no limit.

    Returns:
        The profile, None when a fault keeps it from being one; and all findings.
    """
    tree = parse(source, "machine profile", LARGEST_BYTES)
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
        count, errors = error.error_count(), _errors(error, raw)
    faults = [fault_of(error, raw) for error in errors if _is_own(error)]
    if count > MOST_FAULTS:
        message = f"the machine has {count} faults, more than are listed"
        faults.append(Fault(rule="field-wrong", message=message, path=("machine",)))
    return None, tuple(faults)


def _errors(error: ValidationError, raw: Json) -> list[ErrorDetails]:
    """Return the first complaints; of very many those of a profile cut short."""
    if error.error_count() <= MOST_FAULTS:
        return error.errors(include_url=False)
    try:
        Machine.model_validate(_shortened(raw))
    except ValidationError as fewer:
        return fewer.errors(include_url=False)[:MOST_FAULTS]
    return []


def _shortened(value: Json) -> Json:
    if isinstance(value, dict):
        return {k: _shortened(v) for k, v in islice(value.items(), _MOST_ENTRIES)}
    if isinstance(value, tuple):
        return tuple(_shortened(member) for member in value[:_MOST_ENTRIES])
    return value


def _is_own(error: ErrorDetails) -> bool:
    """Tell whether a complaint is no echo: a list counts as short when its entries are wrong."""
    is_list = error["type"] == "too_short" and isinstance(error["input"], tuple)
    return not is_list or len(error["input"]) < error["ctx"]["min_length"]


def _unknown(name: str) -> Fault:
    message = f"the document has no field {shown_name(name)}"
    return Fault(rule="field-unknown", message=message, path=(name,), is_name=True)


def _has_error(faults: list[Fault]) -> bool:
    return any(fault.severity is Severity.ERROR for fault in faults)
