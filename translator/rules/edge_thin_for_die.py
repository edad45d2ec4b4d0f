"""Too little steel stands between a punched hole and the toe for the die.

What it checks: from the edge of each punched hole to the toe, or to either edge of a flat,
against what the profile asks for.

Why: the steel beside the hole bulges outward, and the toe no longer lies on the die.

What to do: drill the hole, or ask for another gauge.

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
        "clearances": {"die_to_edge_mm": 12},
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="edge-thin-for-die",
    title="too little steel between a hole and the toe for the die",
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
  leg a { hole 22 rod gauge 67 at 200 }
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
  leg a { hole 22 rod gauge 67.01 at 200 }   # <--
}
""",
        ),
    ),
)
