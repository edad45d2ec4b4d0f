"""A hole lies on a leg that the machine can't work as the hole wants.

What it checks: for each hole and slot, whether a station on the side where its leg lies works in
the way the hole wants: a hole to be drilled needs a drill, one to be punched a punch, one that
does not go through a drill from outside. Both ends are tried first, and every way to lay the bar
that the profile allows; the best is reported. Where a hole may be sub-punched and reamed a drill
will do.

Why: many lines punch one leg and drill the other; turning the bar changes the legs' sides, yet
both legs may want the same side.

What to do: choose another machine, or ask whether the process may be changed.

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
    name="leg-process-mismatch",
    title="a leg lies where its holes can't be made as they want",
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
  leg a { holes 22 gauge 50 at 60, 340 drill only }
  leg b { holes 22 gauge 50 at 60, 340 }
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
  leg a { holes 22 gauge 50 at 60, 340 drill only }
  leg b { hole 22 gauge 50 at 60 drill only }   # <--
}
""",
        ),
    ),
)
