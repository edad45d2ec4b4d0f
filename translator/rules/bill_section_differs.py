"""The bill gives a mark another section than the part has.

What it checks: both names are read into sizes, so that "L4X3-1/2X3/8", "angle 3 1/2 x 4 x 3/8"
and "L102x89x9.5" are one section; legs count in either order. A difference over 0.5 mm in any
size is an error, one over 0.05 mm a note (rolled to another standard, or rounded).

Why: bars are bought and taken from the rack by the bill, holes are made by the part.

What to do: hold both against the drawing and correct the one that is wrong.

Reference: 0.5 mm is common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.lengths.parse import Unit
from translator.model import Flat, Section
from translator.rules._bill import BillFacts, BillLine, BillViolation, differs, length_words
from translator.rules._digest import Digest
from translator.rules._rule import Example, Rule
from translator.tables.designations import parse_section

NOTED_MM: Final = 0.05
DIFFERENT_MM: Final = 0.5


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each row whose section is not that of its part."""
    for billed in facts.compared:
        for line, part in billed.pairs:
            if line.section:
                yield from _compared(line, part, facts.units(part))


def _compared(line: BillLine, part: Digest, units: Unit) -> Iterator[BillViolation]:
    own = parse_section(part.section, units).section
    meant = parse_section(line.section, units).section
    message = f"the bill says {line.section} for {line.mark}, the part is {part.section}"
    if own is None:
        return
    if meant is None:
        yield differs(line, part, "section", message)
        return
    one, other = _sizes(meant), _sizes(own)
    off = [abs(a - b) for a, b in zip(one, other, strict=True)] if len(one) == len(other) else []
    if not off:
        yield differs(line, part, "section", message)
    elif max(off) > NOTED_MM:
        is_note = max(off) <= DIFFERENT_MM
        yield BillViolation(
            message=f"{message}: they differ by {length_words(max(off), part.units)}",
            element="section",
            value=max(off),
            limit=NOTED_MM if is_note else DIFFERENT_MM,
            severity=Severity.NOTE if is_note else None,
            cell=(line.number, "section"),
            part=part.number,
            mark=line.mark,
        )


def _sizes(section: Section) -> tuple[float, ...]:
    if isinstance(section, Flat):
        return section.width_mm, section.thickness_mm
    return (*sorted((section.leg_a_mm, section.leg_b_mm)), section.thickness_mm)


_PARTS: Final = """\
units inch
part C12 { section L4x3-1/2x3/8  length 11-1/2 }
part C13 { section FB4x3/8  length 9 }
"""

RULE: Final = Rule(
    name="bill-section-differs",
    title="bill and part differ in section",
    severity=Severity.ERROR,
    scope="bill",
    reference="0.5 mm is common practice, no source",
    check=check,
    passing=(
        Example(
            text=_PARTS,
            bill="Mark,Qty,Section\nC12,1,ANGLE 3 1/2 X 4 X 3/8\nC13,1,PL3/8x4\n",
        ),
    ),
    failing=(
        Example(
            text=_PARTS,
            bill="Mark,Qty,Section,Remark\nC12,1,L4x3-1/2x5/16,<--\nC13,1,L4x4x3/8,<--\n",
        ),
    ),
)
