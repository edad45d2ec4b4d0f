"""The JSON Schema of the findings report."""

from typing import Any, Final

from translator.findings import Severity
from translator.reports.findings_json import FORMAT, VERSION

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def findings_schema() -> dict[str, Any]:
    """Return the schema that every findings report validates against."""
    place = _place()
    return {
        "$schema": _DIALECT,
        "$id": f"urn:backmark:findings:{VERSION}",
        "title": "Findings report",
        "description": "What was checked, and everything that was found.",
        **_record(
            {
                "format": {"const": FORMAT, "description": "Name of this format."},
                "version": {
                    "type": "string",
                    "pattern": "^1\\.[0-9]+$",
                    "description": "Version of this format; the number before the point"
                    " changes when a reader would have to.",
                },
                "caution": _text("What the checks do not replace; show it with the results."),
                "summary": _summary(),
                "findings": _list("In the order of their places.", {"$ref": "#/$defs/finding"}),
                "files": _list("Every file that was read.", _text("Path of a file.")),
                "not_ours": _list(
                    "Files that are not for this tool, which is no fault of theirs.",
                    _record({"path": _text("Path of the file."), "why": _text("A sentence.")}),
                ),
                "machines": _list(
                    "What each machine asked about can make of each part; absent when none was.",
                    _fit(),
                ),
                "rules_run": _list("The rules that were applied.", _text("Name of a rule.")),
                "rules_not_applicable": _list(
                    "The rules that were not applied.",
                    _record({"rule": _text("Name of the rule."), "why": _text("A sentence.")}),
                ),
                "practice": _list(
                    "Codes and editions that the parts were judged by.", _text("In words.")
                ),
                "changed": _list(
                    "Rules that the settings hold to another limit than the code's, or weigh"
                    " otherwise.",
                    _record({"rule": _text("Name of the rule."), "how": _text("In words.")}),
                ),
            },
            optional=("machines",),
        ),
        "$defs": {"finding": _finding(place), "related": _related(place)},
    }


def _fit() -> dict[str, Any]:
    return _record(
        {
            "path": _text("File of the part."),
            "mark": _text("Piece mark."),
            "machine": _text("Name of the machine."),
            "verdict": {
                "enum": ["complete", "with second work", "not"],
                "description": "What it can make of the part.",
            },
            "why": _text(
                "The first reason why not, or the second work in a list; absent when complete."
            ),
        },
        optional=("why",),
    )


def _finding(place: dict[str, Any]) -> dict[str, Any]:
    figure = {"type": "number"}
    return _record(
        {
            "rule": {
                "type": "string",
                "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$",
                "description": "Name of the fault; it never changes its meaning.",
            },
            "severity": {
                "enum": [str(severity) for severity in Severity],
                "description": "How much it weighs; an error keeps a part from release.",
            },
            "message": _text("A whole sentence: the offending value first, then the limit."),
            **place,
            "mark": _text('Piece mark it is about; "" when it is about a file.'),
            "element": _text(
                'Path of the element in the part ("legs.a.a3", "length"); "" for the whole.'
            ),
            "value": {**figure, "description": "The offending figure, in `unit`."},
            "limit": {
                **figure,
                "description": "The figure it is held against; value < limit: lower is worse.",
            },
            "unit": _text('Unit of both: "mm", "deg", "kg", "kg/m", "%", or "" for a count.'),
            "related": _list("Further places it speaks of.", {"$ref": "#/$defs/related"}),
            "waived": _text("The reason of the waiver that accepts it; absent when none does."),
            "waived_at": _record(place, description="Where that waiver stands."),
        },
        optional=("value", "limit", "unit", "related", "waived", "waived_at"),
        description="One fault, warning or note.",
    )


def _related(place: dict[str, Any]) -> dict[str, Any]:
    return _record(
        {"message": _text("A word on why this place matters."), **place},
        description="A second place that a finding speaks of.",
    )


def _place() -> dict[str, Any]:
    def number(description: str) -> dict[str, Any]:
        return {"type": "integer", "minimum": 1, "description": description}

    return {
        "path": _text('Path of the file; "-" for standard input.'),
        "line": number("Line, counted from 1."),
        "column": number("Column in characters, counted from 1."),
        "end_line": number("Line of the last character."),
        "end_column": number("Column behind the last character."),
    }


def _summary() -> dict[str, Any]:
    names = {
        "files": "Files read.",
        "parts": "Parts that could be read.",
        "errors": "Errors that no waiver accepts.",
        "warnings": "Warnings that no waiver accepts.",
        "notes": "Notes that no waiver accepts.",
        "waived": "Findings that a waiver accepts.",
    }
    return _record(
        {
            name: {"type": "integer", "minimum": 0, "description": description}
            for name, description in names.items()
        },
        description="Counts.",
    )


def _text(description: str) -> dict[str, Any]:
    return {"type": "string", "description": description}


def _list(description: str, items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items, "description": description}


def _record(
    properties: dict[str, Any], *, optional: tuple[str, ...] = (), description: str = ""
) -> dict[str, Any]:
    said = {"description": description} if description else {}
    return {
        **said,
        "type": "object",
        "properties": properties,
        "required": [name for name in properties if name not in optional],
        "additionalProperties": False,
    }
