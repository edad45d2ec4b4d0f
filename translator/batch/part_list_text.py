"""The part list as a person reads it: text of at most 100 columns."""

import textwrap
from collections.abc import Iterator
from itertools import groupby
from typing import Final, Literal

from translator.bars.text_table import table
from translator.bars.wording import length_words, many
from translator.batch.part_list import KG_PER_POUND, ListedPart, PartList, Sum
from translator.findings import CAUTION
from translator.source import printable

WIDTH: Final = 100
_MM_PER_METRE: Final = 1000.0
_SQUARE_FEET: Final = 1 / 0.3048**2
"""Square feet in a square metre; a foot is 0.3048 m by definition."""

_NUMBERS: Final = (2, 4, 6, 7, 8, 9, 10)


def part_list_text(found: PartList) -> str:
    """Return a part list as text, in pounds and square feet where all parts are in inches.

    Marks are grouped by order and drawing; below stand the sums by section and of all. What
    is left out, or may not be handed on, is named.
    """
    units: Literal["mm", "inch"] = "mm"
    if found.parts and all(part.units == "inch" for part in found.parts):
        units = "inch"
    lines: list[str] = []
    groups = groupby(found.parts, key=lambda part: (part.order or "", part.drawing or ""))
    by_drawing: dict[tuple[str, str], list[ListedPart]] = {}
    for key, parts in groups:
        by_drawing.setdefault(key, []).extend(parts)
    for (order, drawing), rows in sorted(by_drawing.items()):
        lines += [_title(order, drawing), *_parts(rows, units), ""]
    lines += [*_sums(found, units), ""] if found.parts else ["no parts", ""]
    lines += _remarks(found)
    lines += textwrap.wrap(CAUTION, WIDTH)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _title(order: str, drawing: str) -> str:
    where = [f"order {order}"] if order else []
    where += [f"drawing {drawing}"] if drawing else []
    return printable(", ".join(where) or "no order")


def _parts(rows: list[ListedPart], units: Literal["mm", "inch"]) -> Iterator[str]:
    mass, area = _unit_names(units)
    head = (
        *("mark", "rev", "pcs", "section", "length", "grade"),
        *(f"{mass} each", mass, area, "holes", "slots"),
    )
    cells = [
        (
            row.mark,
            row.revision or "",
            str(row.quantity),
            row.section,
            length_words(row.length_mm, row.units),
            row.grade or "",
            _mass(row.mass_kg, units),
            _mass(row.total_mass_kg, units),
            _area(row.total_paint_area_m2, units),
            str(row.holes),
            str(row.slots),
        )
        for row in rows
    ]
    return table(head, cells, numbers=_NUMBERS)


def _sums(found: PartList, units: Literal["mm", "inch"]) -> Iterator[str]:
    mass, area = _unit_names(units)
    length = "length" if units == "inch" else "length m"
    head = ("section", "marks", "pcs", length, mass, area, "holes", "slots")
    rows = [_summed(one.section or "", one, units) for one in found.sections]
    yield "totals"
    yield from table(head, [*rows, _summed("all", found.total, units)], numbers=range(1, 8))


def _summed(name: str, one: Sum, units: Literal["mm", "inch"]) -> tuple[str, ...]:
    metres = f"{one.length_mm / _MM_PER_METRE:.3f}"
    return (
        name,
        str(one.marks),
        str(one.pieces),
        length_words(one.length_mm, units) if units == "inch" else metres,
        _mass(one.mass_kg, units),
        _area(one.paint_area_m2, units),
        str(one.holes),
        str(one.slots),
    )


def _unit_names(units: str) -> tuple[str, str]:
    return ("lb", "paint ft2") if units == "inch" else ("kg", "paint m2")


def _mass(kilograms: float, units: str) -> str:
    return f"{kilograms / KG_PER_POUND if units == 'inch' else kilograms:.2f}"


def _area(square_metres: float, units: str) -> str:
    return f"{square_metres * (_SQUARE_FEET if units == 'inch' else 1.0):.2f}"


def _remarks(found: PartList) -> list[str]:
    said = [
        f"left out: {one.mark} revision {one.revision} of {one.file}: revision {one.newer} in"
        f" {one.newer_file} replaces it"
        for one in found.left_out
    ]
    doubtful = [part for part in found.parts if part.why_not]
    said += [f"not to be made yet: {p.mark} of {p.file}: {p.why_not}" for p in doubtful]
    if doubtful:
        said.append(f"{many(len(doubtful), 'mark')} of the list can't be handed on")
    lines = [line for text in said for line in textwrap.wrap(printable(text), WIDTH)]
    return [*lines, ""] if lines else []
