"""A JSON object to a part: validated, with what the model has no field for set apart."""

from typing import Final

from msgspec import Struct
from pydantic import ValidationError

from translator.documents.fault import Fault
from translator.documents.locate import Json, Path
from translator.model import AngleEnds, FlatEnds, Part

_MANY: Final = 500
"""Entries of a list or an object up to which an ordinary part goes."""

_LEVELS: Final = 3


class Shaped(Struct, frozen=True, kw_only=True):
    """What a part's JSON object says.

    Attributes:
        part: the part, None when a fault keeps it from being one.
        faults: what is wrong, by path of the document.
        unknown: paths of the document that the model has no field for; the part is made
            without them.
    """

    part: Part | None
    faults: tuple[Fault, ...]
    unknown: tuple[Path, ...]


def shape(raw: dict[str, Json]) -> Shaped:
    """Make a part of the JSON object that stands under ``part``."""
    prepared = _prepared(raw)
    if _is_ordinary(prepared):
        try:
            return Shaped(part=Part.model_validate(_with_ends(prepared)), faults=(), unknown=())
        except ValidationError:
            pass  # what is wrong is looked for with care, and what that takes loaded only now
    from translator.readers.part_json._unsound import looked_through

    part, faults, unknown = looked_through(raw, prepared)
    return Shaped(part=part, faults=faults, unknown=unknown)


def _prepared(raw: dict[str, Json]) -> dict[str, Json]:
    """Give features without an id theirs by order; take 24.0 for the whole number it is."""
    out = dict(raw)
    quantity, legs = out.get("quantity"), out.get("legs")
    if isinstance(quantity, float) and quantity.is_integer():
        out["quantity"] = int(quantity)
    if isinstance(legs, dict):
        out["legs"] = {name: _with_ids(name, leg) for name, leg in legs.items()}
    return out


def _is_ordinary(value: Json, depth: int = 0) -> bool:
    """Tell whether it costs little to try if this is a part: a fault of each entry would cost.

    The lists and objects of three levels are looked at, down to the features of a leg.
    """
    if not isinstance(value, dict | tuple):
        return True
    if len(value) > _MANY:
        return False
    members = value.values() if isinstance(value, dict) else ()
    return depth == _LEVELS or all(_is_ordinary(member, depth + 1) for member in members)


def _with_ends(raw: dict[str, Json]) -> dict[str, Json]:
    """Give a part of which no end is told the square ones that it has."""
    if "ends" in raw:
        return raw
    section = raw.get("section")
    is_flat = isinstance(section, dict) and section.get("kind") == "flat"
    return {**raw, "ends": FlatEnds() if is_flat else AngleEnds()}


def _with_ids(name: str, leg: Json) -> Json:
    features = leg.get("features") if isinstance(leg, dict) else None
    if not isinstance(features, tuple):
        return leg
    named = tuple(
        {"id": f"{name[:1]}{number}", **feature}
        if isinstance(feature, dict) and "id" not in feature
        else feature
        for number, feature in enumerate(features, 1)
    )
    return {**leg, "features": named}
