"""What a part's JSON path is called, in words and as an element of the part."""

import json
from collections.abc import Callable
from typing import Final

from translator.model import feature_path, trim_path
from translator.readers.part_json._locate import Json, Path

_LONGEST: Final = 60
_FEATURE: Final = 4
"""Steps to a feature or a trim: legs, the leg, features or trims, its number."""

_KINDS: Final = {
    "hole": "hole",
    "slot": "slot",
    "opening": "opening",
    "centre_mark": "centre mark",
    "scribe": "scribe line",
    "stamp": "stamp",
}


def thing(path: Path, part: Json) -> str:
    """Name what stands at a path of a part: "the part", "leg a", "hole a3 on leg a"."""
    if not path:
        return "the part"
    if path[0] == "legs" and len(path) > 1:
        return _of_leg(path, part)
    if path[0] == "ends" and len(path) > 1:
        return f"the {path[1]} end"
    if path[0] == "waivers" and len(path) > 1:
        return f"waiver {int(path[1]) + 1}"
    if isinstance(path[-1], int):
        return f"entry {path[-1] + 1} of {path[-2]}"
    return f"the {path[0]}"


def field(path: Path, part: Json) -> str:
    """Name a field at a path: "length_mm of the part", "feature 3 on leg a" for an item."""
    if not path or isinstance(path[-1], int):
        return thing(path, part)
    return f"{shown_name(path[-1])} of {thing(path[:-1], part)}"


def element(path: Path, part: Json) -> str:
    """Return the element path of the model (key of places and waivers) that holds a field."""
    if len(path) >= _FEATURE and path[2] == "features":
        name = _id(_at(path[:_FEATURE], part))
        return feature_path(str(path[1]), name) if name else f"legs.{path[1]}"
    if len(path) >= _FEATURE and path[2] == "trims":
        return trim_path(str(path[1]), int(path[3]))
    if path and path[0] in ("legs", "ends", "waivers"):
        return ".".join(str(step) for step in path[:2])
    return "length" if path[:1] == ("length_mm",) else ".".join(str(step) for step in path[:1])


def shown(value: Json) -> str:
    """Show a value as JSON, cut short; an object or a list by its kind."""
    if isinstance(value, dict):
        return "an object" if value else "an empty object"
    if isinstance(value, tuple | list):
        return "a list" if value else "an empty list"
    text = json.dumps(value)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."


def shown_name(name: str) -> str:
    """Show a field's name: as it is when it is one word, else as JSON."""
    if name.isidentifier() and name.isascii() and len(name) <= _LONGEST:
        return name
    return shown(name)


def shown_path(path: Path, name: Callable[[str], str] = shown_name) -> str:
    """Show a path from the document down: ``part.legs.a.features[0].note``."""
    steps = (f"[{step}]" if isinstance(step, int) else f".{name(step)}" for step in path)
    return "".join(steps).removeprefix(".")


def whole_name(name: str) -> str:
    """Spell a field's name however long it is: as it is when it is one word, else as JSON."""
    return name if name.isidentifier() and name.isascii() else json.dumps(name)


def figure(value: float) -> str:
    """Print a number without an exponent or a needless point."""
    return str(int(value)) if float(value).is_integer() else repr(value)


def _of_leg(path: Path, part: Json) -> str:
    leg = "the face" if path[1] == "face" else f"leg {shown_name(str(path[1]))}"
    if len(path) < _FEATURE:
        return leg
    item = _at(path[:_FEATURE], part)
    number = int(path[3]) + 1
    if path[2] == "trims":
        name = f"trim {number} on {leg}"
    else:
        kind = item.get("kind") if isinstance(item, dict) else None
        kind = kind if isinstance(kind, str) else ""
        name = f"{_KINDS.get(kind, 'feature')} {_id(item) or number} on {leg}"
    if isinstance(path[-1], int) and len(path) > _FEATURE:
        return f"corner {path[-1] + 1} of {name}"
    return name


def _id(item: Json) -> str:
    name = item.get("id") if isinstance(item, dict) else None
    return name if isinstance(name, str) and 0 < len(name) <= _LONGEST else ""


def _at(path: Path, part: Json) -> Json:
    node = part
    for step in path:
        node = node[step]
    return node
