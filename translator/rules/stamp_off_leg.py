"""A stamp does not fit on its leg.

What it checks: the letters of each stamp as a box, from its start along the text and up by the
height, against the outline of the leg. The width of a letter is taken as 0.6 of its height; a
stamp without text stamps the piece mark.

Why: a letter struck over the edge can't be read and harms the type.

What to do: move the stamp, or choose smaller letters.

Reference: width of a letter from memory; common practice, no source
"""

import math
from collections.abc import Iterator, Sequence
from typing import Final

from translator.findings import Severity
from translator.geometry.boundary import Boundary
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, on_leg, path_of
from translator.rules._rule import Example, Rule, Violation
from translator.rules._stamps import stamp_corners


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each stamp of which a corner lies outside its leg's outline."""
    for leg, feature in facts.stamps:
        edge = facts.boundaries.get(leg)
        if edge is None:
            continue
        corners = stamp_corners(feature, facts.part.mark)
        if _is_well_inside(corners, edge):
            continue
        inside = min(edge.signed(x, y) for x, y in corners)
        if inside < -HALF_LAST_DECIMAL_MM:
            yield Violation(
                message=f"{named(feature)} reaches {facts.length(-inside)} over the edge of"
                f" {on_leg(leg)}",
                element=path_of(leg, feature),
                value=inside,
                limit=0.0,
            )


def _is_well_inside(corners: Sequence[tuple[float, float]], edge: Boundary) -> bool:
    """Tell whether a box lies farther inside than it is large: most do, and one look tells."""
    (ax, ay), _, (cx, cy), _ = corners
    half = math.hypot(cx - ax, cy - ay) / 2.0
    return edge.signed((ax + cx) / 2.0, (ay + cy) / 2.0) > half


RULE: Final = Rule(
    name="stamp-off-leg",
    title="a stamp does not fit on its leg",
    severity=Severity.WARNING,
    scope="part",
    reference="width of a letter from memory; common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { stamp "ABCDE" at 370 from heel 80 height 10 }
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
  leg a { stamp "ABCDE" at 370.01 from heel 40 height 10 }    # <--
  leg b { stamp "ABCDE" at 100 from heel 80.01 height 10 }    # <--
}
"""
        ),
    ),
)
