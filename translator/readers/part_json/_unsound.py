"""A JSON object that is not simply a part: all that is wrong with it, and what is unknown."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from itertools import islice
from typing import Any, Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.documents.spoilt import MOST_FAULTS
from translator.documents.words import shown
from translator.model import Angle, AngleEnds, AngleLegs, Flat, FlatEnds, FlatLegs, Part
from translator.readers.part_json._sentences import fault_of, path_of
from translator.readers.part_json._words import field, thing

MOST_ENTRIES: Final = 100
"""Entries of a list or an object that are looked at one by one in a part full of faults."""

_BY_KIND: Final = ("section", "legs", "ends")
"""Fields that can't be judged before the kind of the section is known."""

_SIDES: Final = {True: ("lower", "upper"), False: ("heel", "toe")}


class _AnglePart(Part):
    section: Angle
    legs: AngleLegs
    ends: AngleEnds = AngleEnds()


class _FlatPart(Part):
    section: Flat
    legs: FlatLegs
    ends: FlatEnds = FlatEnds()


def looked_through(
    raw: dict[str, Json], prepared: dict[str, Json]
) -> tuple[Part | None, tuple[Fault, ...], tuple[Path, ...]]:
    """Say all that is wrong with a JSON object that is not simply a part.

    Args:
        raw: the object as it stands in the document.
        prepared: the same with an id for every feature.

    Returns:
        The part where one can be made of it, what is wrong, by path of the document, and the
        paths that the model has no field for.
    """
    flat = _is_flat(raw)
    part, errors, more = _validated(prepared, flat=flat)
    unknown = tuple(path_of(e) for e in errors if e["type"] == "extra_forbidden")
    if unknown and not more:
        part, errors, more = _validated(_without(prepared, unknown), flat=flat)
    kind = tuple(_kind_faults(raw))
    if kind:
        errors = [e for e in errors if not e["loc"] or e["loc"][0] not in _BY_KIND]
        unknown = tuple(path for path in unknown if path[0] not in _BY_KIND)
    faults = [*kind, *_id_faults(prepared), *_side_faults(raw, flat=flat)]
    faults += [fault_of(error, prepared) for error in errors if _is_own(error)]
    if not faults:  # only what the part says of itself as a whole is left
        faults += [fault_of(error, prepared) for error in errors if not error["loc"]]
    if more:
        message = f"the part has {more} faults, more than are listed"
        faults.append(Fault(rule="field-wrong", message=message, path=("part",)))
    return (
        None if faults else part,
        tuple(faults[: 2 * MOST_FAULTS]),
        tuple(("part", *path) for path in unknown),
    )


def _is_flat(raw: dict[str, Json]) -> bool:
    section, legs = raw.get("section"), raw.get("legs")
    if isinstance(section, dict) and section.get("kind") in ("angle", "flat"):
        return bool(section["kind"] == "flat")
    return isinstance(legs, dict) and "face" in legs


def _validated(raw: Json, *, flat: bool) -> tuple[Part | None, list[ErrorDetails], int]:
    """Validate as the kind of part it is, so that no complaint speaks of the other kind.

    Returns:
        The part, or the complaints; those of a shortened part, and how many there are in
        truth, when there are too many.
    """
    model = _FlatPart if flat else _AnglePart
    try:
        shaped = model.model_validate(raw)
    except ValidationError as error:
        count = error.error_count()
        if count <= MOST_FAULTS:
            return None, error.errors(include_url=False), 0
    else:
        fields = {name: getattr(shaped, name) for name in Part.model_fields}
        return Part(**fields), [], 0
    try:
        model.model_validate(_shortened(raw))
    except ValidationError as error:
        return None, error.errors(include_url=False)[:MOST_FAULTS], count
    return None, [], count


def _shortened(value: Json) -> Json:
    if isinstance(value, dict):
        return {k: _shortened(v) for k, v in islice(value.items(), MOST_ENTRIES)}
    if isinstance(value, tuple):
        return tuple(_shortened(member) for member in value[:MOST_ENTRIES])
    return value


def _is_own(error: ErrorDetails) -> bool:
    """Tell whether a complaint says something that no other fault says better.

    What the part says of itself as a whole is found before; a list counts as too short when
    its entries are at fault.
    """
    if error["type"] == "too_short" and isinstance(error["input"], tuple):
        return bool(len(error["input"]) < error["ctx"]["min_length"])
    return error["type"] != "extra_forbidden" and bool(error["loc"])


def _without(value: Json, paths: Collection[Path]) -> Json:
    """Return a value without what stands at some paths."""
    deeper: dict[str | int, list[Path]] = defaultdict(list)
    for path in paths:
        deeper[path[0]].append(path[1:])
    members = value.items() if isinstance(value, dict) else enumerate(value)
    kept: dict[Any, Json] = {
        step: _without(member, deeper[step]) if step in deeper else member
        for step, member in members
        if () not in deeper.get(step, ())
    }
    return kept if isinstance(value, dict) else tuple(kept.values())


def _kind_faults(raw: dict[str, Json]) -> Iterator[Fault]:
    section = raw.get("section")
    if not isinstance(section, dict):
        return
    message = ""
    if "kind" not in section:
        message = 'kind of the section is missing, it must be "angle" or "flat"'
        yield Fault(rule="field-missing", message=message, path=("part", "section"))
    elif section["kind"] not in ("angle", "flat"):
        message = f'kind of the section is {shown(section["kind"])}, it must be "angle" or "flat"'
        yield Fault(rule="field-wrong", message=message, path=("part", "section", "kind"))


def _id_faults(raw: dict[str, Json]) -> Iterator[Fault]:
    seen: dict[str, Path] = {}
    for path, feature in _items(raw, "features"):
        name = feature.get("id")
        if not isinstance(name, str):
            continue
        first = seen.setdefault(name, path)
        if first != path:
            yield Fault(
                rule="feature-id-repeated",
                message=f"{thing(path, raw)} has the id of {thing(first, raw)}",
                path=("part", *path, "id"),
                related=(("part", *first, "id"), "has the same id"),
            )


def _side_faults(raw: dict[str, Json], *, flat: bool) -> Iterator[Fault]:
    fit, unfit = _SIDES[flat], _SIDES[not flat]
    for path, trim in _items(raw, "trims"):
        side = trim.get("side")
        if side in unfit:
            message = (
                f"{field((*path, 'side'), raw)} is {shown(side)}, it must be"
                f' "{fit[0]}" or "{fit[1]}" on {"a flat" if flat else "an angle"}'
            )
            yield Fault(rule="field-wrong", message=message, path=("part", *path, "side"))


def _items(raw: dict[str, Json], what: str) -> Iterator[tuple[Path, dict[str, Json]]]:
    """Walk through the features or trims of all legs that can be walked through."""
    legs = raw.get("legs")
    for name, leg in legs.items() if isinstance(legs, dict) else ():
        items = leg.get(what) if isinstance(leg, dict) else None
        for index, item in enumerate(items) if isinstance(items, tuple) else ():
            if isinstance(item, dict):
                yield ("legs", name, what, index), item
