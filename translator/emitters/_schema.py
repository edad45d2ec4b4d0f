"""The JSON Schema of a part document: from the model, in the words of JSON."""

from typing import Final

from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.emitters._field_words import COMPUTED, DOCUMENT, FIELDS
from translator.model import Part
from translator.model.document import FORMAT, MAJOR, VERSION

_FLAT: Final = ("FlatLegs", "FlatEnds", ("lower", "upper"))
_ANGLE: Final = ("AngleLegs", "AngleEnds", ("heel", "toe"))


def part_schema() -> Schema:
    """Return the schema that every part document validates against.

    It holds what can be said of a field and of the kind of piece. That ids are one of a kind,
    that sizes fit each other and that the computed block is fresh, a reader has to check.
    """
    model = plain(Part.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Part"] = _by_kind(model)
    for name, definition in definitions.items():
        describe(name, definition, FIELDS, derived=("id",))
    definitions["ComputedLeg"] = _computed_leg()
    definitions["Stop"] = _stop()
    document = {
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "part": {"$ref": "#/$defs/Part"},
        "computed": _computed(),
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:part:{VERSION}",
        "title": "Part document",
        "description": "One piece: what was designed and, apart from it, what follows from that.",
        **record(document, DOCUMENT, optional=("caution", "computed")),
        "$defs": dict(sorted(definitions.items())),
    }


def _by_kind(part: Schema) -> Schema:
    """Tie legs, ends and the sides of trims to the kind of the section."""
    part["properties"]["legs"] = {}
    part["properties"]["ends"] = {}
    part["required"].remove("ends")
    kind = {"properties": {"section": {"properties": {"kind": {"const": "flat"}}}}}
    return {**part, "if": kind, "then": _shape(*_FLAT), "else": _shape(*_ANGLE)}


def _shape(legs: str, ends: str, sides: tuple[str, str]) -> Schema:
    side = {"properties": {"side": {"enum": list(sides)}}}
    leg = {"properties": {"trims": {"items": side}}}
    return {
        "properties": {
            "legs": {"allOf": [{"$ref": f"#/$defs/{legs}"}, {"additionalProperties": leg}]},
            "ends": {"$ref": f"#/$defs/{ends}"},
        }
    }


def _computed() -> Schema:
    number: Schema = {"type": "number"}
    legs = {
        "type": "object",
        "properties": {leg: {"$ref": "#/$defs/ComputedLeg"} for leg in ("a", "b", "face")},
        "additionalProperties": False,
    }
    fields = {
        "mass_kg": number,
        "net_mass_kg": number,
        "mass_per_metre_kg": number,
        "section_area_mm2": number,
        "paint_area_m2": number,
        "net_section": _net_section(),
        "legs": legs,
        "stops": {"type": "array", "items": {"$ref": "#/$defs/Stop"}},
    }
    return record(fields, COMPUTED, optional=tuple(fields))


def _computed_leg() -> Schema:
    number: Schema = {"type": "number"}
    outline = {"type": "array", "items": {"$ref": "#/$defs/Vertex"}}
    fields = {"face_area_gross_mm2": number, "face_area_net_mm2": number, "outline": outline}
    return record(fields, COMPUTED, optional=tuple(fields))


def _net_section() -> Schema:
    way = record({"net_area_mm2": {"type": "number"}, "path": _operations()}, COMPUTED)
    names = ("aisc", "en")
    return record(dict.fromkeys(names, way), COMPUTED, optional=names)


def _operations() -> Schema:
    operation = record(
        {"leg": {"enum": ["a", "b", "face"]}, "feature": {"type": "string"}}, COMPUTED
    )
    return {"type": "array", "items": operation}


def _stop() -> Schema:
    return record({"x_mm": {"type": "number"}, "operations": _operations()}, COMPUTED)
