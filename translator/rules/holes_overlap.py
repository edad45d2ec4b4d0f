"""Two holes, slots or openings of one leg run into each other.

What it checks: the clear distance between the edges of all holes, slots and openings of a leg;
less than nothing, or nothing at all, is an error. A hole given twice at one place is another
matter (duplicate-hole), and a blind hole around a hole of the same centre is a counterbore.

Why: the steel between them is gone; the second stroke of a punch has nothing on one side.

What to do: look which of both is in the wrong place. A slot is told as a slot, not as a row of
holes.

Reference: geometry, no source needed
"""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from translator.findings import Severity
from translator.geometry.clearance import Extent, clear_distance, extent
from translator.model import Hole, LegName, leg_names
from translator.rules._facts import (
    HALF_LAST_DECIMAL_MM,
    Facts,
    named,
    on_leg,
    path_of,
)
from translator.rules._pairs import MOST_PAIRS, SAME_PLACE_MM, CutOut, centre, neighbours
from translator.rules._rule import Example, Rule, Violation

_ROUNDING_MM: Final = 1e-6
"""More than two ways of working out one distance can differ by."""


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each cut-out that runs into an earlier one of its leg."""
    for leg in leg_names(facts.part):
        if _may_overlap(facts, leg):
            yield from _overlaps(facts, leg, facts.cut_outs[leg])


def _may_overlap(facts: Facts, leg: LegName) -> bool:
    """Tell whether to look closely: not where the pairs that every rule shares show no need."""
    count = len(facts.cut_outs[leg])
    if leg in facts.uncompared or count * (count - 1) // 2 > MOST_PAIRS:
        return True
    return any(
        pair.clear_mm < HALF_LAST_DECIMAL_MM + _ROUNDING_MM
        for pair in facts.pairs
        if pair.leg == leg
    )


def _overlaps(facts: Facts, leg: LegName, cut_outs: Sequence[CutOut]) -> Iterator[Violation]:
    told: set[int] = set()
    boxes = [extent(f) for f in cut_outs]
    for number, (i, j) in enumerate(neighbours(cut_outs)):
        if number == MOST_PAIRS:
            yield Violation(
                message=f"more than {MOST_PAIRS} pairs of holes lie close together on"
                f" {on_leg(leg)}; the rest was not compared",
                element=f"legs.{leg}",
            )
            return
        first, second = cut_outs[i], cut_outs[j]
        if j in told or _are_apart(boxes[i], boxes[j]) or _is_counterbore(first, second):
            continue
        clear = clear_distance(first, second)
        if clear < HALF_LAST_DECIMAL_MM:
            told.add(j)
            yield _overlap(facts, leg, first, second, clear)


def _overlap(facts: Facts, leg: LegName, first: CutOut, second: CutOut, clear: float) -> Violation:
    over = -clear
    words = f"runs {facts.length(over)} into" if over >= HALF_LAST_DECIMAL_MM else "touches"
    return Violation(
        message=f"{named(second)} {words} {named(first)}",
        element=path_of(leg, second),
        value=clear,
        limit=0.0,
        related=((path_of(leg, first), named(first)),),
    )


def _is_counterbore(one: CutOut, two: CutOut) -> bool:
    if not isinstance(one, Hole) or not isinstance(two, Hole):
        return False
    away = math.dist(centre(one), centre(two))
    return away <= SAME_PLACE_MM and (one.depth_mm is None) != (two.depth_mm is None)


def _are_apart(one: Extent, two: Extent) -> bool:
    across = max(one.left, two.left) - min(one.right, two.right)
    along = max(one.low, two.low) - min(one.high, two.high)
    return max(across, along) >= HALF_LAST_DECIMAL_MM


RULE: Final = Rule(
    name="holes-overlap",
    title="two holes run into each other",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            settings="""\
practice = "none"
[severities]
thin-web-between-holes = "off"
""",
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 22 gauge 50 at 40
    holes 22 gauge 50 at 62.01
    holes 14 gauge 50 at 200
    holes 26 gauge 50 at 200 depth 4       # a counterbore
  }
  leg b { holes 22 gauge 50 at 50 }
}
""",
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 22 gauge 50 at 40
    holes 22 gauge 50 at 61.99                 # <--
    holes 22 gauge 50 at 200
    slots 22 x 40 along leg gauge 50 at 231    # <--
  }
}
"""
        ),
    ),
)
