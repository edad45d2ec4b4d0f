"""The part list of a delivery: what each mark is, how many, what it weighs and holds."""

import re
from collections.abc import Iterable, Sequence
from typing import Annotated, Final, Literal

from msgspec.structs import replace
from pydantic import Field

from translator.geometry.mass import gross_mass_kg
from translator.geometry.paint import paint_area_m2
from translator.geometry.stops import stops
from translator.lengths.spell import length_text
from translator.model import Part, Placed, leg_names, leg_of
from translator.model.numbers import Frozen, SizeMm, Text
from translator.rules._digest import Digest, superseded
from translator.tables.designations import designation_of

FORMAT: Final = "backmark/part-list"
"""Stands in the field ``format`` of every part list."""

MAJOR: Final = 1
"""Changes when a reader written for the old form would misread the new one."""

VERSION: Final = f"{MAJOR}.0"
"""Stands in the field ``version``; the number behind the point counts added fields."""

KG_PER_POUND: Final = 0.45359237
"""Exact by definition (international yard and pound agreement, 1959)."""

_GRAM: Final = 3
_SQUARE_CENTIMETRE: Final = 4

Count = Annotated[int, Field(ge=0)]
Amount = Annotated[float, Field(ge=0, allow_inf_nan=False)]


class ListedPart(Frozen):
    """One mark. Masses, areas and counts are of one piece unless their name says "total"."""

    mark: Text
    order: Text | None = None
    drawing: Text | None = None
    revision: Text | None = None
    title: Text | None = None
    quantity: Count
    section: Text
    units: Literal["mm", "inch"]
    length: Text
    length_mm: SizeMm
    grade: Text | None = None
    finish: Text | None = None
    mass_kg: Amount
    total_mass_kg: Amount
    paint_area_m2: Amount
    total_paint_area_m2: Amount
    holes: Count
    slots: Count
    openings: Count
    stops: Count
    file: str
    why_not: str = ""


class LeftOut(Frozen):
    """A part that is in no sum, since a newer revision of its mark replaces it."""

    mark: Text
    revision: Text | None = None
    file: str
    newer: Text | None = None
    newer_file: str


class Sum(Frozen):
    """Sums over all pieces of some marks. ``section`` is None for the whole list."""

    section: Text | None = None
    marks: Count
    pieces: Count
    length_mm: Amount
    mass_kg: Amount
    paint_area_m2: Amount
    holes: Count
    slots: Count
    openings: Count


class PartList(Frozen):
    """A part list: marks by order and mark, sums by section, and the sum of all."""

    parts: tuple[ListedPart, ...]
    sections: tuple[Sum, ...]
    total: Sum
    left_out: tuple[LeftOut, ...] = ()


def part_list(
    parts: Sequence[Placed], digests: Sequence[Digest], refused: Sequence[str]
) -> PartList:
    """Return the list of a delivery.

    Args:
        parts: those that could be read.
        digests: of each of them; their numbers do not count.
        refused: for each why it may not be handed on; "" when it may.
    """
    replaced = superseded(tuple(replace(d, number=n) for n, d in enumerate(digests)))
    rows: list[ListedPart] = []
    left_out: list[LeftOut] = []
    for number, (placed, why) in enumerate(zip(parts, refused, strict=True)):
        part, newer = placed.part, replaced.get(number)
        if newer is None:
            rows.append(listed(part, placed.places[""].path, why))
        else:
            left_out.append(
                LeftOut(
                    mark=part.mark,
                    revision=part.revision,
                    file=placed.places[""].path,
                    newer=newer.revision,
                    newer_file=newer.path,
                )
            )
    rows.sort(key=lambda row: (row.order or "", natural(row.mark), row.file))
    names = sorted({row.section for row in rows}, key=natural)
    return PartList(
        parts=tuple(rows),
        sections=tuple(_sum(name, (r for r in rows if r.section == name)) for name in names),
        total=_sum(None, rows),
        left_out=tuple(left_out),
    )


def listed(part: Part, file: str, why_not: str = "") -> ListedPart:
    """Return the row of one part; figures rounded to a gram and a square centimetre."""
    kinds = [feature.kind for leg in leg_names(part) for feature in leg_of(part, leg).features]
    mass = round(gross_mass_kg(part), _GRAM)
    paint = round(paint_area_m2(part), _SQUARE_CENTIMETRE)
    return ListedPart(
        mark=part.mark,
        order=part.order,
        drawing=part.drawing,
        revision=part.revision,
        title=part.title,
        quantity=part.quantity,
        section=designation_of(part.section),
        units=part.units,
        length=_marked(length_text(part.length_mm, part.units), part.units),
        length_mm=part.length_mm,
        grade=part.grade,
        finish=part.finish,
        mass_kg=mass,
        total_mass_kg=round(mass * part.quantity, _GRAM),
        paint_area_m2=paint,
        total_paint_area_m2=round(paint * part.quantity, _SQUARE_CENTIMETRE),
        holes=kinds.count("hole"),
        slots=kinds.count("slot"),
        openings=kinds.count("opening"),
        stops=len(stops(part)),
        file=file,
        why_not=why_not,
    )


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Return a key that sorts C2 before C12: runs of digits by their number, before letters."""
    return tuple(_run_key(run) for run in re.findall("[0-9]+|[^0-9]", text))


def _run_key(run: str) -> tuple[int, int, str]:
    if run[0] not in "0123456789":
        return 2, 0, run
    digits = run.lstrip("0")
    return 1, len(digits), digits


def _marked(length: str, units: str) -> str:
    """Give a length its unit, so that no spreadsheet takes a fraction for a day."""
    if length.endswith("mm"):
        return length
    return f'{length}"' if units == "inch" else f"{length}mm"


def _sum(section: str | None, parts: Iterable[ListedPart]) -> Sum:
    rows = list(parts)
    return Sum(
        section=section,
        marks=len(rows),
        pieces=sum(row.quantity for row in rows),
        length_mm=round(sum(row.quantity * row.length_mm for row in rows), _GRAM),
        mass_kg=round(sum(row.total_mass_kg for row in rows), _GRAM),
        paint_area_m2=round(sum(row.total_paint_area_m2 for row in rows), _SQUARE_CENTIMETRE),
        holes=sum(row.quantity * row.holes for row in rows),
        slots=sum(row.quantity * row.slots for row in rows),
        openings=sum(row.quantity * row.openings for row in rows),
    )
