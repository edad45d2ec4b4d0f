"""The cutting plan as a JSON document, and its schema; `plan_load` reads it again."""

from translator.bars.plan_model import FORMAT, MAJOR, VERSION, Plan
from translator.bars.plan_words import DOCUMENT, FIELDS
from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.findings import CAUTION
from translator.json_text import json_text


def plan_json(plan: Plan) -> str:
    """Return a cutting plan as a JSON document; what is absent is left out."""
    return json_text(
        {
            "format": FORMAT,
            "version": VERSION,
            "caution": CAUTION,
            "plan": plan.model_dump(mode="json", exclude_none=True),
        }
    )


def plan_schema() -> Schema:
    """Return the schema that every cutting plan validates against.

    It holds what can be said of a field. That pieces lie on their bars without touching, and that
    no bar is used that is not there, whoever uses a plan from elsewhere has to check.
    """
    model = plain(Plan.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Plan"] = model
    for name, definition in definitions.items():
        describe(name, definition, FIELDS, said=())
    document = {
        "$schema": {"type": "string"},
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "plan": {"$ref": "#/$defs/Plan"},
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:plan:{VERSION}",
        "title": "Cutting plan",
        "description": "Which bars to load, what comes off each in what order, what is left.",
        **record(document, DOCUMENT, optional=("$schema", "caution")),
        "$defs": dict(sorted(definitions.items())),
    }
