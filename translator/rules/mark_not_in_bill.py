"""A part file has a mark that the bill does not list.

What it checks: every part, but those that a newer revision replaces, against the marks of the
bill (of its order, where both name one).

Why: the piece is made and nobody has asked for it; or the bill is an old one.

What to do: find out which of the two is right, and take the part out or have the bill corrected.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bill import BillFacts, BillViolation
from translator.rules._rule import Example, Rule


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each part that no row of the bill names."""
    named = {line.mark for line in facts.bill.lines}
    for part in facts.not_billed:
        order = f" of order {part.order}" if part.mark in named else ""
        yield BillViolation(
            message=f"{part.mark}{order} is in no row of the bill {facts.bill.path}",
            element="mark",
            cell=None,
            part=part.number,
            mark=part.mark,
            unit="",
        )


_BILL: Final = "Mark,Qty,Section,Length\nC12,24,L4x4x3/8,11-1/2\n"

RULE: Final = Rule(
    name="mark-not-in-bill",
    title="a part's mark is not in the bill",
    severity=Severity.ERROR,
    scope="bill",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units inch
revision "A"
part C12 { section L4x4x3/8  length 11-1/2  quantity 24 }
""",
            bill=_BILL,
        ),
    ),
    failing=(
        Example(
            text="""\
units inch
part C12 { section L4x4x3/8  length 11-1/2  quantity 24 }
part C13 { section L4x4x3/8  length 9 }    # <--
""",
            bill=_BILL,
        ),
    ),
)
