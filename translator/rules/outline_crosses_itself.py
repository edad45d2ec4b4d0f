"""The outline given for a leg crosses itself, or encloses nothing.

What it checks: the outline of a leg as the source gives it, corner by corner. Its edges, arcs
counted as arcs, must not cross, touch or run back over one another, and must enclose an area.

Why: inside and outside of such an outline can't be told apart; it is a slip in a coordinate.

What to do: look for the corner that is out of order or has a wrong sign.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.contours import area, crosses_itself
from translator.model import trim_path
from translator.rules._facts import Facts, on_leg
from translator.rules._rule import Example, Rule, Violation

_FEWEST: Final = 3


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each outline of the source that is no simple closed line."""
    for leg, outline in facts.outlines.items():
        explicit = facts.explicit_outline(leg)
        if explicit is None:
            continue
        contour, what = outline.contour, f"the outline of {on_leg(leg)}"
        element = trim_path(leg, explicit[0])
        # A line run to and fro is no crossing: nothing is left of it once it is cleaned.
        if len(contour) >= _FEWEST and crosses_itself(contour):
            yield Violation(message=f"{what} crosses itself", element=element)
        elif area(contour) <= 0.0:
            yield Violation(message=f"{what} encloses nothing", element=element)


RULE: Final = Rule(
    name="outline-crosses-itself",
    title="the outline of a leg crosses itself",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part F1 {
  section FB100x10
  length 300
  face {
    outline from 0,0 to 300,0 to 300,100 to 40,100 to 0,60 close
  }
}
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
  face {
    outline from 0,0 to 300,100 to 300,0 to 40,100 to 0,60 close    # <--
  }
}
"""
        ),
    ),
)
