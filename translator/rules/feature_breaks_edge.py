"""A hole, slot or opening breaks through an edge of its leg.

What it checks: the shortest distance from the edge of each hole, slot and opening to the real
outline of its leg, end cuts, copes and notches counted. No steel left is an error. How much
should be left is another matter (edge distances). A hole that is only marked is none.

Why: the hole is open at the edge; a bolt has nothing to bear on and a punch breaks out.

What to do: hold position, gauge and size against the drawing. A cut that is meant to be open at
the edge is a notch or a cope.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import Hole, Opening, Slot
from translator.rules._bolts import is_made
from translator.rules._facts import (
    HALF_LAST_DECIMAL_MM,
    Facts,
    is_past_end,
    named,
    on_leg,
    path_of,
)
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each cut-out whose centre is on the leg and whose edge is not."""
    for leg, feature, distance in facts.edge_distances:
        if (
            not isinstance(feature, Hole | Slot | Opening)
            or not is_made(feature)
            or is_past_end(feature, facts.part.length_mm)
            or distance.centre_mm < -HALF_LAST_DECIMAL_MM
            or distance.edge_mm >= HALF_LAST_DECIMAL_MM
        ):
            continue
        over = -distance.edge_mm
        words = f"reaches {facts.length(over)} over" if over >= HALF_LAST_DECIMAL_MM else "touches"
        yield Violation(
            message=f"{named(feature)} {words} the edge of {on_leg(leg)}",
            element=path_of(leg, feature),
            value=distance.edge_mm,
            limit=0.0,
        )


RULE: Final = Rule(
    name="feature-breaks-edge",
    title="a hole breaks through an edge",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            settings="""\
practice = "none"
[severities]
thin-web-at-edge = "off"
""",
            text="""\
units mm
part A1 {
  section L90x60x6
  length 400
  leg a {
    holes 18 gauge 80.99 at 40
    slots 18 x 30 along leg gauge 50 at 384.99
  }
}
""",
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x60x6
  length 400
  leg a {
    holes 18 gauge 81.01 at 40                     # <--
    holes 18 gauge 81 at 80                        # <--
    slots 18 x 30 along leg gauge 50 at 385.01     # <--
  }
}
"""
        ),
    ),
)
