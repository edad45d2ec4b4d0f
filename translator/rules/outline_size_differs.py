"""The outline given for a leg does not reach over the length and the width of the leg.

What it checks: the outline of a leg as the source gives it must reach from the heel to the
section's toe and, over both legs together, from x = 0 to the length, within 0.05 mm.

Why: an outline that is larger than the bar can't be cut from it; a smaller one says that the
length or the section is of another part, or that the outline is drawn from another corner.

What to do: hold the length, the section and the outline against the drawing. A leg that is
ripped to less than its full width is not made on these lines.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.contours import area, bounds
from translator.model import LegName, leg_width, on_grid, trim_path
from translator.rules._facts import Facts, on_leg
from translator.rules._rule import Example, Rule, Violation

TOLERANCE_MM: Final = 0.05
"""Half a tenth: the files of the trade are rounded to 0.01 mm, sums of them to less."""


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each figure of an outline that is not that of the leg."""
    if all(facts.explicit_outline(leg) is None for leg in facts.outlines):
        return
    contours = {leg: outline.contour for leg, outline in facts.outlines.items()}
    if not all(area(contour) > 0.0 for contour in contours.values()):
        return
    boxes = {leg: bounds(contour) for leg, contour in contours.items()}
    whole = (min(box[0] for box in boxes.values()), max(box[2] for box in boxes.values()))
    for leg, box in boxes.items():
        explicit = facts.explicit_outline(leg)
        if explicit is not None:
            yield from _differences(facts, leg, trim_path(leg, explicit[0]), box, whole)


def _differences(
    facts: Facts,
    leg: LegName,
    element: str,
    box: tuple[float, float, float, float],
    whole: tuple[float, float],
) -> Iterator[Violation]:
    length, width = facts.part.length_mm, leg_width(facts.part.section, leg)
    left, low, right, high = box
    # A leg may stop short of an end that the other leg reaches (a mitre), never run over it.
    figures = (
        ("begins at x =", left if left < 0 else whole[0], 0.0, "the start end is at"),
        ("ends at x =", right if right > length else whole[1], length, "the length is"),
        ("begins at y =", low, 0.0, "the heel is at"),
        ("ends at y =", high, width, "the leg measures"),
    )
    for words, value, limit, against in figures:
        if on_grid(abs(value - limit)) > TOLERANCE_MM:
            yield Violation(
                message=f"the outline of {on_leg(leg)} {words} {facts.length(value)},"
                f" {against} {facts.length(limit)}",
                element=element,
                value=value,
                limit=limit,
            )


RULE: Final = Rule(
    name="outline-size-differs",
    title="an outline is not as long or wide as its leg",
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
    outline from 0,0 to 300.04,0 to 300.04,100 to 40,100 to 0,60 close
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
    outline from 0,0 to 300.06,0 to 300.06,100 to 40,100 to 0,60 close    # <--
  }
}
"""
        ),
    ),
)
