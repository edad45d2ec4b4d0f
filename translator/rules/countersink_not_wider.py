"""A countersink is no wider than its hole.

What it checks: the diameter of each countersink against that of its hole.

Why: there is nothing to cut; the two diameters are changed for each other, or one is of another
hole.

What to do: hold both against the drawing.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each countersink that is not wider than its hole."""
    for leg, feature in facts.holes:
        wide = feature.countersink_diameter_mm
        if wide is not None and wide < feature.diameter_mm + HALF_LAST_DECIMAL_MM:
            yield Violation(
                message=f"the countersink of {named(feature)} is {facts.length(wide)} wide, no"
                f" wider than the hole of {facts.length(feature.diameter_mm)}",
                element=path_of(leg, feature),
                value=wide,
                limit=feature.diameter_mm,
            )


RULE: Final = Rule(
    name="countersink-not-wider",
    title="a countersink is no wider than its hole",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            name="example.part.json",
            text="""\
{"format": "backmark/part", "version": "1.0", "part": {"mark": "F1", "grade": "S275JR",
 "length_mm": 300, "section": {"kind": "flat", "width_mm": 100, "thickness_mm": 10},
 "legs": {"face": {"features": [
  {"id": "f1", "kind": "hole", "x_mm": 60, "y_mm": 50, "diameter_mm": 18,
   "countersink_diameter_mm": 18.01, "countersink_angle_deg": 90}]}}}}
""",
        ),
    ),
    failing=(
        Example(
            name="example.part.json",
            lines=(4,),
            text="""\
{"format": "backmark/part", "version": "1.0", "part": {"mark": "F1", "grade": "S275JR",
 "length_mm": 300, "section": {"kind": "flat", "width_mm": 100, "thickness_mm": 10},
 "legs": {"face": {"features": [
  {"id": "f1", "kind": "hole", "x_mm": 60, "y_mm": 50, "diameter_mm": 18,
   "countersink_diameter_mm": 18, "countersink_angle_deg": 90}]}}}}
""",
        ),
    ),
)
