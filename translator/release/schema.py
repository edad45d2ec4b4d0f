"""The JSON Schema of a manifest: from the model, in the words of JSON."""

from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.release.document import FORMAT, MAJOR, VERSION
from translator.release.field_words import DOCUMENT, FIELDS
from translator.release.manifest import Release


def release_schema() -> Schema:
    """Return the schema that every manifest validates against.

    It holds what can be said of a field. That no two paths clash, and that what one field
    names stands in another, the loader has to check.
    """
    model = plain(Release.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Release"] = model
    for name, definition in definitions.items():
        describe(name, definition, FIELDS, said=())
    document = {
        "$schema": {"type": "string"},
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "release": {"$ref": "#/$defs/Release"},
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:release:{VERSION}",
        "title": "Release manifest",
        "description": "What a release holds, and who made it of what.",
        **record(document, DOCUMENT, optional=("$schema", "caution")),
        "$defs": dict(sorted(definitions.items())),
    }
