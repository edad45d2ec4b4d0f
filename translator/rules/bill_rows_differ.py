"""Rows of the bill contradict each other about one mark.

What it checks: all rows of one mark (and order) after the first against the first: section,
length, grade and revision, as they are written. Quantities of several rows are added up.

Why: two of the rows can't both be right, and the shop buys and makes by whichever it sees first.

What to do: have the bill corrected; a mark stands for one piece.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bill import BillFacts, BillLine, BillViolation
from translator.rules._rule import Example, Rule

FIELDS: Final = ("section", "length", "grade", "revision")


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each cell that says another thing than the first row of its mark that says any."""
    for billed in facts.billed:
        if len(billed.lines) == 1:
            continue
        part = billed.parts[0].number if billed.parts else None
        for field in FIELDS:
            said = [line for line in billed.lines if _compared(facts, line, field)]
            for line in said[1:]:
                first = said[0]
                if _compared(facts, line, field) == _compared(facts, first, field):
                    continue
                yield BillViolation(
                    message=f"{_shown(facts, line, field)} as {field} of {billed.mark}; an"
                    f" earlier row of the bill says {_shown(facts, first, field)}",
                    element=field,
                    unit="",
                    cell=(line.number, field),
                    part=part,
                    mark=billed.mark,
                    cells=((first.number, field, "the earlier row"),),
                )


def _shown(facts: BillFacts, line: BillLine, field: str) -> str:
    return facts.bill.rows[line.number].text(field)


def _compared(facts: BillFacts, line: BillLine, field: str) -> str:
    """Return what is compared: the text of a cell without blanks and case, a length as such."""
    if field == "length":
        return "" if line.length is None else repr((line.length.mm, line.length.bare is None))
    return "".join(_shown(facts, line, field).casefold().split())


_PARTS: Final = "units mm\npart F41 { section FB100x10  length 300  quantity 5  grade S275JR }\n"

RULE: Final = Rule(
    name="bill-rows-differ",
    title="rows of the bill contradict each other about one mark",
    severity=Severity.ERROR,
    scope="bill",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(text=_PARTS, bill="Mark,Qty,Section,Length\nF41,2,FB100x10,300\nF41,3,,300.0\n"),
    ),
    failing=(
        Example(
            text=_PARTS,
            bill="""\
Mark,Qty,Length,Grade,Remark
F41,2,300,,
F41,2,300.1,S275JR,<--
F41,1,300,S275 JR,
""",
        ),
    ),
)
