"""The cuts of a leg overlap, or leave no material, so its outline can't be made.

What it checks: the outline of each leg is walked corner by corner: the end cuts, at most one
trim at each corner, notches between them, heel cuts that both legs share. A trim that runs into
another, does not fit its edge, stands on a corner that is cut already, or leaves nothing of the
leg is named with its figures. An outline that the source gives takes no other trim beside it.

Why: the machine makes every cut it is told; two that overlap give a shape nobody drew.

What to do: hold the figures of the cut against the drawing. A shape that takes two cuts on one
corner is told as an outline.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import trim_path
from translator.rules._facts import Facts, on_leg
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield what keeps the outline of a leg from being made of its end cuts and trims."""
    for leg, outline in facts.outlines.items():
        explicit = facts.explicit_outline(leg)
        if explicit is None:
            for fault in outline.faults:
                yield Violation(
                    message=fault.message,
                    element=fault.element,
                    value=fault.value,
                    limit=fault.limit,
                )
            continue
        for name, index, _ in facts.trims:
            if name == leg and index != explicit[0]:
                yield Violation(
                    message=f"a trim beside the outline of {on_leg(leg)}, which is the whole shape"
                    " of the leg already",
                    element=trim_path(leg, index),
                    related=((trim_path(leg, explicit[0]), "the outline"),),
                )


RULE: Final = Rule(
    name="cuts-overlap",
    title="cuts of a leg overlap or leave no material",
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
    cope start toe 60 long x 40 deep
    cope far toe 60 long x 40 deep
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
  length 100
  leg a {
    cope start toe 60 long x 40 deep
    cope far toe 60 long x 40 deep         # <--
  }
}
"""
        ),
    ),
)
