"""A load, or a limit by grade, is not checked: the grade does not tell it.

What it checks: whether the highest tensile strength is known where a press is loaded, and whether
tool and shear name a limit for the grade where they name limits at all.

Why: a limit that was not held against the part is no proof that it is kept; a grade is never
guessed.

What to do: state the grade; for a grade without a highest strength in its standard give the
shop's own figure under steels in the profile.

Reference: ASTM and EN 10025-2:2004 Table 7 for the strengths
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
    ]
  }
}
"""

RULE: Final = Rule(
    name="load-not-checked",
    title="a load or a limit by grade is not checked",
    severity=Severity.NOTE,
    scope="machine",
    reference="ASTM and EN 10025-2:2004 Table 7 for the strengths",
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
grade "A572-50"                           # <--
part A1 {
  section L90x90x10
  length 400
  leg a { hole 22 gauge 50 at 200 }
}
""",
        ),
    ),
)
