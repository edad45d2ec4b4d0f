"""The bill gives a mark another length than the part has.

What it checks: both lengths, the bill's in the unit that its column, its marks or the settings
say, else in the unit of the part. More than 1/64 in. (inch parts) or 0.5 mm (all others) apart
is an error; bills are rounded, so a shop may set its own figure.

Why: a piece of the wrong length does not fit, and the bars were bought for the other one.

What to do: hold both against the drawing and correct the one that is wrong.

Reference: 1/64 in. and 0.5 mm are common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.lengths.parse import Unit
from translator.rules._bill import BillFacts, BillLine, BillViolation, differs, length_words
from translator.rules._digest import Digest
from translator.rules._rule import Example, Rule

TOLERANCE_INCH_MM: Final = 25.4 / 64
TOLERANCE_MM: Final = 0.5

_NAME: Final = "bill-length-differs"
UNITS: Final[dict[Unit, str]] = {"mm": "millimetres", "inch": "inches"}
_ROUNDING_MM: Final = 0.000_001


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each row whose length is not that of its part."""
    for billed in facts.compared:
        for line, part in billed.pairs:
            length = line.length_mm(facts.units(part))
            if length is None:
                continue
            limit = _tolerance(facts, part)
            off = abs(length - part.length_mm)
            if off > limit + _ROUNDING_MM:
                told, own = (length_words(mm, part.units) for mm in (length, part.length_mm))
                yield differs(
                    line,
                    part,
                    "length",
                    f"the bill says {told} for {line.mark}, the part is {own}: they differ by"
                    f" {length_words(off, part.units)}, more than"
                    f" {length_words(limit, part.units)}{_other_unit(line, part, limit)}",
                    value=off,
                    limit=limit,
                    unit="mm",
                )


def _other_unit(line: BillLine, part: Digest, limit: float) -> str:
    """Return a hint where a bare number fits in the other unit than it was taken in."""
    if line.length is None or line.length.bare is None:
        return ""
    for unit, name in UNITS.items():
        length = line.length_mm(unit)
        if length is not None and abs(length - part.length_mm) <= limit + _ROUNDING_MM:
            return f'; in {name} it fits: write units = "{unit}" under [bill] in the settings'
    return ""


def _tolerance(facts: BillFacts, part: Digest) -> float:
    own = facts.practice.limits.get(_NAME)
    if own is not None:
        return float(own.exact_mm())
    return TOLERANCE_INCH_MM if part.units == "inch" else TOLERANCE_MM


RULE: Final = Rule(
    name=_NAME,
    title="bill and part differ in length",
    severity=Severity.ERROR,
    scope="bill",
    reference="1/64 in. and 0.5 mm are common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units inch
part B7 { section L3x3x1/4  length 9'-4 1/2" }
part B8 { section L3x3x1/4  length 100 }
""",
            bill="Mark,Qty,Length\nB7,1,112.5\nB8,1,2540.39 mm\n",
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part F41 { section FB100x10  length 300 }
part F42 { section FB100x10  length 310 }
""",
            bill="Mark,Qty,Length,Remark\nF41,1,300.51,<--\nF42,1,309.5,\n",
        ),
    ),
    limit=("",),
)
