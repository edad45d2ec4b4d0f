"""No drill of the machine has the size of a hole that is drilled.

What it checks: the same as hole-without-tool, for holes that only a drill can make: because the
part wants it, or because the side where the leg lies has nothing else.

Why: a drill is bought and ground for each size; the machine only holds so many.

What to do: put the drill into the magazine, or choose another machine.

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
    "name": "Line 2",
    "angles": {},
    "stations": [
      {
        "name": "D1",
        "side": "both",
        "process": "drill",
        "tools": [{"number": "D4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="drill-size-not-held",
    title="no drill has the size of a hole",
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
}
""",
        ),
    ),
)
