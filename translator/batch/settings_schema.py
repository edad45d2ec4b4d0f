"""The JSON Schema of the settings file, for an editor that checks it while it is typed."""

from collections.abc import Iterable
from typing import Any, Final

from translator.batch.bill_settings import TABLE as BILL
from translator.batch.bill_settings import bill_settings_schema
from translator.batch.decision_words import waivers_schema
from translator.batch.practice import CLASSES, EXPOSURES, PRACTICES, WEIGHTS
from translator.batch.tolerances import CLASS, TABLE
from translator.conventions import CHOICES
from translator.documents.schema import DIALECT, Schema
from translator.emitters import emitters
from translator.findings import Severity
from translator.pages._tolerances import CLASSES as TOLERANCE_CLASSES
from translator.pages._tolerances import QUANTITIES
from translator.rules import rules
from translator.rules._practice import allowed
from translator.rules._rule import Rule
from translator.tables.published import EDITIONS
from translator.tables.punching import punching_codes

_LENGTH: Final = "A length with its unit, like 32mm or 1-1/4in."
_TEXT: Final[Schema] = {"type": "string", "pattern": "\\S"}


def settings_schema() -> Schema:
    """Return the schema of ``backmark.toml``."""
    decisions = waivers_schema()
    return {
        "$schema": DIALECT,
        "$id": "urn:backmark:settings:1.0",
        "title": "Settings file",
        "description": "backmark.toml: what the files of its folder, and below, are judged by.",
        "type": "object",
        "properties": {
            **_of_files(),
            **_of_practice(),
            **_of_rules(),
            TABLE: _tolerances(),
            BILL: bill_settings_schema(),
            **decisions["properties"],
        },
        "additionalProperties": False,
        "$defs": decisions["$defs"],
    }


def _of_files() -> dict[str, Schema]:
    return {
        "fail_on": _choice(map(str, Severity), "Least severity that gives exit code 1."),
        "out": {**_TEXT, "description": "Folder for what is made, beside this file."},
        "excludes": _list(_TEXT, "Patterns of files to leave out, from this file's folder."),
        "machines": _list(_TEXT, "Profiles of the machines that a check is made for."),
        "nc": _table(
            "What the detailer format leaves open.",
            {name: _nc(values) for name, values in CHOICES.items()},
        ),
        "release": _table(
            "What a release holds.",
            {
                "formats": _list(
                    {"enum": [emitter.name for emitter in emitters()]},
                    "Formats of its part files beside json and dxf.",
                )
            },
        ),
    }


def _of_practice() -> dict[str, Schema]:
    editions = [edition for known in EDITIONS.values() for edition in known]
    return {
        "practice": _choice(PRACTICES, "Code to judge by; auto takes that of the units."),
        "edition": _one_or_more(editions, "Edition of AISC 360 or of EN 1090-2, or one of each."),
        "execution_class": {"enum": list(CLASSES), "description": "Of EN 1090-2."},
        "punching": _one_or_more(punching_codes(), "Codes whose limits on punching are held."),
        "contact": _table(
            "Parts that stay in contact with another one.",
            {
                "marks": _list(_TEXT, "Piece marks, or patterns of them."),
                "exposure": _choice(EXPOSURES, "How they are exposed to weather."),
            },
        ),
        "gauges": {
            "description": 'Usual gauges: "usual" for the published ones, else leg = its gauges.',
            "type": "object",
            "properties": {"usual": {"type": "boolean"}},
            "additionalProperties": {"anyOf": [_TEXT, _list(_TEXT, _LENGTH)]},
        },
        "stock": {
            "description": "Grades kept: true, or the thickest that is kept.",
            "type": "object",
            "additionalProperties": {"anyOf": [{"const": True}, _TEXT]},
        },
    }


def _of_rules() -> dict[str, Schema]:
    return {
        "limits": _table(
            "Limits of the shop in place of a code's.",
            {rule.name: _limit(rule) for rule in rules() if rule.limit},
        ),
        "severities": _table(
            "What the findings of a rule weigh.",
            {rule.name: _choice(WEIGHTS, f"Now: {rule.severity}.") for rule in rules()},
        ),
    }


def _table(description: str, properties: dict[str, Schema]) -> Schema:
    return {
        "description": description,
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }


def _choice(values: Iterable[str], description: str) -> Schema:
    return {"description": description, "enum": list(values)}


def _nc(values: tuple[str, ...]) -> Schema:
    """Return the values of a setting; true and false stand for yes and no."""
    is_plain = "yes" in values
    return {"enum": [*values, True, False] if is_plain else list(values)}


def _list(items: Schema, description: str) -> Schema:
    return {"description": description, "type": "array", "items": items}


def _one_or_more(values: Iterable[str], description: str) -> Schema:
    one: Schema = {"enum": list(values)}
    return {"description": description, "anyOf": [one, {"type": "array", "items": one}]}


def _limit(rule: Rule) -> Schema:
    words = allowed(rule.limit)
    return {**_TEXT, "description": f"{rule.title[:1].upper()}{rule.title[1:]}: {words}."}


def _tolerances() -> Schema:
    sides: dict[str, Any] = {
        "type": "object",
        "properties": {"minus": _TEXT, "plus": _TEXT},
        "required": ["minus", "plus"],
        "additionalProperties": False,
    }
    own: dict[str, Schema] = {name: {"anyOf": [_TEXT, sides]} for name in QUANTITIES}
    return _table(
        "Tolerances for the sheet of a first piece.",
        {CLASS: {"enum": list(TOLERANCE_CLASSES)}, **own},
    )
