"""A hole lies too near to an end that is sheared.

What it checks: from the edge of each hole to the line of either end, against what the profile
asks for.

Why: the shear drags the steel along: a hole near to it is pulled out of shape, or torn open.

What to do: saw the piece, or ask for more end distance.

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
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ],
    "cut_off": {"kind": "shear", "cut": "single", "least_hole_to_cut_mm": 12}
  }
}
"""

RULE: Final = Rule(
    name="hole-near-shear",
    title="a hole lies too near to a sheared end",
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
  leg a { holes 22 rod gauge 50 at 23, 377 }
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
  leg a { hole 22 rod gauge 50 at 22.99 }     # <--
  leg b { hole 22 rod gauge 50 at 377.01 }    # <--
}
""",
        ),
    ),
)
