"""The machine does not take the thickness of the steel.

What it checks: the thickness of the section against the least and greatest that the profile
takes.

Why: thicker steel is more than the machine was built for; thinner steel is bent by its clamps.

What to do: choose another machine.

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
  "machine": {"name": "Line 1", "angles": {"thickness": {"least_mm": 6, "most_mm": 10}}}
}
"""

RULE: Final = Rule(
    name="thickness-not-taken",
    title="the machine does not take the thickness",
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
  section L100x100x12   # <--
  length 400
}
part A2 {
  section L50x50x5      # <--
  length 400
}
""",
        ),
    ),
)
