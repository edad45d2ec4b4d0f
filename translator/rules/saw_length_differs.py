"""The stated saw length is shorter than the piece.

What it checks: the saw length that the source states against the length of the piece between its
outermost points, to 0.05 mm. A longer one is an allowance and says nothing.

Why: the piece can't be made of the bar that is sawn for it: one of the two is of another part.

What to do: hold both lengths against the drawing. The saw length is used for nothing here.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation

TOLERANCE_MM: Final = 0.05


def check(facts: Facts) -> Iterator[Violation]:
    """Yield the stated saw length when the piece is longer than it."""
    stated = facts.part.stated
    if stated is None or stated.saw_length_mm is None:
        return
    saw, length = stated.saw_length_mm, facts.part.length_mm
    if saw < length - TOLERANCE_MM:
        yield Violation(
            message=f"the stated saw length is {facts.length(saw)}, shorter than the piece of"
            f" {facts.length(length)}",
            element="stated.saw_length_mm",
            value=saw,
            limit=length,
        )


RULE: Final = Rule(
    name="saw-length-differs",
    title="the stated saw length is shorter than the piece",
    severity=Severity.WARNING,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            text="units mm\npart F1 { section FB100x10  length 300  stated saw length 299.96 }\n"
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part F1 { section FB100x10  length 300  stated saw length 299.94 }    # <--
"""
        ),
    ),
)
