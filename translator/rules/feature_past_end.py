"""A hole, slot, opening or mark lies beyond an end of the piece.

What it checks: the centre of each hole, slot and mark, and the whole of each opening, against
x = 0 at the start end and the length at the far end.

Why: the piece is shorter than its holes: the length is of another part, a dimension was
measured from another place, or it was typed wrongly.

What to do: hold the position and the length against the drawing.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.stops import feature_x
from translator.rules._facts import Facts, is_past_end, named, path_of
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each feature whose place is not between the ends."""
    length = facts.part.length_mm
    for leg, feature in facts.features:
        if not is_past_end(feature, length):
            continue
        x = feature_x(feature)
        limit, end = (0.0, "start end is at 0") if x < 0.0 else (length, "far end is at ")
        yield Violation(
            message=f"{named(feature)} is at x = {facts.length(x)}, the {end}"
            + (facts.length(length) if limit else ""),
            element=path_of(leg, feature),
            value=x,
            limit=limit,
        )


RULE: Final = Rule(
    name="feature-past-end",
    title="a hole or mark lies beyond an end",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 22 gauge 50 at 40, 360
    centre mark gauge 50 at 400
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
  length 400
  leg a {
    centre mark gauge 50 at 400.01    # <--
  }
  leg b {
    holes 22 gauge 50 at 40
    holes 22 gauge 50 at 450          # <--
  }
}
"""
        ),
    ),
)
