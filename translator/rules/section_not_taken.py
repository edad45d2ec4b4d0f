"""The machine does not take the section.

What it checks: whether the profile takes angles, or flats, at all; and both legs of an angle, or
the width of a flat, against the least and greatest that it takes.

Why: rollers, clamps and grip are made for a range of sizes; outside of it the bar does not lie
still.

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
  "machine": {"name": "Line 1", "angles": {"leg": {"least_mm": 50, "most_mm": 90}}}
}
"""

RULE: Final = Rule(
    name="section-not-taken",
    title="the machine does not take the section",
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
  section L100x100x10   # <--
  length 400
}
part F1 {
  section FB 100x10     # <--
  length 400
}
""",
        ),
    ),
)
