"""The JSON Schema of a machine document: from the model, in the words of JSON."""

from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.machines.document import FORMAT, MAJOR, VERSION
from translator.machines.field_words import DOCUMENT, FIELDS
from translator.machines.profile import Machine


def machine_schema() -> Schema:
    """Return the schema that every machine profile validates against.

    It holds what can be said of a field. That names are one of a kind, that ranges are in
    order and that a placement is no mirror image, the loader has to check.
    """
    model = plain(Machine.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Machine"] = model
    for name, definition in definitions.items():
        describe(name, definition, FIELDS, said=("kind", "shape"))
    document = {
        "$schema": {"type": "string"},
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "machine": {"$ref": "#/$defs/Machine"},
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:machine:{VERSION}",
        "title": "Machine profile",
        "description": "One machine of a shop: what it takes, and what it can make.",
        **record(document, DOCUMENT, optional=("$schema", "caution")),
        "$defs": dict(sorted(definitions.items())),
    }
