"""A hole needs more force than the press has.

What it checks: perimeter of the tool times thickness times shear strength against the force of
the station. The shear strength is the profile's share of the *highest* tensile strength of the
grade, since the strongest steel that the standard lets pass may be delivered; a grade whose
standard sets no highest strength is taken from the profile, or it is not checked and said so.

Why: a press that stalls in the steel stops the line, and the tool is lost.

What to do: drill the hole, or choose a stronger press.

Reference: force = perimeter x thickness x shear strength, any text on the strength of materials;
highest tensile strength of ASTM A36 and of EN 10025-2:2004 Table 7
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
        "force_kn": 290.3,
        "shear_factor": 0.75,
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="punch-overloaded",
    title="a hole needs more force than the press has",
    severity=Severity.ERROR,
    scope="machine",
    reference=(
        "force = perimeter x thickness x shear strength, any text on the strength of "
        "materials; highest tensile strength of ASTM A36 and of EN 10025-2:2004 Table 7"
    ),
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
grade S355J2
part A1 {
  section L90x90x10
  length 400
  leg a { hole 22 gauge 50 at 200 }   # <--
}
""",
        ),
    ),
)
