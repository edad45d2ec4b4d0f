"""An angle is of no size that the tables list.

What it checks: legs and thickness of an angle, to 0.05 mm, against EN 10056-1 and the US table.

Why: a size that nobody rolls is most often a slip in one of its figures, and it can't be bought.

What to do: hold the size against the drawing. Sizes of other tables, and bent ones, are all
right: mass and radii are then worked out and not looked up.

Reference: EN 10056-1:1998 Tables 1 and 2; AISC Shapes Database v16.0
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import Angle
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation
from translator.tables.angles import nearest

TOLERANCE_MM: Final = 0.05


def check(facts: Facts) -> Iterator[Violation]:
    """Yield once for an angle of a size that is not listed."""
    section = facts.part.section
    if not isinstance(section, Angle):
        return
    sizes = section.leg_a_mm, section.leg_b_mm, section.thickness_mm
    if nearest(*sizes, within_mm=TOLERANCE_MM) is None:
        told = " x ".join(facts.length(size).rpartition(" ")[0] for size in sizes)
        unit = facts.length(section.leg_a_mm).rpartition(" ")[2]
        yield Violation(
            message=f"an angle {told} {unit} is in no table of rolled sizes", element="section"
        )


RULE: Final = Rule(
    name="section-not-listed",
    title="an angle is of no listed size",
    severity=Severity.NOTE,
    scope="part",
    reference="EN 10056-1:1998 Tables 1 and 2; AISC Shapes Database v16.0",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 { section L90x90x10  length 300 }
part A2 { section L4x3-1/2x3/8  length 310 }
"""
        ),
    ),
    failing=(Example(text="units mm\npart A1 { section L90x90x11  length 300 }    # <--\n"),),
)
