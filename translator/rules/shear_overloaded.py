"""The section is more than the shear parts in its grade.

What it checks: the area of the section, with its radii, against the capacity of the shear for the
part's grade, or for any grade.

Why: a shear that stalls stops the line, and its blades are lost.

What to do: saw the piece, or choose a stronger shear.

Reference: the machine's own profile
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._machines import MachineFacts, reasons
from translator.rules._rule import Example, Rule, Violation


def check(facts: MachineFacts) -> Iterator[Violation]:
    """Yield what the machine has to say of this fault."""
    return reasons(facts, RULE.name)


_MACHINE: Final = """\
{
  "format": "backmark/machine", "version": "1.0",
  "machine": {
    "name": "Line 1",
    "angles": {},
    "cut_off": {
      "kind": "shear",
      "cut": "slug",
      "slug_mm": 16,
      "capacities": [{"grade": "S355", "area_mm2": 1500}, {"area_mm2": 2000}]
    }
  }
}
"""

RULE: Final = Rule(
    name="shear-overloaded",
    title="the section is more than the shear parts",
    severity=Severity.ERROR,
    scope="machine",
    reference="the machine's own profile",
    check=check,
    passing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
grade S275JR
part A1 {
  section L90x90x10
  length 400
}
""",
        ),
    ),
    failing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
grade S355J2
part A1 {
  section L90x90x10   # <--
  length 400
}
""",
        ),
    ),
)
