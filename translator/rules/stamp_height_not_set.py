"""The marker has no letters of a stamp's height.

What it checks: the height of each stamp against those of the marker, within the profile's
tolerance of sizes.

Why: letters of another height may not be read, or not fit.

What to do: strike it by hand, or choose a height that the marker has.

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
    "marker": {
      "side": "both",
      "heights_mm": [10],
      "characters": "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789",
      "from_heel": {"least_mm": 20, "most_mm": 70},
      "keep_out_mm": 5
    }
  }
}
"""

RULE: Final = Rule(
    name="stamp-height-not-set",
    title="the marker has no letters of a stamp's height",
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
  leg a { stamp mark at 200 from heel 40 height 10.05 }
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
  leg a { stamp mark at 200 from heel 40 height 10.06 }   # <--
}
""",
        ),
    ),
)
