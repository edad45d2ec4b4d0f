"""What the fields of a side file's decisions mean, and the JSON Schema of such a file."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from translator.documents.schema import DIALECT, Schema, record

WAIVER: Final[Mapping[str, str]] = MappingProxyType(
    {
        "rule": "Name of the rule whose finding is accepted.",
        "mark": "Piece mark of the part.",
        "order": "Order of the part; absent = of any order.",
        "leg": "Leg the finding is on; absent = the part as a whole, or the leg of the feature.",
        "feature": 'Id of the feature, or its kind and number along the list of its leg ("hole'
        ' 3"); absent = the leg or the part as a whole.',
        "value": "Figure accepted, a number in the rule's own unit (millimetres for lengths) or a"
        " length with its unit; the waiver lapses when it gets worse. Absent = any.",
        "reason": "Why it is accepted.",
        "by": "Who accepted it.",
        "until_revision": "Last revision of the part that it holds for.",
        "until_date": "Last day that it holds for; counts only when a day is named (--as-of).",
    }
)

SUBSTITUTION: Final[Mapping[str, str]] = MappingProxyType(
    {
        "mark": "Piece mark of the part.",
        "order": "Order of the part; absent = of any order.",
        "field": "What is substituted.",
        "from": "What the design says.",
        "to": "What the part is made with, and says.",
        "reason": "Why.",
        "by": "Who decided.",
    }
)

_FILE: Final = MappingProxyType(
    {
        "waiver": "Findings accepted beforehand.",
        "substitution": "Sections and grades taken for others, on record.",
    }
)


def waivers_schema() -> Schema:
    """Return the schema of ``waivers.toml``, and of the same tables in ``backmark.toml``."""
    text: Schema = {"type": "string", "pattern": "\\S"}
    length = {"type": ["number", "string"]}
    waiver: dict[str, Any] = {
        **dict.fromkeys(WAIVER, text),
        "rule": {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$"},
        "leg": {"enum": ["a", "b", "face"]},
        "value": length,
        "until_date": {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
    }
    substitution: dict[str, Any] = {
        **dict.fromkeys(SUBSTITUTION, text),
        "field": {"enum": ["section", "grade"]},
    }
    kept = ("rule", "mark", "field", "from", "to", "reason")
    records = {
        "Waiver": record(waiver, WAIVER, optional=_others(WAIVER, kept)),
        "Substitution": record(substitution, SUBSTITUTION, optional=_others(SUBSTITUTION, kept)),
    }
    lists = {
        "waiver": {"type": "array", "items": {"$ref": "#/$defs/Waiver"}},
        "substitution": {"type": "array", "items": {"$ref": "#/$defs/Substitution"}},
    }
    return {
        "$schema": DIALECT,
        "$id": "urn:backmark:waivers:1.0",
        "title": "Waivers file",
        "description": "Decisions on parts whose own files can't hold them: waivers.toml beside"
        " them. Days may be written as TOML writes them, without quotes.",
        **record(lists, _FILE, optional=tuple(lists)),
        "$defs": records,
    }


def _others(fields: Mapping[str, str], kept: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name for name in fields if name not in kept)
