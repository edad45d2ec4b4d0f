"""The JSON Schema of a part document: from the model, in the words of JSON."""

import re
from collections.abc import Mapping
from typing import Any, Final

from translator.emitters._field_words import COMPUTED, DOCUMENT, FIELDS
from translator.model import Part
from translator.model.document import FORMAT, MAJOR, VERSION

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_FLAT: Final = ("FlatLegs", "FlatEnds", ("lower", "upper"))
_ANGLE: Final = ("AngleLegs", "AngleEnds", ("heel", "toe"))
_CONTROL: Final = "[\\u0000-\\u001f\\u007f-\\u009f]"
"""What no text of a part may hold. Said by ``not``, since ``$`` lets a line end pass in some
validators."""

_ORDER: Final = (
    *("description", "type", "properties", "required", "additionalProperties"),
    *("if", "then", "else"),
)
Schema = dict[str, Any]


def part_schema() -> Schema:
    """Return the schema that every part document validates against.

    It holds what can be said of a field and of the kind of piece. That ids are one of a kind,
    that sizes fit each other and that the computed block is fresh, a reader has to check.
    """
    model = _plain(Part.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Part"] = _by_kind(model)
    for name, definition in definitions.items():
        _describe(name, definition)
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
        "$schema": _DIALECT,
        "$id": f"urn:backmark:part:{VERSION}",
        "title": "Part document",
        "description": "One piece: what was designed and, apart from it, what follows from that.",
        **_record(document, DOCUMENT, optional=("caution", "computed")),
        "$defs": dict(sorted(definitions.items())),
    }


def _plain(node: Any) -> Any:  # noqa: ANN401 - any part of a schema
    """Say a generated schema in plain JSON Schema: no names of Python, no repeated titles."""
    if isinstance(node, list):
        return [_plain(member) for member in node]
    if not isinstance(node, dict):
        return node
    out = {key: _plain(value) for key, value in node.items() if not _is_noise(key, value)}
    choices = out.get("anyOf", [])
    if {"type": "null"} in choices and "$ref" not in choices[0]:
        out = {**_or_null(choices[0]), **{k: v for k, v in out.items() if k != "anyOf"}}
    elif out.get("type") == "string" and "enum" not in out and "const" not in out:
        out["not"] = {"type": "string", "pattern": _CONTROL}
    if isinstance(out.get("description"), str):
        out["description"] = _sentence(out["description"])
    if "const" in out:
        out.pop("type", None)
        out.pop("default", None)
    return out


def _is_noise(key: str, value: object) -> bool:
    is_title = key == "title" and isinstance(value, str)
    return is_title or key == "discriminator" or (key == "default" and value is None)


def _or_null(choice: Schema) -> Schema:
    """Let a field be null, which a reader takes for absent."""
    out = {**choice, "type": [choice["type"], "null"]}
    if "enum" in out:
        out["enum"] = [*out["enum"], None]
    return out


def _sentence(text: str) -> str:
    """Turn a docstring into a description."""
    text = re.sub(r"\bNone\b", "absent", text.replace("``", "`"))
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in text.split("\n\n"))


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


def _describe(name: str, definition: Schema) -> None:
    """Give each field its meaning; a kind must always be said, an id follows by order."""
    for field, schema in definition["properties"].items():
        words = FIELDS.get(f"{name}.{field}") or FIELDS[field]
        definition["properties"][field] = {"description": words, **schema}
    required = [field for field in definition.get("required", []) if field != "id"]
    if "kind" in definition["properties"]:
        required.insert(0, "kind")
    if required:
        definition["required"] = required
    ordered = sorted(definition.items(), key=lambda item: _ORDER.index(item[0]))
    definition.clear()
    definition.update(ordered)


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
        "legs": legs,
        "stops": {"type": "array", "items": {"$ref": "#/$defs/Stop"}},
    }
    return _record(fields, COMPUTED, optional=tuple(fields))


def _computed_leg() -> Schema:
    number: Schema = {"type": "number"}
    outline = {"type": "array", "items": {"$ref": "#/$defs/Vertex"}}
    fields = {"face_area_gross_mm2": number, "face_area_net_mm2": number, "outline": outline}
    return _record(fields, COMPUTED, optional=tuple(fields))


def _stop() -> Schema:
    operation = _record(
        {"leg": {"enum": ["a", "b", "face"]}, "feature": {"type": "string"}}, COMPUTED
    )
    operations = {"type": "array", "items": operation}
    return _record({"x_mm": {"type": "number"}, "operations": operations}, COMPUTED)


def _record(
    fields: Mapping[str, Schema], words: Mapping[str, str], *, optional: tuple[str, ...] = ()
) -> Schema:
    return {
        "type": "object",
        "properties": {
            name: {"description": words[name], **schema} for name, schema in fields.items()
        },
        "required": [name for name in fields if name not in optional],
        "additionalProperties": False,
    }
