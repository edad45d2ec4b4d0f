"""The bill asks for another number of a mark than the part files give.

What it checks: the sum over all rows of a mark against the sum over its parts; a part that a
newer revision replaces does not count, and a mark given in two files counts twice. Nothing is
said of a mark with a row whose quantity is empty or can't be read, which is told by itself.

Why: too few hold up the site, too many are steel and hours nobody pays for.

What to do: find out which of the two is right, and correct the other.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bill import BillFacts, BillViolation
from translator.rules._rule import Example, Rule

_MOST_TERMS: Final = 6


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each mark whose quantities differ, at the first of its rows."""
    for billed in facts.compared:
        wanted = [line.quantity for line in billed.lines if line.quantity is not None]
        if len(wanted) < len(billed.lines):
            continue
        given = [part.quantity for part in billed.parts]
        if sum(given) == sum(wanted):
            continue
        first, *more = billed.lines
        yield BillViolation(
            message=f"{_sum(given)} of {billed.mark} in the part files; the bill asks for"
            f" {_sum(wanted)}",
            element="quantity",
            value=float(sum(given)),
            limit=float(sum(wanted)),
            unit="",
            cell=(first.number, "quantity"),
            part=billed.parts[0].number,
            mark=billed.mark,
            cells=tuple((line.number, "quantity", "a further row") for line in more[:_MOST_TERMS]),
            others=tuple((p.number, "a further part") for p in billed.parts[1:_MOST_TERMS]),
        )


def _sum(terms: list[int]) -> str:
    """Return a sum, with its terms where there are a few."""
    if not 1 < len(terms) <= _MOST_TERMS:
        return f"{sum(terms)}"
    return f"{sum(terms)} ({' + '.join(map(str, terms))})"


_PARTS: Final = """\
units inch
part C12 { section L4x4x3/8  length 11-1/2  quantity 24 }
part C13 { section L4x4x3/8  length 9  quantity 6 }
"""

RULE: Final = Rule(
    name="bill-quantity-differs",
    title="bill and part files differ in how many of a mark there are",
    severity=Severity.ERROR,
    scope="bill",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text=_PARTS,
            bill="""\
Mark,Qty,Section,Length
C12,20,L4x4x3/8,11-1/2
C12,4,L4x4x3/8,11-1/2
C13,6,L4x4x3/8,9
""",
        ),
    ),
    failing=(
        Example(
            text=_PARTS,
            bill="""\
Mark,Qty,Section,Length,Remark
C12,20,L4x4x3/8,11-1/2,<-- 20 and 5 are 25
C12,5,L4x4x3/8,11-1/2,
C13,6,L4x4x3/8,9,
""",
        ),
    ),
)
