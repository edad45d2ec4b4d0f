"""The piece is too short for the machine.

What it checks: the length of the piece against the least that the profile takes.

Why: a short piece tips between the rollers, or drops into the cut.

What to do: choose another machine, or make several in one length and part them afterwards.

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
  "machine": {"name": "Line 1", "angles": {}, "piece_length": {"least_mm": 150}}
}
"""

RULE: Final = Rule(
    name="piece-too-short",
    title="the piece is too short for the machine",
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
  length 150
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
  length 149.99          # <--
}
""",
        ),
    ),
)
