"""The model's complaints about a profile, as sentences a person understands."""

from difflib import get_close_matches
from typing import Final

from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.sentences import fault_at
from translator.documents.words import choices, shown, shown_name
from translator.machines.field_words import FIELDS

_TAGS: Final = {
    "tools": frozenset({"round", "oblong", "centre"}),
    "cut_off": frozenset({"shear", "saw"}),
}
_TAG_NAMES: Final = {"tools": "shape", "cut_off": "kind"}
_ITEMS: Final = {"stations": "station", "tools": "tool", "placements": "placement"}
_ALIKE: Final = 0.75
_LONGEST: Final = 40
_NAMES: Final = tuple(sorted({name.rpartition(".")[2] for name in FIELDS}))


def path_of(error: ErrorDetails) -> Path:
    """Return the path within the profile, without the tags of kinds that stand in it."""
    steps: list[str | int] = []
    for step in error["loc"]:
        holder = next((s for s in reversed(steps) if isinstance(s, str)), "")
        is_behind = bool(steps) and (holder == "cut_off" or isinstance(steps[-1], int))
        if not (is_behind and step in _TAGS.get(holder, ())):
            steps.append(step)
    return tuple(steps)


def thing(path: Path, machine: Json) -> str:
    """Name what stands at a path: "the machine", "tool 5 of station P1", "leg of angles"."""
    if not path:
        return "the machine"
    around = "" if len(path) < 2 else thing(path[:-1], machine)  # noqa: PLR2004
    if isinstance(path[-1], int):
        return _item(path, machine)
    within = f" of {around}" if around else ""
    return f"{shown_name(path[-1])}{within}"


def fault_of(error: ErrorDetails, machine: Json) -> Fault:
    """Turn a complaint about a profile into a fault, with value and limit where it has them."""
    path, value = path_of(error), error["input"]
    kind = error["type"]
    if kind == "extra_forbidden":
        return _unknown(path, machine)
    if kind in ("union_tag_not_found", "union_tag_invalid"):
        return _tag_fault(path, machine, value)
    if kind == "value_error":
        return _fault("field-wrong", f"{thing(path, machine)}: {error['ctx']['error']}", path)
    return fault_at(error, _field(path, machine), ("machine", *path))


def _unknown(path: Path, machine: Json) -> Fault:
    name = str(path[-1])
    near = get_close_matches(name[:_LONGEST].lower(), _NAMES, 1, _ALIKE)
    hint = f"; did you mean {near[0]}?" if near and near[0] != name else ""
    return Fault(
        rule="field-unknown",
        message=f"{thing(path[:-1], machine)} has no field {shown_name(name)}{hint}",
        path=("machine", *path),
        is_name=True,
    )


def _field(path: Path, machine: Json) -> str:
    if not path or isinstance(path[-1], int):
        return thing(path, machine)
    return f"{shown_name(path[-1])} of {thing(path[:-1], machine)}"


def _item(path: Path, machine: Json) -> str:
    """Name an entry of a list: by what it calls itself, else by its number."""
    holder = str(path[-2])
    number = int(path[-1]) + 1
    around = f" of {thing(path[:-2], machine)}" if len(path) > 2 else ""  # noqa: PLR2004
    if holder not in _ITEMS:
        return f"entry {number} of {shown_name(holder)}{around}"
    item = _at(path, machine)
    name = item.get("number" if holder == "tools" else "name") if isinstance(item, dict) else None
    called = shown(name) if isinstance(name, str) and name else str(number)
    return f"{_ITEMS[holder]} {called}{around}"


def _tag_fault(path: Path, machine: Json, value: Json) -> Fault:
    holder = next(str(step) for step in reversed(path) if isinstance(step, str))
    tag = _TAG_NAMES[holder]
    listed = choices(" ".join(f"'{name}'" for name in sorted(_TAGS[holder])))
    phrase = f"{tag} of {thing(path, machine)}"
    if isinstance(value, dict) and tag in value:
        message = f"{phrase} is {shown(value[tag])}, it must be {listed}"
        return _fault("field-wrong", message, (*path, tag))
    return _fault("field-missing", f"{phrase} is missing, it must be {listed}", path)


def _fault(rule: str, message: str, path: Path) -> Fault:
    return Fault(rule=rule, message=message, path=("machine", *path))


def _at(path: Path, machine: Json) -> Json:
    node = machine
    for step in path:
        node = node[step]
    return node
