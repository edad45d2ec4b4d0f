"""The piece is too long for the machine, or for the longest bar.

What it checks: the length of the piece against the greatest that the profile takes; against the
travel of the carriage where it can't take the bar again; and, with front trim, cut and the tail
that can't be fed, against the longest bar.

Why: what the carriage can't bring to the tools is not made, and a piece is never longer than its
bar.

What to do: choose another machine, or splice the piece as the engineer allows.

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
    "piece_length": {"most_mm": 8000},
    "stock_length": {"most_mm": 8000},
    "cut_off": {"kind": "saw", "kerf_mm": 5, "front_trim_mm": 15},
    "grip": {"tail_mm": 200, "travel_mm": 9000}
  }
}
"""

RULE: Final = Rule(
    name="piece-too-long",
    title="the piece is too long for the machine or its bars",
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
  length 7780
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
  length 8000.01        # <--
}
part A2 {
  section L90x90x10
  length 7780.01        # <--
}
""",
        ),
    ),
)
