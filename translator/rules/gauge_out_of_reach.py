"""The gauge of a hole lies outside the reach of the station.

What it checks: the gauge of each hole, from the heel and from the toe, against the range in which
the tool's centre can stand.

Why: a tool slide ends somewhere; nearer to the heel the other leg is in its way.

What to do: choose another machine, or ask for another gauge.

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
        "from_heel": {"least_mm": 40, "most_mm": 120},
        "from_toe": {"least_mm": 30},
        "tools": [{"number": "4", "shape": "round", "diameter_mm": 22}]
      }
    ]
  }
}
"""

RULE: Final = Rule(
    name="gauge-out-of-reach",
    title="a hole's gauge is out of the station's reach",
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
  leg a { hole 22 gauge 40 at 200 }
  leg b { hole 22 gauge 60 at 200 }
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
  leg a { hole 22 gauge 39.99 at 200 }   # <--
  leg b { hole 22 gauge 60.01 at 200 }   # <--
}
""",
        ),
    ),
)
