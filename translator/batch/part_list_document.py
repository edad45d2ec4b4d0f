"""The part list as documents: JSON with its schema, and CSV."""

from types import MappingProxyType
from typing import Final

from translator.batch.part_list import (
    FORMAT,
    KG_PER_POUND,
    MAJOR,
    VERSION,
    ListedPart,
    PartList,
)
from translator.documents.csv_text import Value, csv_bytes
from translator.documents.schema import DIALECT, Schema, describe, plain, record
from translator.findings import CAUTION
from translator.json_text import json_text

_WORDS: Final = MappingProxyType(
    {
        "PartList.parts": "Each mark, by order and mark.",
        "PartList.sections": "Sums by section.",
        "PartList.total": "The sum of all.",
        "PartList.left_out": "Parts that a newer revision of their mark replaces; in no sum.",
        "mark": "Piece mark.",
        "order": "Order it belongs to.",
        "drawing": "Drawing it stands on.",
        "revision": "Its revision.",
        "title": "What it is called.",
        "quantity": "Pieces to make.",
        "section": "Designation of the section.",
        "Sum.section": "Designation of the section; absent for the sum of all.",
        "units": "Unit that the author wrote in.",
        "length": "Length as the author would write it, with its unit.",
        "length_mm": "Length of a piece.",
        "Sum.length_mm": "Length of all pieces together, nothing added for cuts.",
        "grade": "Steel grade.",
        "finish": "Finish.",
        "mass_kg": "Mass of a piece as billed: mass per metre times length.",
        "Sum.mass_kg": "Mass of all pieces as billed.",
        "total_mass_kg": "Mass of all pieces of the mark.",
        "paint_area_m2": "Area to paint of a piece.",
        "Sum.paint_area_m2": "Area to paint of all pieces.",
        "total_paint_area_m2": "Area to paint of all pieces of the mark.",
        "holes": "Holes of a piece.",
        "Sum.holes": "Holes of all pieces.",
        "slots": "Slots of a piece.",
        "Sum.slots": "Slots of all pieces.",
        "openings": "Openings of a piece.",
        "Sum.openings": "Openings of all pieces.",
        "stops": "Places along a piece at which something is made.",
        "file": "File it was read from.",
        "why_not": "Why it may not be handed on; empty when it may.",
        "newer": "The revision that replaces it.",
        "newer_file": "File of that revision.",
        "marks": "Marks.",
        "pieces": "Pieces.",
    }
)
_DOCUMENT: Final = MappingProxyType(
    {
        "format": "Always backmark/part-list.",
        "version": "Version of the format.",
        "caution": "What the checks do not replace.",
        "part_list": "The list.",
    }
)

COLUMNS: Final = (
    *("mark", "order", "drawing", "revision", "title", "quantity", "section", "length"),
    *("length_mm", "grade", "finish", "mass_kg", "total_mass_kg", "mass_lb", "total_mass_lb"),
    *("paint_area_m2", "total_paint_area_m2", "holes", "slots", "openings", "stops"),
    *("file", "why_not"),
)
"""Columns of the CSV; without a row of sums, so that a spreadsheet can add them up itself."""


def part_list_json(found: PartList) -> str:
    """Return a part list as a JSON document; what is absent is left out."""
    return json_text(
        {
            "format": FORMAT,
            "version": VERSION,
            "caution": CAUTION,
            "part_list": found.model_dump(mode="json", exclude_none=True),
        }
    )


def part_list_csv(found: PartList) -> bytes:
    """Return the marks of a part list as a table, a row for each."""
    return csv_bytes(COLUMNS, [[_cell(row, name) for name in COLUMNS] for row in found.parts])


def _cell(row: ListedPart, name: str) -> Value:
    if name in ("mass_lb", "total_mass_lb"):
        kilograms = row.mass_kg if name == "mass_lb" else row.total_mass_kg
        return round(kilograms / KG_PER_POUND, 2)
    value: Value = getattr(row, name)
    return value


def part_list_schema() -> Schema:
    """Return the schema that every part list validates against."""
    model = plain(PartList.model_json_schema())
    definitions: dict[str, Schema] = model.pop("$defs")
    definitions["PartList"] = model
    for name, definition in definitions.items():
        describe(name, definition, _WORDS)
    document = {
        "format": {"const": FORMAT},
        "version": {"type": "string", "pattern": f"^{MAJOR}\\.[0-9]{{1,4}}$"},
        "caution": {"type": "string"},
        "part_list": {"$ref": "#/$defs/PartList"},
    }
    return {
        "$schema": DIALECT,
        "$id": f"urn:backmark:part-list:{VERSION}",
        "title": "Part list",
        "description": "The marks of a delivery, with sums by section.",
        **record(document, _DOCUMENT),
        "$defs": dict(sorted(definitions.items())),
    }
