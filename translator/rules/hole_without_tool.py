"""No tool of the machine has the size of a hole.

What it checks: for each hole, whether a tool on the side where its leg lies has its diameter,
within the tolerance of the profile (0.05 mm unless it says otherwise). Tools in the crib count. A
hole to be sub-punched and reamed wants a tool 2 to 6.4 mm smaller.

Why: a hole made with the next tool at hand is another hole.

What to do: order the tool, or choose another machine.

Reference: the machine's own profile; sub-punching: EN 1090-2 6.6.3 (from memory)
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
    ]
  }
}
"""

RULE: Final = Rule(
    name="hole-without-tool",
    title="no tool has the size of a hole",
    severity=Severity.ERROR,
    scope="machine",
    reference="the machine's own profile; sub-punching: EN 1090-2 6.6.3 (from memory)",
    check=check,
    passing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { hole 22.05 gauge 50 at 200 }
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
  leg a { hole 22.06 gauge 50 at 200 }   # <--
  leg b { hole 18 gauge 50 at 200 }      # <--
}
""",
        ),
    ),
)
