"""The bill lists a mark that no part file has.

What it checks: every mark of the bill (of its order, where the bill names orders) against the
parts that could be read. Rows whose section is not made here (beams, channels, tubes) and marks
that the settings name as made `elsewhere` are left out, a note counts them; so is a mark of which
the bill asks for 0.

Why: the piece is never made, and nobody misses it until the truck is loaded.

What to do: ask the detailer for the file, look whether it could not be read, or strike the row.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bill import Billed, BillFacts, BillViolation
from translator.rules._rule import Example, Rule


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each mark of the bill that has no part."""
    alike = {part.mark.casefold(): part.mark for part in facts.parts}
    orders = {part.mark: part.order for part in facts.parts}
    for billed in facts.billed:
        ours = [line for line in billed.lines if line.is_ours]
        if billed.parts or all(line.quantity == 0 for line in ours):
            continue
        yield BillViolation(
            message=f"{_named(billed)} is in the bill; no part that could be read has this mark"
            + _near(billed, alike, orders),
            cell=(ours[0].number, "mark"),
            part=None,
            mark=billed.mark,
            unit="",
        )


def _named(billed: Billed) -> str:
    return f"{billed.mark} of order {billed.order}" if billed.order else billed.mark


def _near(billed: Billed, alike: dict[str, str], orders: dict[str, str]) -> str:
    if billed.mark in orders:
        return f"; {billed.mark} here is of order {orders[billed.mark]}"
    other = alike.get(billed.mark.casefold())
    return "" if other is None else f"; there is {other}, which differs in case"


_PART: Final = """\
units inch
order "TQ-7"
part C12 { section L4x4x3/8  length 11-1/2  quantity 24 }
"""

RULE: Final = Rule(
    name="bill-mark-without-part",
    title="the bill lists a mark that no part file has",
    severity=Severity.ERROR,
    scope="bill",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text=_PART,
            bill="""\
Mark,Qty,Section,Length
C12,24,L4x4x3/8,11-1/2
H57,2,W10x49,12'-0
""",
        ),
    ),
    failing=(
        Example(
            text=_PART,
            bill="""\
Order,Mark,Qty,Section,Length,Remark
TQ-7,C12,24,L4x4x3/8,11-1/2,
TQ-7,C13,2,L4x4x3/8,9,<--
TQ-7,c12,2,L4x4x3/8,9,<-- in small letters
TQ-8,C12,2,L4x4x3/8,9,<-- of another order
""",
        ),
    ),
)
