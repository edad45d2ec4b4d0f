"""A stated bolt is not in the tables of the code, so its holes are not held against them.

What it checks: each hole and slot with a stated bolt: whether the tables of holes of the code
name the bolt. AISC has no M12, M14, M18 and M33, EN 1090-2 no bolts in inches.

Why: nothing is said about such a hole, which is not the same as nothing being wrong with it.

What to do: judge by the other code (`practice`), or check the holes by hand.

Reference: AISC 360-22 Tables J3.3 and J3.3M, EN 1090-2:2018 Table 11
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole whose stated bolt the code does not know."""
    for leg, feature in facts.drilled:
        meant = facts.bolts.get(feature.id)
        if meant is not None and meant.is_stated and meant.sizes is None:
            table = "AISC 360" if meant.code == "us" else "EN 1090-2"
            yield Violation(
                message=f"{named(feature)} is for bolt {meant.name}, which the tables of {table}"
                " do not have; its size is not checked",
                element=path_of(leg, feature),
            )


RULE: Final = Rule(
    name="bolt-not-in-practice",
    title="a stated bolt is not in the tables of the code",
    severity=Severity.NOTE,
    scope="part",
    reference="AISC 360-22 Tables J3.3 and J3.3M, EN 1090-2:2018 Table 11",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 2-1/2 at 2   holes bolt M20 gauge 2-1/2 at 5 }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt M12 gauge 2-1/2 at 2 }    # <--
}
""",
        ),
    ),
    applies=needs_code,
)
