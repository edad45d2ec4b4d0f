"""No tool of the machine makes a slot.

What it checks: for each slot, whether an oblong tool on the side where its leg lies has its width
and length and stands in its direction or can be turned; or whether a round tool of its width may
make it in several hits. Directions are taken as the bar lies: turning it end for end mirrors a
slanted slot.

Why: a slot is more than two holes, and an oblong punch stands in one direction.

What to do: order the tool, choose another machine, or list slots as second work in the profile.

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
        "tools": [
          {"number": "7", "shape": "oblong", "width_mm": 18, "length_mm": 24, "angle_deg": 90}
        ]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="slot-without-tool",
    title="no tool makes a slot",
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
  leg a { slots 18 x 24 across leg gauge 50 at 60, 340 }
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
  leg a { slot 18 x 24 along leg gauge 50 at 200 }    # <--
  leg b { slot 18 x 24.06 across leg gauge 50 at 200 }   # <--
}
""",
        ),
    ),
)
