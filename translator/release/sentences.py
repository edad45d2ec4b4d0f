"""The model's complaints about a manifest, as sentences a person understands."""

from typing import Any, Final

from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.words import choices, figure, shown, shown_path

_KINDS: Final = {
    "float_type": "a number",
    "int_type": "a whole number",
    "string_type": "a text in double quotes",
    "string_unicode": "a text in double quotes",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "model_type": "an object",
    "model_attributes_type": "an object",
    "dict_type": "an object",
}
_LIMITS: Final = {
    "greater_than": ("gt", "greater than"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "less than"),
    "less_than_equal": ("le", "at most"),
}
_PATTERNS: Final = {
    "path": "a way down from the release's folder in letters, digits and ~ . _ + -",
    "files": "a way down from the release's folder in letters, digits and ~ . _ + -",
    "at": "a moment like 2026-01-31T08:30:00Z",
}
_DIGEST: Final = "a SHA-256 in 64 small hexadecimal digits"


def fault_of(error: ErrorDetails) -> Fault:
    """Turn a complaint about the release into a fault at its path in the document."""
    path: Path = ("release", *error["loc"])
    value, kind = error["input"], error["type"]
    context: dict[str, Any] = error.get("ctx", {})
    phrase = shown_path(path)
    if kind == "missing":
        return _fault("field-missing", f"{phrase} is missing", path[:-1])
    if kind == "extra_forbidden":
        message = f"{shown_path(path[:-1])} has no field {shown(path[-1])}"
        return Fault(rule="field-unknown", message=message, path=path, is_name=True)
    if kind == "value_error":
        return _fault("field-wrong", f"{phrase}: {context['error']}", path)
    if kind in _LIMITS:
        key, words = _LIMITS[kind]
        message = f"{phrase} is {shown(value)}, it must be {words} {figure(context[key])}"
        return _fault("field-wrong", message, path)
    return _fault("field-wrong", _sentence(kind, context, phrase, value, path), path)


def _sentence(kind: str, context: dict[str, Any], phrase: str, value: Json, path: Path) -> str:
    if kind in _KINDS:
        return f"{phrase} is {shown(value)}, it must be {_KINDS[kind]}"
    if kind == "literal_error":
        return f"{phrase} is {shown(value)}, it must be {choices(context['expected'])}"
    if kind == "string_pattern_mismatch":
        field = next((step for step in reversed(path) if isinstance(step, str)), "")
        return f"{phrase} is {shown(value)}, it must be {_PATTERNS.get(field, _DIGEST)}"
    if "min_length" in context or "max_length" in context:
        items = "characters" if isinstance(value, str) else "entries"
        has = len(value) if isinstance(value, str | tuple | dict) else 0
        limit = "min_length" if "min_length" in context else "max_length"
        words = "at least" if limit == "min_length" else "at most"
        return f"{phrase} has {has} {items}, it must have {words} {context[limit]}"
    return f"{phrase} is {shown(value)}, which it can't be"


def _fault(rule: str, message: str, path: Path) -> Fault:
    return Fault(rule=rule, message=message, path=path)
