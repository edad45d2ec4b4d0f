"""The bill gives a mark another mass than the part has.

What it checks: the mass of a row against the part's gross mass (published mass per metre times
length), of one piece or of all pieces of the row, in kilograms or pounds as its column or the
settings say, else in either. More than 3 % and more than half a unit apart is a warning.

Why: the mass is the sum of section and length; where it does not fit, one of them was changed
and the other not. Trucks and prices go by it.

What to do: hold section and length against the drawing.

Reference: 3 % is common practice, no source; EN 10056-1 and US table masses, else 7850 kg/m3
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bill import KILOGRAM, POUND, BillFacts, BillLine, BillViolation, differs
from translator.rules._digest import Digest
from translator.rules._facts import decimal
from translator.rules._rule import Example, Rule

TOLERANCE: Final = 0.03
"""Share of the part's mass; tables and computed masses differ by up to 1.6 %."""

HALF_LAST_UNIT: Final = 0.5
"""Bills are often rounded to whole kilograms or pounds."""

_NAME: Final = "bill-mass-differs"
_UNITS: Final = {"kg": float(KILOGRAM), "lb": float(POUND)}


def check(facts: BillFacts) -> Iterator[BillViolation]:
    """Yield each row whose mass fits neither one piece nor all of the row."""
    for billed in facts.compared:
        for line, part in billed.pairs:
            if line.mass is not None and not _fits(facts, line, part):
                yield _differing(facts, line, part)


def _units(facts: BillFacts) -> dict[str, float]:
    own = facts.bill.mass_unit
    return {name: kg for name, kg in _UNITS.items() if own is None or kg == float(own)}


def _share(facts: BillFacts) -> float:
    own = facts.practice.limits.get(_NAME)
    return TOLERANCE if own is None else float(own.times / 100)


def _fits(facts: BillFacts, line: BillLine, part: Digest) -> bool:
    said = float(line.mass or 0)
    return any(
        abs(said - pieces * part.mass_kg / kg)
        <= max(_share(facts) * pieces * part.mass_kg / kg, HALF_LAST_UNIT)
        for kg in _units(facts).values()
        for pieces in {1, line.quantity or 1}
    )


def _differing(facts: BillFacts, line: BillLine, part: Digest) -> BillViolation:
    units = _units(facts)
    wished = "lb" if part.units == "inch" else "kg"
    name = wished if wished in units else next(iter(units))
    own = part.mass_kg / units[name]
    pieces = line.quantity or 1
    whole = f", {pieces} of them {decimal(pieces * own, 2)} {name}" if pieces > 1 else ""
    said = decimal(float(line.mass or 0), 2)
    return differs(
        line,
        part,
        "mass",
        f"the bill says a mass of {said} for {line.mark}, one piece is {decimal(own, 2)}"
        f" {name}{whole}",
        value=float(line.mass or 0) * units[name],
        limit=part.mass_kg,
        unit="kg",
    )


_PARTS: Final = "units mm\npart F41 { section FB100x10  length 1000  quantity 4 }    # 7.85 kg\n"

RULE: Final = Rule(
    name=_NAME,
    title="bill and part differ in mass",
    severity=Severity.WARNING,
    scope="bill",
    reference="3 % is common practice, no source; EN 10056-1 and US table masses, else 7850 kg/m3",
    check=check,
    passing=(
        Example(text=_PARTS, bill="Mark,Qty,Mass\nF41,4,31.4\n"),
        Example(text=_PARTS, bill="Mark,Qty,Weight (kg)\nF41,4,8\n"),
    ),
    failing=(Example(text=_PARTS, bill="Mark,Qty,Mass (kg),Remark\nF41,4,8.5,<--\n"),),
    limit=("%",),
)
