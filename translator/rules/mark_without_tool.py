"""A centre mark, or a hole that is only marked, is marked by hand.

What it checks: for each, whether a station on the side where its leg lies can mark a centre at
its gauge: a drill, or a station that holds a centre punch.

Why: a mark that nobody makes is missed at the next work.

What to do: mark it by hand, or put a centre punch into the machine.

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
        "side": "left",
        "process": "punch",
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      },
      {
        "name": "D1",
        "side": "right",
        "process": "drill",
        "tools": [{"number": "D4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="mark-without-tool",
    title="a centre is marked by hand",
    severity=Severity.NOTE,
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
  leg a { hole 22 gauge 50 at 200 mark only }
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
  leg a { hole 22 gauge 50 at 200 mark only }   # <--
  leg b { hole 22 gauge 50 at 200 mark only }
}
""",
        ),
    ),
)
