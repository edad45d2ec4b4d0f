"""A countersink goes through the whole thickness.

What it checks: the depth of each countersink, from its diameter, the hole's and its angle,
against the thickness.

Why: the edge of the hole becomes a knife, the hole grows on the far side, and the screw pulls
through.

What to do: take a smaller countersink or thicker steel; look whether the head's diameter or its
height was given.

Reference: geometry, no source needed
"""

import math
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import Hole
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation

_STRAIGHT: Final = 180.0


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each countersink that is as deep as the steel is thick, or deeper."""
    thickness = facts.part.section.thickness_mm
    for leg, feature in facts.holes:
        depth = _depth(feature)
        if depth > thickness + HALF_LAST_DECIMAL_MM:
            yield Violation(
                message=f"the countersink of {named(feature)} is {facts.length(depth)} deep, more"
                f" than the thickness of {facts.length(thickness)}",
                element=path_of(leg, feature),
                value=depth,
                limit=thickness,
            )


def _depth(hole: Hole) -> float:
    """Return how deep a countersink is, 0 where there is none or its angle is no cone's."""
    wide, angle = hole.countersink_diameter_mm, hole.countersink_angle_deg
    if wide is None or angle is None or not 0.0 < angle < _STRAIGHT or wide <= hole.diameter_mm:
        return 0.0
    return (wide - hole.diameter_mm) / 2.0 / math.tan(math.radians(angle / 2.0))


RULE: Final = Rule(
    name="countersink-too-deep",
    title="a countersink goes through the whole thickness",
    severity=Severity.WARNING,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            name="example.part.json",
            text="""\
{"format": "backmark/part", "version": "1.0", "part": {"mark": "F1", "grade": "S275JR",
 "length_mm": 300, "section": {"kind": "flat", "width_mm": 100, "thickness_mm": 6},
 "legs": {"face": {"features": [
  {"id": "f1", "kind": "hole", "x_mm": 60, "y_mm": 50, "diameter_mm": 18,
   "countersink_diameter_mm": 30, "countersink_angle_deg": 90}]}}}}
""",
        ),
    ),
    failing=(
        Example(
            name="example.part.json",
            lines=(4,),
            text="""\
{"format": "backmark/part", "version": "1.0", "part": {"mark": "F1", "grade": "S275JR",
 "length_mm": 300, "section": {"kind": "flat", "width_mm": 100, "thickness_mm": 6},
 "legs": {"face": {"features": [
  {"id": "f1", "kind": "hole", "x_mm": 60, "y_mm": 50, "diameter_mm": 18,
   "countersink_diameter_mm": 30.02, "countersink_angle_deg": 90}]}}}}
""",
        ),
    ),
)
