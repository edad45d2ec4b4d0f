"""The part model's complaints, as sentences a shop person understands."""

from collections.abc import Sized
from types import MappingProxyType
from typing import Any, Final

from pydantic import ValidationError

from translator.lengths.characters import shown

_LIMITS: Final = MappingProxyType(
    {
        "greater_than": ("gt", "it must be more than"),
        "greater_than_equal": ("ge", "it must be at least"),
        "less_than": ("lt", "it must be less than"),
        "less_than_equal": ("le", "it must be at most"),
    }
)
_COUNTS: Final = MappingProxyType(
    {
        "too_long": ("max_length", "more than {}, the most there may be"),
        "too_short": ("min_length", "fewer than {}, the fewest there may be"),
    }
)
_ITEMS: Final = MappingProxyType(
    {"contour": "corner", "line": "corner", "trims": "trim", "features": "feature"}
)
_UNITS: Final = MappingProxyType({"_mm": " mm", "_deg": " degrees", "_kg": " kg", "_m2": " m2"})
_SHAPES: Final = MappingProxyType(
    {
        "id": "an id has up to 64 letters, digits, `_`, `.` and `-`, and begins with a letter"
        " or digit",
        "rule": "the name of a rule has small letters and digits, joined by hyphens",
        "bolt": "a bolt is written like 3/4, 1-1/8 or M20",
        "until_date": "a date is written like 2027-01-31",
    }
)


def sentences(error: ValidationError) -> list[tuple[tuple[str | int, ...], str]]:
    """Return each complaint as the path it is about and a sentence."""
    return [(found["loc"], _ended(_told(dict(found)))) for found in error.errors()]


def _told(found: dict[str, Any]) -> str:
    kind, given, context = found["type"], found["input"], found.get("ctx", {})
    names = [step for step in found["loc"] if isinstance(step, str)]
    name = names[-1] if names else ""
    if kind == "value_error":
        text = str(context["error"])
        return f"{_phrase(name)}: {text}" if text.startswith("it ") else text
    if kind in _LIMITS:
        key, words = _LIMITS[kind]
        unit = next((word for suffix, word in _UNITS.items() if name.endswith(suffix)), "")
        figure, limit = _figure(given), _figure(context[key])
        return f"the {_phrase(name)} is {figure}{unit}: {words} {limit}{unit}"
    if kind in _COUNTS:
        key, words = _COUNTS[kind]
        return _counted(name, given, words.format(context[key]))
    if name in _SHAPES:
        return f"{shown(str(given))!r} will not do: {_SHAPES[name]}"
    return f"{_phrase(name)}: {found['msg']}"


def _counted(name: str, given: Sized, words: str) -> str:
    if given == "":
        return f"the {_phrase(name)} is empty"
    item = "sign" if isinstance(given, str) else _ITEMS.get(name, "item")
    items = f"1 {item} is" if len(given) == 1 else f"{len(given)} {item}s are"
    whose = f"the {_phrase(name)} is too long: " if isinstance(given, str) else ""
    return f"{whose}{items} {words}"


def _figure(value: float) -> str:
    return f"{value:.9f}".rstrip("0").rstrip(".")


def _phrase(name: str) -> str:
    for suffix in _UNITS:
        name = name.removesuffix(suffix)
    return name.replace("_", " ")


def _ended(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."
