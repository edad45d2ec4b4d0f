"""What a part's JSON path is called, in words and as an element of the part."""

from typing import Final

from translator.documents.locate import Json, Path
from translator.documents.words import LONGEST, shown_name
from translator.model import feature_path, trim_path

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
    return name if isinstance(name, str) and 0 < len(name) <= LONGEST else ""


def _at(path: Path, part: Json) -> Json:
    node = part
    for step in path:
        node = node[step]
    return node
