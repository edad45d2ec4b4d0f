"""A hole or slot is smaller than the bolt that is stated for it.

What it checks: the diameter of each hole and the width of each slot with a stated bolt against
the bolt's diameter; tapped holes excepted.

Why: the bolt does not go in.

What to do: hold bolt and hole against the drawing; `holes bolt M20` gives the standard hole.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bolts import is_tapped, least_width
from translator.rules._facts import Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.holes import ROUNDING_MM


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole and slot that is narrower than its stated bolt."""
    for leg, feature in facts.drilled:
        meant = facts.bolts.get(feature.id)
        if meant is None or not meant.is_stated or is_tapped(feature):
            continue
        width, diameter = least_width(feature), meant.bolt.diameter.mm
        if width < diameter - ROUNDING_MM:
            yield Violation(
                message=f"{named(feature)} is {facts.length(width)} wide, too small for"
                f" {meant.words}",
                element=path_of(leg, feature),
                value=width,
                limit=diameter,
            )


RULE: Final = Rule(
    name="hole-smaller-than-bolt",
    title="a hole is smaller than its bolt",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a {
    holes bolt 3/4 gauge 2-1/2 at 1-1/4
    holes 11/16 tapped bolt 3/4 gauge 2-1/2 at 5
  }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a {
    holes 13/16 bolt 7/8 gauge 2-1/2 at 1-1/4              # <--
    slots 11/16 x 1-3/8 along leg bolt 3/4 gauge 2-1/2 at 5  # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
)
