"""The model's complaints about a manifest, as sentences a person understands."""

from typing import Final

from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Path
from translator.documents.sentences import fault_at
from translator.documents.words import shown, shown_path

_PATTERNS: Final = {
    "path": "a way down from the release's folder in letters, digits and ~ . _ + -",
    "files": "a way down from the release's folder in letters, digits and ~ . _ + -",
    "at": "a moment like 2026-01-31T08:30:00Z",
}
_DIGEST: Final = "a SHA-256 in 64 small hexadecimal digits"


def fault_of(error: ErrorDetails) -> Fault:
    """Turn a complaint about the release into a fault at its path in the document."""
    path: Path = ("release", *error["loc"])
    kind, phrase = error["type"], shown_path(path)
    if kind == "extra_forbidden":
        message = f"{shown_path(path[:-1])} has no field {shown(path[-1])}"
        return Fault(rule="field-unknown", message=message, path=path, is_name=True)
    if kind == "value_error":
        message = f"{phrase}: {error['ctx']['error']}"
        return Fault(rule="field-wrong", message=message, path=path)
    field = next((step for step in reversed(path) if isinstance(step, str)), "")
    return fault_at(error, phrase, path, _PATTERNS.get(field, _DIGEST))
