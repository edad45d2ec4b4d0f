"""A slot is hardly longer than it is wide.

What it checks: the overall length of each slot less its width; under 1.5 mm is a warning. The
least of the tables is 1/8 in. (3 mm).

Why: a slot that short lets nothing move. Most often the length was given between the centres of
its ends, or another figure was typed for it.

What to do: look whether the drawing gives the overall length; length here is overall.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import on_grid
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation

LEAST_TRAVEL_MM: Final = 1.5


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each slot in which a bolt hardly moves."""
    for leg, feature in facts.slots:
        travel = on_grid(feature.length_mm - feature.width_mm)
        if travel < LEAST_TRAVEL_MM - HALF_LAST_DECIMAL_MM:
            yield Violation(
                message=f"{named(feature)} is only {facts.length(travel)} longer than wide; less"
                f" than {facts.length(LEAST_TRAVEL_MM)} is no slot of any table",
                element=path_of(leg, feature),
                value=travel,
                limit=LEAST_TRAVEL_MM,
            )


RULE: Final = Rule(
    name="slot-hardly-longer",
    title="a slot is hardly longer than it is wide",
    severity=Severity.WARNING,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { slots 22 x 23.5 along leg gauge 50 at 100 }
}
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { slots 22 x 23.49 along leg gauge 50 at 100 }    # <--
}
"""
        ),
    ),
)
