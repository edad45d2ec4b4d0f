"""The part model's complaints, as sentences a shop person understands."""

from typing import Any, Final

from pydantic import ValidationError

from translator.lengths.characters import shown

_LIMITS: Final = {
    "greater_than": ("gt", "it must be more than"),
    "greater_than_equal": ("ge", "it must be at least"),
    "less_than": ("lt", "it must be less than"),
    "less_than_equal": ("le", "it must be at most"),
}
_COUNTS: Final = {
    "too_long": ("max_length", "it may have at most"),
    "too_short": ("min_length", "it must have at least"),
    "string_too_long": ("max_length", "it may have at most"),
}
_ITEMS: Final = {"contour": "corner", "line": "corner"}
_UNITS: Final = {"_mm": " mm", "_deg": " degrees"}
_SHAPES: Final = {
    "id": "an id has up to 64 letters, digits, `_`, `.` and `-`, and begins with a letter or digit",
    "rule": "the name of a rule has small letters and digits, joined by hyphens",
    "bolt": "a bolt is written like 3/4, 1-1/8 or M20",
    "until_date": "a date is written like 2027-01-31",
}


def sentences(error: ValidationError) -> list[tuple[tuple[str | int, ...], str]]:
    """Return each complaint as the path it is about and a sentence."""
    return [(found["loc"], _sentence(dict(found))) for found in error.errors(include_url=False)]


def _sentence(found: dict[str, Any]) -> str:
    names = [str(step) for step in found["loc"] if isinstance(step, str)]
    name = names[-1] if names else ""
    context: dict[str, Any] = found.get("ctx", {})
    if found["type"] == "value_error":
        text = str(context["error"])
        return _ended(f"{_phrase(name)}: {text}" if name and text.startswith("it ") else text)
    unit = next((word for suffix, word in _UNITS.items() if name.endswith(suffix)), "")
    if found["type"] in _LIMITS:
        key, words = _LIMITS[found["type"]]
        given = found["input"]
        return f"The {_phrase(name)} is {given:g}{unit}: {words} {context[key]:g}{unit}."
    if found["input"] == "":
        return f"The {_phrase(name)} is empty."
    if found["type"] in _COUNTS:
        key, words = _COUNTS[found["type"]]
        given = len(found["input"])
        item = "sign" if isinstance(found["input"], str) else _ITEMS.get(name, "item")
        items = item if given == 1 else f"{item}s"
        return f"The {_phrase(name)} has {given} {items}: {words} {context[key]}."
    if name in _SHAPES:
        return _ended(f"{shown(str(found['input']))!r} will not do: {_SHAPES[name]}")
    return _ended(f"{_phrase(name)}: {found['msg']}")


def _phrase(name: str) -> str:
    for suffix in _UNITS:
        name = name.removesuffix(suffix)
    return name.replace("_", " ")


def _ended(text: str) -> str:
    text = text[0].upper() + text[1:]
    return text if text.endswith(".") else f"{text}."
