"""The model's complaints about a part, as sentences a person understands."""

from typing import Any, Final

from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.words import choices, figure, shown
from translator.readers.part_json._words import field, thing

_KINDS: Final = {
    "float_type": "a number",
    "int_type": "a whole number",
    "string_type": "a text in double quotes",
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
_EVERY_KIND: Final = {
    "features": "'hole', 'slot', 'opening', 'centre_mark', 'scribe', 'stamp'",
    "trims": "'cope', 'clip', 'rounding', 'notch', 'outline'",
}
_PATTERNS: Final = {
    "id": "1 to 64 letters, digits and signs _ . - and begin with a letter or a digit",
    "feature": "the id of a feature",
    "bolt": 'a size like "M20", "3/4" or "1-1/8"',
    "rule": "the name of a rule: small letters, words joined by hyphens",
    "until_date": 'a date like "2031-05-28"',
}
_UNITS: Final = ("mm", "deg", "kg", "m2")
_TO_ITEM: Final = 4
"""Steps to a feature or a trim: legs, the leg, features or trims, its number."""


def path_of(error: ErrorDetails) -> Path:
    """Return the path within the part; the tag of a kind behind an item's number is left out."""
    loc = error["loc"]
    if loc[:1] == ("legs",) and len(loc) > _TO_ITEM:
        return (*loc[:_TO_ITEM], *loc[_TO_ITEM + 1 :])
    return loc


def fault_of(error: ErrorDetails, part: Json) -> Fault:
    """Turn a complaint about a part into a fault, with value and limit where it has them."""
    path, value = path_of(error), error["input"]
    context: dict[str, Any] = error.get("ctx", {})
    kind, phrase = error["type"], field(path, part)
    if kind == "missing":
        return _fault("field-missing", f"{phrase} is missing", path[:-1])
    if kind == "union_tag_not_found":
        listed = choices(context.get("expected_tags", _EVERY_KIND[str(path[2])]))
        message = f"kind of {phrase} is missing, it must be {listed}"
        return _fault("field-missing", message, path)
    if kind == "union_tag_invalid":
        listed = choices(context["expected_tags"])
        message = f"kind of {phrase} is {shown(value['kind'])}, it must be {listed}"
        return _fault("field-wrong", message, (*path, "kind"))
    if kind == "value_error":
        return _value_error(str(context["error"]), phrase, path, part, value)
    if kind in _LIMITS:
        key, words = _LIMITS[kind]
        return _limited(phrase, path, value, float(context[key]), words)
    return _fault("field-wrong", _sentence(kind, context, phrase, path, value), path)


def _sentence(kind: str, context: dict[str, Any], phrase: str, path: Path, value: Json) -> str:
    if kind in _KINDS:
        return f"{phrase} is {shown(value)}, it must be {_KINDS[kind]}"
    if kind == "literal_error":
        return f"{phrase} is {shown(value)}, it must be {choices(context['expected'])}"
    if kind == "string_pattern_mismatch":
        return f"{phrase} is {shown(value)}, it must be {_PATTERNS[str(path[-1])]}"
    if kind in ("too_short", "string_too_short", "too_long", "string_too_long"):
        items = "characters" if isinstance(value, str) else "entries"
        if "min_length" in context:
            limit = f"at least {context['min_length']}"
        else:
            limit = f"at most {context['max_length']}"
        return f"{phrase} has {len(value)} {items}, it must have {limit}"
    return f"{phrase} is {shown(value)}, which it can't be"


def _value_error(said: str, phrase: str, path: Path, part: Json, value: Json) -> Fault:
    """Word what a check of the model's own says."""
    if isinstance(value, int | float) and said.endswith("is not greater than 0"):
        return _limited(phrase, path, value, 0.0, "greater than")
    if said.startswith("it holds "):
        return _fault("field-wrong", f"{phrase} {said.removeprefix('it ')}", path)
    if path and isinstance(path[-1], str) and not isinstance(value, dict):
        return _fault("field-wrong", f"{phrase}: {said}", path)
    return _fault("field-wrong", f"{thing(path, part)}: {said}", path)


def _limited(phrase: str, path: Path, value: Json, limit: float, words: str) -> Fault:
    unit = next((u for u in _UNITS if str(path[-1]).endswith(f"_{u}")), "")
    return Fault(
        rule="field-wrong",
        message=f"{phrase} is {shown(value)}, it must be {words} {figure(limit)}",
        path=("part", *path),
        value=float(value),
        limit=limit,
        unit=unit,
    )


def _fault(rule: str, message: str, path: Path) -> Fault:
    return Fault(rule=rule, message=message, path=("part", *path))
