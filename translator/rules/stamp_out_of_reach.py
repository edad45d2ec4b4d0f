"""A stamp lies outside the reach of the marker.

What it checks: the edge of the letters nearest to the heel against the range of the marker. A
stamp that may move is not looked at.

Why: the letters would stand elsewhere, perhaps under another piece.

What to do: strike it by hand, or let the stamp move.

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
    name="stamp-out-of-reach",
    title="a stamp is out of the marker's reach",
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
  leg a { stamp mark at 200 from heel 20 height 10 }
  leg b { stamp mark at 200 from heel 12 height 10 may move }
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
  leg a { stamp mark at 200 from heel 19.99 height 10 }   # <--
  leg b { stamp mark at 200 from heel 70.01 height 10 }   # <--
}
""",
        ),
    ),
)
