"""The bill gives a mark another grade than the part has.

What it checks: grades are read by the tables, so that "ASTM A572 Gr. 50" and "A572-50" are one;
names that are not in them are compared letter by letter. A bill or part that leaves out the
quality of an EN grade (S275 beside S275JR) is a note; a part that states no grade at all is a
warning.

Why: the bar is bought by the bill, and the mill certificate has to match the drawing.

What to do: hold both against the drawing and correct the one that is wrong.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bill import BillFacts, BillLine, BillViolation
from translator.rules._digest import Digest
from translator.rules._rule import Example, Rule
from translator.tables.grades import read_grade


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each row whose grade is not that of its part."""
    for billed in facts.compared:
        for line, part in billed.pairs:
            severity = _weight(line.grade, part.grade or "") if line.grade else None
            if severity is not None:
                yield _differing(line, part, severity)


def _differing(line: BillLine, part: Digest, severity: Severity) -> BillViolation:
    own = f"the part is {part.grade}" if part.grade else "the part states no grade"
    return BillViolation(
        message=f"the bill says {line.grade} for {line.mark}, {own}",
        element="grade",
        unit="",
        severity=severity,
        cell=(line.number, "grade"),
        part=part.number,
        mark=line.mark,
    )


def _weight(billed: str, own: str) -> Severity | None:
    """Return how much a difference weighs, None where there is none."""
    if not own.strip():
        return Severity.WARNING
    one, other = read_grade(billed).grade, read_grade(own).grade
    if one is None or other is None:
        same = "".join(billed.casefold().split()) == "".join(own.casefold().split())
        return None if same else Severity.ERROR
    if one.name == other.name:
        return None
    # One of the two names the bare strength class, as S275 does beside S275JR.
    if one.key == other.key and one.key in (one.name, other.name):
        return Severity.NOTE
    return Severity.ERROR


_PARTS: Final = """\
units mm
part F41 { section FB100x10  length 300  grade S275JR }
part F42 { section FB100x10  length 310  grade "A572 Gr. 50" }
"""

RULE: Final = Rule(
    name="bill-grade-differs",
    title="bill and part differ in grade",
    severity=Severity.ERROR,
    scope="bill",
    reference="common practice, no source",
    check=check,
    passing=(Example(text=_PARTS, bill="Mark,Qty,Grade\nF41,1,S 275 JR\nF42,1,ASTM A572-50\n"),),
    failing=(
        Example(text=_PARTS, bill="Mark,Qty,Grade,Remark\nF41,1,S355JR,<--\nF42,1,A36,<--\n"),
    ),
)
