"""A blind hole is as deep as the steel is thick, or deeper.

What it checks: the stated depth of each hole and slot against the thickness.

Why: a hole that goes through is told without a depth; a depth of the whole thickness or more is
another part's, or the machine drills on into its bed.

What to do: leave the depth out for a through hole, or correct it.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each blind hole and slot that leaves no floor."""
    thickness = facts.part.section.thickness_mm
    for leg, feature in facts.drilled:
        if feature.depth_mm is not None and feature.depth_mm >= thickness - HALF_LAST_DECIMAL_MM:
            yield Violation(
                message=f"{named(feature)} is {facts.length(feature.depth_mm)} deep, not less than"
                f" the thickness of {facts.length(thickness)}",
                element=path_of(leg, feature),
                value=feature.depth_mm,
                limit=thickness,
            )


RULE: Final = Rule(
    name="blind-hole-through",
    title="a blind hole is as deep as the steel is thick",
    severity=Severity.WARNING,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part F1 { section FB100x10  length 300  face { holes 18 gauge 50 at 60 depth 9.99 } }
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part F1 {
  section FB100x10
  length 300
  face { holes 18 gauge 50 at 60 depth 10 }    # <--
}
"""
        ),
    ),
)
