"""What the JSON Schemas of all documents share: said in the words of JSON, not of Python."""

import re
from collections.abc import Mapping
from typing import Any, Final

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_CONTROL: Final = "[\\u0000-\\u001f\\u007f-\\u009f]"
"""What no text of a document may hold. Said by ``not``, since ``$`` lets a line end pass in some
validators."""

_ORDER: Final = (
    *("description", "type", "properties", "required", "additionalProperties"),
    *("if", "then", "else"),
)
Schema = dict[str, Any]


def plain(node: Any) -> Any:  # noqa: ANN401 - any part of a schema
    """Say a generated schema in plain JSON Schema: no names of Python, no repeated titles."""
    if isinstance(node, list):
        return [plain(member) for member in node]
    if not isinstance(node, dict):
        return node
    out = {key: plain(value) for key, value in node.items() if not _is_noise(key, value)}
    choices = out.get("anyOf", [])
    if {"type": "null"} in choices and "type" in choices[0]:
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


def describe(
    name: str,
    definition: Schema,
    words: Mapping[str, str],
    *,
    said: tuple[str, ...] = ("kind",),
    derived: tuple[str, ...] = (),
) -> None:
    """Give each field of a definition its meaning, and its members their order.

    Args:
        name: of the definition.
        definition: changed in place.
        words: field -> meaning; ``Definition.field`` where one name means two things.
        said: fields that tell the kind; they must be there though the model has a default.
        derived: fields that the model needs and a reader can make up.
    """
    for field, schema in definition["properties"].items():
        meaning = words.get(f"{name}.{field}") or words[field]
        definition["properties"][field] = {"description": meaning, **schema}
    kinds = [field for field in said if field in definition["properties"]]
    stated = definition.get("required", [])
    required = kinds + [field for field in stated if field not in (*derived, *kinds)]
    if required:
        definition["required"] = required
    ordered = sorted(definition.items(), key=lambda item: _ORDER.index(item[0]))
    definition.clear()
    definition.update(ordered)


def record(
    fields: Mapping[str, Schema], words: Mapping[str, str], *, optional: tuple[str, ...] = ()
) -> Schema:
    """Return the schema of an object of some fields and no others."""
    return {
        "type": "object",
        "properties": {
            name: {"description": words[name], **schema} for name, schema in fields.items()
        },
        "required": [name for name in fields if name not in optional],
        "additionalProperties": False,
    }
