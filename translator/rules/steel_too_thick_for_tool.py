"""The steel is thicker than the tool takes in its grade.

What it checks: the thickness of the section against the limit of the tool, for the part's grade
or for any grade.

Why: a slender punch buckles in thick or hard steel, and breaks when it is pulled out.

What to do: drill the hole, or choose another machine.

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
          {
            "number": "4",
            "shape": "round",
            "diameter_mm": 22,
            "thickness_limits": [{"grade": "S355", "most_mm": 8}, {"most_mm": 10}]
          }
        ]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="steel-too-thick-for-tool",
    title="the steel is thicker than a tool takes",
    severity=Severity.ERROR,
    scope="machine",
    reference="the machine's own profile",
    check=check,
    passing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
grade S275JR
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
grade S355J2
part A1 {
  section L90x90x10
  length 400
  leg a { hole 22 gauge 50 at 200 }   # <--
}
""",
        ),
    ),
)
