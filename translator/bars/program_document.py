"""The bar program as a JSON document, and its schema."""

from translator.bars.program_model import FORMAT, MAJOR, VERSION, Program
from translator.bars.program_words import DOCUMENT, FIELDS
from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.findings import CAUTION
from translator.json_text import json_text

FILE_ENDING = ".program.json"
"""What a program's file is called, behind the id of its bar."""


def program_json(program: Program) -> str:
    """Return a bar program as a JSON document; what is absent is left out."""
    return json_text(
        {
            "format": FORMAT,
            "version": VERSION,
            "caution": CAUTION,
            "program": program.model_dump(mode="json", exclude_none=True),
        }
    )


def program_schema() -> Schema:
    """Return the schema that every bar program validates against.

    It holds what can be said of a field. That the stops come in an order that can be made, that
    nothing is held that is gone and that tools are there, whoever replays it has to check.
    """
    model = plain(Program.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Program"] = model
    for name, definition in definitions.items():
        describe(name, definition, FIELDS)
    document = {
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "program": {"$ref": "#/$defs/Program"},
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:program:{VERSION}",
        "title": "Bar program",
        "description": "What a machine does to one bar, stop by stop, in no machine's language.",
        **record(document, DOCUMENT, optional=("caution",)),
        "$defs": dict(sorted(definitions.items())),
    }
