"""The mass per metre that the source states is not that of the section.

What it checks: a stated mass per metre against the published mass of a listed size, or area
times 7850 kg/m3 of any other. More than 3 % apart is a warning. A figure that fits the mass of
the whole piece, pounds per foot, or (for a flat) a square metre is only a note: the writer
filled the field in another unit.

Why: mass and sizes come from two places in the detailer's data; when they disagree the section
may be another than the one drawn.

What to do: hold the section against the drawing. The stated mass is used for nothing.

Reference: 3 % is common practice, no source; EN 10056-1 and US table masses, else 7850 kg/m3
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.mass import gross_mass_kg, mass_per_metre_kg
from translator.model import Flat
from translator.rules._facts import Facts, decimal
from translator.rules._limits import share
from translator.rules._rule import Example, Rule, Violation

TOLERANCE: Final = 0.03
"""Share of the computed mass; published and computed masses differ by up to 1.6 %."""

KG_PER_METRE_IN_LB_PER_FOOT: Final = 1.4881639
"""0.45359237 kg in a pound over 0.3048 m in a foot."""


def check(facts: Facts) -> Iterator[Violation]:
    """Yield the stated mass when it is not that of the section."""
    stated = facts.part.stated
    if stated is None or not stated.mass_per_metre_kg:
        return
    value, limit = stated.mass_per_metre_kg, mass_per_metre_kg(facts.part.section)
    if abs(value - limit) <= share(facts, "stated-mass-differs", TOLERANCE) * limit:
        return
    other = _other_meaning(facts, value, limit)
    figures = f"the stated mass is {decimal(value, 3)} kg/m, that of the section is"
    yield Violation(
        message=f"{figures} {decimal(limit, 3)} kg/m" + (f"; it fits {other}" if other else ""),
        element="stated.mass_per_metre_kg",
        value=value,
        limit=limit,
        unit="kg/m",
        severity=Severity.NOTE if other else None,
    )


def _other_meaning(facts: Facts, value: float, limit: float) -> str:
    section = facts.part.section
    if _is_near(value, gross_mass_kg(facts.part)):
        return "the mass of the whole piece in kg"
    if _is_near(value, limit / KG_PER_METRE_IN_LB_PER_FOOT):
        return "pounds per foot"
    if isinstance(section, Flat) and _is_near(value, limit / section.width_mm * 1000.0):
        return "kg per square metre"
    return ""


def _is_near(value: float, limit: float) -> bool:
    return abs(value - limit) <= TOLERANCE * limit


_PASSING: Final = """\
units mm
part A1 {
  section L80x80x8             # 9.63 kg/m by EN 10056-1
  length 1250
  stated mass 9.91kg/m
}
"""

_FAILING: Final = """\
units mm
part A1 {
  section L80x80x8             # 9.63 kg/m by EN 10056-1
  length 1250
  stated mass 9.92kg/m         # <--
}
"""

RULE: Final = Rule(
    name="stated-mass-differs",
    title="the stated mass is not that of the section",
    severity=Severity.WARNING,
    scope="part",
    reference="3 % is common practice, no source; EN 10056-1 and US table masses, else 7850 kg/m3",
    check=check,
    passing=(Example(text=_PASSING),),
    failing=(Example(text=_FAILING),),
    limit=("%",),
)
