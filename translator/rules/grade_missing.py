"""A part says no grade.

What it checks: whether a grade is stated at all.

Why: strengths, the force of punch and shear, and the thickness that may be punched all follow
from the grade, and the wrong bar is taken from the rack.

What to do: state the grade in the file or in the part.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield once for a part without a grade."""
    if not (facts.part.grade or "").strip():
        yield Violation(message="no grade is stated", element="grade")


RULE: Final = Rule(
    name="grade-missing",
    title="a part says no grade",
    severity=Severity.NOTE,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(Example(text="units mm\npart F1 { section FB100x10  length 300  grade S275JR }\n"),),
    failing=(Example(text="units mm\npart F1 { section FB100x10  length 300 }    # <--\n"),),
)
