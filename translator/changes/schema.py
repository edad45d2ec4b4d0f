"""The JSON Schema of the comparison."""

from typing import Any, Final, get_args

from translator.changes.document import FORMAT, VERSION
from translator.changes.model import WEIGHTS, Kind, Lie
from translator.changes.sides import STATUSES
from translator.documents.schema import DIALECT, Schema, record

_TEXT: Final[Schema] = {"type": "string"}
_COUNT: Final[Schema] = {"type": "integer", "minimum": 0}
_LINE: Final[Schema] = {"type": "integer", "minimum": 1}
_MASS: Final[Schema] = {"type": "number", "minimum": 0}

_WORDS: Final = {
    "format": "Name of this format.",
    "version": "Version of this format; the number before the point changes when a reader would"
    " have to.",
    "caution": "What the checks do not replace; show it with the results.",
    "old": "The old state.",
    "new": "The new state.",
    "summary": "Counts of marks.",
    "parts": "What became of each mark that changed or could not be read, in order of the marks.",
    "unchanged": "Marks of which nothing changed.",
    "rounded": "Marks of which nothing changed but roundings of figures.",
    "not_issued": "Marks that a partial new state does not issue again.",
    "compared_in_nc_terms": "Marks that are a file of the detailer format on one side only; what"
    " that format has no words for is not compared there.",
    "remarks": "What else is to be said, in sentences.",
    "path": "Path of the file, folder or release.",
    "pieces": "Pieces of all parts that could be read.",
    "mass_kg": "Mass as billed.",
    "missing": "What could not be read, or is on hold.",
    "not_ours": "Files that are not for this tool, which is no fault of theirs.",
    "why": "A sentence.",
    "line": "Line, counted from 1.",
    "mark": 'Piece mark; "" where it is not known.',
    "on_hold": "Whether it is a mark that a release holds back.",
    "message": "The first error, or the reason of the hold.",
    "weights": "Marks by the heaviest thing that changed.",
    "largest_rounding_mm": "The largest difference that was taken for rounding.",
    "status": "What became of the mark; a renamed one goes by its new mark.",
    "weight": "What the change touches: metal (the shape), work (other steel, numbers or finish),"
    " paper (only words), rounding (no change).",
    "old_missing": "Why there is no part on the old side.",
    "new_missing": "Why there is no part on the new side.",
    "warning": "A warning that the new piece is the mirror image of the old one.",
    "lie": "How the old piece is turned before its values are those of the items.",
    "ids": "Id of a feature of the old part -> its id in the new one, where they differ.",
    "changes": "What a person would say, and the values.",
    "order": 'The order; "" when not said.',
    "revision": 'The revision; "" when not said.',
    "quantity": "How many pieces.",
    "kind": "What sort of change.",
    "leg": "The leg that changed; absent where it is none alone.",
    "text": "In shop words and the author's units.",
    "items": "Each value that is another now. Doing all of them gives the new part.",
}


def changes_schema() -> dict[str, Any]:
    """Return the schema that every document of a comparison validates against."""
    words: dict[str, str] = {
        **_WORDS,
        **{str(status): f"Marks of status {status}." for status in STATUSES},
    }
    fault = record(
        {"path": _TEXT, "line": _LINE, "mark": _TEXT, "on_hold": _BOOL, "message": _TEXT}, words
    )
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:changes:{VERSION}",
        "title": "Changes",
        "description": "What changed between two states of a part, a folder or a release.",
        **record(
            {
                "format": {"const": FORMAT},
                "version": {"type": "string", "pattern": "^1\\.[0-9]+$"},
                "caution": _TEXT,
                "old": _side(words),
                "new": _side(words),
                "summary": _summary(words),
                "parts": _list({"$ref": "#/$defs/part"}),
                "unchanged": _list(_TEXT),
                "rounded": _list(_TEXT),
                "not_issued": _list(_TEXT),
                "compared_in_nc_terms": _list(_TEXT),
                "remarks": _list(_TEXT),
            },
            words,
        ),
        "$defs": {
            "missing": fault,
            "place": _place(words),
            "part": _part(words),
            "change": _change(words),
        },
    }


_BOOL: Final[Schema] = {"type": "boolean"}
_ANY_WEIGHT: Final[Schema] = {"enum": list(WEIGHTS)}


def _list(items: Schema) -> Schema:
    return {"type": "array", "items": items}


def _side(words: dict[str, str]) -> Schema:
    fields: dict[str, Schema] = {
        "path": _TEXT,
        "parts": {**_COUNT, "description": "Parts that could be read."},
        "pieces": _COUNT,
        "mass_kg": _MASS,
        "missing": _list({"$ref": "#/$defs/missing"}),
        "not_ours": _list(record({"path": _TEXT, "why": _TEXT}, words)),
    }
    return record(fields, words)


def _summary(words: dict[str, str]) -> Schema:
    told = [str(weight) for weight in WEIGHTS if weight != "rounding"]
    named = {weight: f"Marks whose heaviest change is {weight}." for weight in told}
    weights = record(dict.fromkeys(told, _COUNT), named)
    return record(
        {
            **dict.fromkeys(STATUSES, _COUNT),
            "unchanged": {**_COUNT, "description": "Marks of which nothing changed."},
            "weights": weights,
            "largest_rounding_mm": _MASS,
        },
        words,
    )


def _place(words: dict[str, str]) -> Schema:
    return record(
        {
            "path": _TEXT,
            "line": _LINE,
            "mark": _TEXT,
            "order": _TEXT,
            "revision": _TEXT,
            "quantity": {"type": "integer", "minimum": 1},
            "mass_kg": {**_MASS, "description": "Mass of one piece as billed."},
        },
        words,
    )


def _part(words: dict[str, str]) -> Schema:
    place, missing = {"$ref": "#/$defs/place"}, {"$ref": "#/$defs/missing"}
    told: dict[str, Schema] = {
        "lie": {"enum": list(get_args(Lie))},
        "warning": _TEXT,
        "ids": {"type": "object", "additionalProperties": _TEXT},
        "changes": _list({"$ref": "#/$defs/change"}),
    }
    return record(
        {
            "mark": _TEXT,
            "status": {"enum": list(STATUSES)},
            "weight": _ANY_WEIGHT,
            "old": place,
            "new": place,
            "remarks": _list(_TEXT),
            "old_missing": missing,
            "new_missing": missing,
            **told,
        },
        words,
        optional=("old", "new", "remarks", "old_missing", "new_missing", *told),
    )


def _change(words: dict[str, str]) -> Schema:
    item_words = {
        "path": 'Of the value in the part, as part JSON names it: "length_mm", "ends.far",'
        ' "legs.a.features", "waivers"; "" for the part as a whole.',
        "old": "The old value as part JSON has it, mm and degrees; null where there was none.",
        "new": "The new value; null where there is none any more.",
    }
    item = record({"path": _TEXT, "old": {}, "new": {}}, item_words)
    return record(
        {
            "kind": {"enum": list(get_args(Kind))},
            "weight": _ANY_WEIGHT,
            "leg": {"enum": ["a", "b", "face"]},
            "text": _TEXT,
            "items": _list(item),
        },
        words,
        optional=("leg",),
    )
