"""Hand work is left to do after the machine.

What it checks: what the machine does not make and the shop does afterwards: cope, clip, rounding,
notch or other outline, opening, countersink, tapping, reaming, scribed lines, what the part
itself asks for, and whatever else the profile lists.

Why: a piece with work left needs a place to go, and a person.

What to do: plan it; nothing is wrong.

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
  "machine": {"name": "Line 1", "angles": {}}
}
"""

RULE: Final = Rule(
    name="second-work-needed",
    title="hand work is left to do after the machine",
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
  leg a { cope start toe 60 long x 30 deep radius 10 }   # <--
}
""",
        ),
    ),
)
