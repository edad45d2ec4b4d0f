"""A hole, slot, opening or mark does not lie on its leg.

What it checks: the centre of each hole, slot, opening and mark against the real outline of its
leg, end cuts, copes and notches counted. A scribed line that leaves the leg by more than
0.05 mm is a warning.

Why: there is no steel at that place. Often the gauge was measured from the toe and not from the
heel, or is that of the other leg.

What to do: look from which edge the drawing measures, and on which leg.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import CentreMark, Hole, Opening, Scribe, Slot
from translator.rules._facts import (
    HALF_LAST_DECIMAL_MM,
    Facts,
    is_past_end,
    named,
    on_leg,
    path_of,
)
from translator.rules._rule import Example, Rule, Violation

SCRIBE_SLACK_MM: Final = 0.05
"""A layout line drawn out to the edge may overrun it by the rounding of its source."""


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each feature whose centre is outside its leg's outline, between the ends."""
    for leg, feature, distance in facts.edge_distances:
        if isinstance(feature, Scribe):
            if distance.edge_mm < -SCRIBE_SLACK_MM:
                yield Violation(
                    message=f"{named(feature)} runs {facts.length(-distance.edge_mm)} off"
                    f" {on_leg(leg)}",
                    element=path_of(leg, feature),
                    value=distance.edge_mm,
                    limit=0.0,
                    severity=Severity.WARNING,
                )
        elif (
            isinstance(feature, Hole | Slot | Opening | CentreMark)
            and distance.centre_mm < -HALF_LAST_DECIMAL_MM
            and not is_past_end(feature, facts.part.length_mm)
        ):
            yield Violation(
                message=f"the centre of {named(feature)} is {facts.length(-distance.centre_mm)}"
                f" outside the outline of {on_leg(leg)}",
                element=path_of(leg, feature),
                value=distance.centre_mm,
                limit=0.0,
            )


RULE: Final = Rule(
    name="feature-off-leg",
    title="a hole or mark does not lie on its leg",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x60x6
  length 400
  leg a { holes 18 gauge 75 at 40   centre mark gauge 90 at 100 }
}
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x60x6
  length 400
  leg b { holes 18 gauge 75 at 40 }               # <--
  leg a {
    centre mark gauge 90.01 at 100                # <--
    cope far toe 80 long x 45 deep
    holes 18 gauge 60 at 350                      # <--
  }
}
"""
        ),
    ),
)
