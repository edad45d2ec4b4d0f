"""A hole lies at the end that the grip can't bring under the tools.

What it checks: only on machines whose pieces come cut to length: from each hole, slot or mark to
the trailing end, against the length at that end that can't be fed. Both ends are tried first. Of
a bar only the last piece could end there, and a bar is planned with its tail.

Why: the jaw holds the trailing end, and stops before the tools.

What to do: choose another machine.

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
    "name": "Line 3",
    "angles": {},
    "stations": [
      {
        "name": "D1",
        "side": "both",
        "process": "drill",
        "tools": [{"number": "D4", "shape": "round", "diameter_mm": 22}]
      }
    ],
    "grip": {"tail_mm": 150}
  }
}
"""

RULE: Final = Rule(
    name="hole-in-dead-end",
    title="a hole lies where the grip can't feed",
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
  leg a { holes 22 gauge 50 at 60, 250 }
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
    hole 22 gauge 50 at 60
    hole 22 gauge 50 at 250.01   # <--
  }
}
""",
        ),
    ),
)
