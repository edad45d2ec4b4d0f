"""A tool must be fetched from the crib.

What it checks: whether a hole is made by a tool that does not stand in the machine, each tool
once.

Why: changing a tool takes minutes, and somebody must be there.

What to do: have it put in before the run; nothing is wrong.

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
          {"number": "4", "shape": "round", "diameter_mm": 22},
          {
            "number": "7",
            "shape": "round",
            "diameter_mm": 26,
            "place": "crib",
            "change_time_s": 240
          }
        ]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="tool-in-crib",
    title="a tool must be fetched from the crib",
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
part A1 {
  section L90x90x10
  length 400
  leg a { hole 26 gauge 50 at 200 }   # <--
}
""",
        ),
    ),
)
