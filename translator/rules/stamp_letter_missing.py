"""The marker has not all letters of a stamp.

What it checks: each letter of the stamp, or of the piece mark where it has no text of its own,
against those of the marker. A blank is no letter.

Why: a mark that lacks a letter is another mark.

What to do: strike it by hand, or choose marks that the marker can write.

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
    name="stamp-letter-missing",
    title="the marker has not all letters of a stamp",
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
  leg a { stamp "TQ 7" at 200 from heel 40 height 10 }
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
  leg a { stamp "TQ-7" at 200 from heel 40 height 10 }   # <--
}
""",
        ),
    ),
)
