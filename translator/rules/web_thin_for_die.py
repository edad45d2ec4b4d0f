"""Too little steel stands between two punched holes.

What it checks: between the edges of each two punched holes of a leg, against what die and
stripper of the station ask for.

Why: the steel between the holes gives way to the second stroke: both holes are pulled out of
shape.

What to do: drill one of them, or ask for more space.

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
        "clearances": {"die_to_hole_mm": 10},
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="web-thin-for-die",
    title="too little steel between two punched holes",
    severity=Severity.ERROR,
    scope="machine",
    reference="the machine's own profile",
    check=check,
    passing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { holes 22 rod gauge 50 at 60, 92 }
}
""",
        ),
    ),
    failing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    hole 22 rod gauge 50 at 60
    hole 22 rod gauge 50 at 91.99   # <--
  }
}
""",
        ),
    ),
)
