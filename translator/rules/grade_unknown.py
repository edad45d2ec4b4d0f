"""The grade is not one that is known here, or does not say enough.

What it checks: the stated grade against the tables of ASTM and EN 10025-2 grades, with older and
other names. A grade that the shop lists as stock is known too.

Why: a slip in the grade (A527 for A572, S375 for S355) is found by nobody until the mill sheet is
looked for; and nothing that depends on strength can be checked.

What to do: correct the grade, or list it in the settings: `[stock]` with `"300W" = true`.

Reference: ASTM A36, A529, A572, A588, A709, A992 and EN 10025-2:2004 (from open transcriptions;
other names from memory)
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation
from translator.tables.grades import read_grade


def check(facts: Facts) -> Iterator[Violation]:
    """Yield once for a part whose grade is not known."""
    grade = (facts.part.grade or "").strip()
    fault = read_grade(grade).fault if grade else None
    if fault is not None and grade not in facts.practice.stock:
        yield Violation(message=fault.rstrip("."), element="grade")


RULE: Final = Rule(
    name="grade-unknown",
    title="the grade is not known",
    severity=Severity.WARNING,
    scope="part",
    reference="ASTM A36, A529, A572, A588, A709, A992 and EN 10025-2:2004 (from open"
    " transcriptions; other names from memory)",
    check=check,
    passing=(
        Example(
            settings='practice = "none"\n[stock]\n"300W" = true\nA36 = true\nA572-50 = true\n',
            text="""\
units inch
part F1 { section FB4x3/8  length 12  grade "A572 Gr. 50" }
part F2 { section FB4x3/8  length 13  grade "300W" }
""",
        ),
    ),
    failing=(
        Example(
            text="""\
units inch
part F1 { section FB4x3/8  length 12  grade A527-50 }    # <--
part F2 { section FB4x3/8  length 13  grade A572 }       # <--
"""
        ),
    ),
)
