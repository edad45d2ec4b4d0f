"""The model's complaints about a part, as sentences a person understands."""

from typing import Any, Final

from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.sentences import fault_at, limited
from translator.documents.words import choices, shown
from translator.readers.part_json._words import field, thing

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
    pattern = _PATTERNS.get(str(path[-1]), "") if path else ""
    return fault_at(error, phrase, ("part", *path), pattern)


def _value_error(said: str, phrase: str, path: Path, part: Json, value: Json) -> Fault:
    """Word what a check of the model's own says."""
    if isinstance(value, int | float) and said.endswith("is not greater than 0"):
        return limited(phrase, ("part", *path), value, 0.0, "greater than")
    if said.startswith("it holds "):
        return _fault("field-wrong", f"{phrase} {said.removeprefix('it ')}", path)
    if path and isinstance(path[-1], str) and not isinstance(value, dict):
        return _fault("field-wrong", f"{phrase}: {said}", path)
    return _fault("field-wrong", f"{thing(path, part)}: {said}", path)


def _fault(rule: str, message: str, path: Path) -> Fault:
    return Fault(rule=rule, message=message, path=("part", *path))
