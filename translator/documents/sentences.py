"""What a model says is wrong with a value of a document, as a sentence a person understands."""

from collections.abc import Mapping
from typing import Any, Final

from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.words import choices, figure, shown

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
_UNITS: Final = ("mm", "deg", "kg", "m2", "mpa", "kn", "s", "mm2")
"""What a name of a field may end in; it is the unit of its figure."""


def fault_at(error: ErrorDetails, phrase: str, path: Path, pattern: str = "") -> Fault:
    """Return the fault of one value: it is missing, out of its limits, or of the wrong kind.

    Args:
        error: the complaint.
        phrase: what the value is called.
        path: of the value in the document.
        pattern: what a text is like that must match a pattern.
    """
    kind, value = error["type"], error["input"]
    context: Mapping[str, Any] = error.get("ctx", {})
    if kind == "missing":
        return Fault(rule="field-missing", message=f"{phrase} is missing", path=path[:-1])
    if kind in _LIMITS:
        key, words = _LIMITS[kind]
        return limited(phrase, path, value, float(context[key]), words)
    message = _sentence(kind, context, phrase, value, pattern)
    return Fault(rule="field-wrong", message=message, path=path)


def limited(phrase: str, path: Path, value: Json, limit: float, words: str) -> Fault:
    """Return the fault of a figure beyond its limit, with both of them and their unit.

    Args:
        phrase: what the figure is called.
        path: of the figure in the document.
        value: the figure.
        limit: what it is held against.
        words: how: "at least", "at most", "greater than", "less than".
    """
    name = str(path[-1])
    unit = next((u for u in sorted(_UNITS, key=len)[::-1] if name.endswith(f"_{u}")), "")
    return Fault(
        rule="field-wrong",
        message=f"{phrase} is {shown(value)}, it must be {words} {figure(limit)}",
        path=path,
        value=float(value),
        limit=limit,
        unit=unit,
    )


def _sentence(kind: str, context: Mapping[str, Any], phrase: str, value: Json, pattern: str) -> str:
    if kind in _KINDS:
        return f"{phrase} is {shown(value)}, it must be {_KINDS[kind]}"
    if kind == "literal_error":
        return f"{phrase} is {shown(value)}, it must be {choices(context['expected'])}"
    if kind == "string_pattern_mismatch":
        return f"{phrase} is {shown(value)}, it must be {pattern}"
    if "min_length" in context or "max_length" in context:
        items = "characters" if isinstance(value, str) else "entries"
        has = len(value) if isinstance(value, str | list | tuple | dict) else 0
        key, words = (
            ("min_length", "at least") if "min_length" in context else ("max_length", "at most")
        )
        return f"{phrase} has {has} {items}, it must have {words} {context[key]}"
    return f"{phrase} is {shown(value)}, which it can't be"
