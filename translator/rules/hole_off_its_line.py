"""One hole lies a little off the line on which its neighbours lie.

What it checks: holes and slots of one leg: where three or more stand on one gauge, and a single
one on a gauge of its own that is more than 0.05 mm and at most 1/16 in. (1.6 mm) away.

Why: nobody draws two gauges so near to each other; it is a slip in one of them, or a model that
is not square. Punched, the leg has to be set twice.

What to do: hold the gauges against the drawing.

Reference: common practice, no source
"""

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import Hole, LegName, Slot, leg_names, on_grid
from translator.rules._bolts import is_made
from translator.rules._facts import Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation

ROUNDED_MM: Final = 0.05
NEAR_MM: Final = 1.6
FEWEST: Final = 3


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole that stands alone beside a line of others."""
    for leg in leg_names(facts.part):
        holes = [f for name, f in facts.drilled if name == leg and is_made(f)]
        if len(holes) > FEWEST:
            yield from _off(facts, leg, holes)


def _off(facts: Facts, leg: LegName, holes: list[Hole | Slot]) -> Iterator[Violation]:
    counts = Counter(hole.y_mm for hole in holes)
    lines = sorted(y for y, count in counts.items() if count >= FEWEST)
    for hole in holes:
        if counts[hole.y_mm] > 1 or not lines:
            continue
        at = bisect_left(lines, hole.y_mm)
        line = min(lines[max(0, at - 1) : at + 1], key=lambda y: abs(y - hole.y_mm))
        away = on_grid(abs(line - hole.y_mm))
        if ROUNDED_MM < away <= NEAR_MM:
            yield Violation(
                message=f"{named(hole)} is on gauge {facts.length(hole.y_mm)}, {facts.length(away)}"
                f" off the line of {counts[line]} others on {facts.length(line)}",
                element=path_of(leg, hole),
                value=away,
                limit=ROUNDED_MM,
            )


RULE: Final = Rule(
    name="hole-off-its-line",
    title="one hole lies a little off the line of its neighbours",
    severity=Severity.NOTE,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 600
  leg a {
    holes 22 gauge 50 at 60, 130, 200, 270
    holes 22 gauge 50.04 at 340
    holes 22 gauge 52 at 410
  }
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
  length 600
  leg a {
    holes 22 gauge 50 at 60, 130, 200, 270
    holes 22 gauge 51 at 340                  # <--
  }
}
"""
        ),
    ),
)
