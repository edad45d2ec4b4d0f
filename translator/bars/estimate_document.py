"""The estimate as documents: JSON with its schema, and CSV."""

from collections.abc import Iterator

from translator.bars.estimate_model import FORMAT, MAJOR, VERSION, Estimate
from translator.bars.estimate_words import DOCUMENT, FIELDS
from translator.documents.csv_text import Value, csv_bytes
from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.findings import CAUTION
from translator.json_text import json_text


def estimate_json(estimate: Estimate) -> str:
    """Return an estimate as a JSON document; what is absent is left out."""
    return json_text(
        {
            "format": FORMAT,
            "version": VERSION,
            "caution": CAUTION,
            "estimate": estimate.model_dump(mode="json", exclude_none=True),
        }
    )


def estimate_schema() -> Schema:
    """Return the schema that every estimate validates against."""
    model = plain(Estimate.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["Estimate"] = model
    for name, definition in definitions.items():
        describe(name, definition, FIELDS)
    document = {
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "estimate": {"$ref": "#/$defs/Estimate"},
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:estimate:{VERSION}",
        "title": "Estimate",
        "description": "What an order takes on a machine, and for each tonne of it.",
        **record(document, DOCUMENT),
        "$defs": dict(sorted(definitions.items())),
    }


_COLUMNS = (
    *("machine", "order", "mark", "revision", "source", "section", "grade", "length_mm"),
    *("quantity", "verdict", "why", "second_work", "holes", "stops", "cuts"),
    *("seconds_each", "pieces_per_hour", "net_kg_each", "billed_kg_each"),
)


def estimate_csv(estimate: Estimate) -> bytes:
    """Return the marks of an estimate as a table, one line for each mark and machine."""
    return csv_bytes(_COLUMNS, _rows(estimate))


def _rows(estimate: Estimate) -> Iterator[tuple[Value, ...]]:
    for one in estimate.machines:
        for piece in one.pieces:
            is_made = piece.verdict != "not"
            yield (
                *(one.machine, piece.order, piece.mark, piece.revision, piece.source),
                *(piece.section, piece.grade, piece.length_mm, piece.quantity, piece.verdict),
                *(piece.why, "; ".join(piece.second_work), piece.holes),
                *((piece.stops, piece.cuts, piece.seconds) if is_made else (None, None, None)),
                *(piece.pieces_per_hour, piece.net_mass_kg, piece.billed_mass_kg),
            )
