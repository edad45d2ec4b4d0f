"""No grade is stated, and one is assumed for the machine's limits.

What it checks: whether a load or a limit by grade was held against a grade that the profile
assumes.

Why: a stronger steel loads the press more than the one assumed.

What to do: state the grade.

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
    "stations": [
      {
        "name": "P1",
        "side": "both",
        "process": "punch",
        "force_kn": 400,
        "shear_factor": 0.75,
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ],
    "assumed_grade": "A36"
  }
}
"""

RULE: Final = Rule(
    name="grade-assumed",
    title="a grade is assumed for the machine's limits",
    severity=Severity.NOTE,
    scope="machine",
    reference="the machine's own profile",
    check=check,
    passing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
grade A36
part A1 {
  section L90x90x10
  length 400
  leg a { hole 22 gauge 50 at 200 }
}
""",
        ),
    ),
    failing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
part A1 {                               # <--
  section L90x90x10
  length 400
  leg a { hole 22 gauge 50 at 200 }
}
""",
        ),
    ),
)
