"""The paint area per metre that the source states is not that of the section.

What it checks: a stated area against the perimeter of the section with its radii; more than 3 %
apart, and more than the last decimal (0.001 m2), is a note.

Why: it is a second witness of the sizes; when it disagrees, the section may be another one.

What to do: hold the section against the drawing. The stated area is used for nothing here.

Reference: 3 % is common practice, no source; geometry
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.sections import section_perimeter_mm
from translator.rules._facts import Facts, decimal
from translator.rules._limits import share
from translator.rules._rule import Example, Rule, Violation

TOLERANCE: Final = 0.03
LAST_DECIMAL_M2: Final = 0.001


def check(facts: Facts) -> Iterator[Violation]:
    """Yield the stated area when it is not that of the section."""
    stated = facts.part.stated
    if stated is None or not stated.paint_area_per_metre_m2:
        return
    value = stated.paint_area_per_metre_m2
    limit = section_perimeter_mm(facts.part.section) / 1000.0
    tolerance = share(facts, "stated-paint-differs", TOLERANCE) * limit
    if abs(value - limit) > max(tolerance, LAST_DECIMAL_M2):
        yield Violation(
            message=f"the stated paint area is {decimal(value, 3)} m2/m, that of the section is"
            f" {decimal(limit, 3)} m2/m",
            element="stated.paint_area_per_metre_m2",
            value=value,
            limit=limit,
            unit="m2/m",
        )


RULE: Final = Rule(
    name="stated-paint-differs",
    title="the stated paint area is not that of the section",
    severity=Severity.NOTE,
    scope="part",
    reference="3 % is common practice, no source; geometry",
    check=check,
    passing=(
        Example(text="units mm\npart F1 { section FB100x10  length 300  stated paint 0.22m2/m }\n"),
    ),
    failing=(
        Example(
            text="""\
units mm
part F1 { section FB100x10  length 300  stated paint 0.23m2/m }    # <--
"""
        ),
    ),
    limit=("%",),
)
