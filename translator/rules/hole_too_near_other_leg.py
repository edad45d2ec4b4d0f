"""A hole lies so near to the other leg that die or stripper would hit it.

What it checks: from the edge of each hole to the inside face of the other leg, against the steel-
free space that the profile names: for the die where the punch comes from outside, for the
stripper, or a drill's foot, where the tool comes from inside.

Why: the die block has walls; it can't stand nearer to the other leg than these.

What to do: choose a machine with a slimmer die, or ask for a larger gauge.

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
        "clearances": {"die_to_other_leg_mm": 15},
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="hole-too-near-other-leg",
    title="die or stripper would hit the other leg",
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
  leg a { hole 22 rod gauge 36 at 200 }
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
  leg a { hole 22 rod gauge 35.99 at 200 }   # <--
}
""",
        ),
    ),
)
