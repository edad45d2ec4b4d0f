"""A part needs hand work that is no second work of the machine.

What it checks: cuts of the outline (cope, clip, rounding, notch, any other outline), openings,
countersinks, tapping and reaming, which no machine profile here makes, against the list of second
work in the profile.

Why: a piece that comes off the line unfinished and is shipped as it is does not fit.

What to do: choose another machine; or list the work in the profile, if the shop does it.

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
  "machine": {"name": "Line 1", "angles": {}, "second_work": ["clip"]}
}
"""

RULE: Final = Rule(
    name="second-work-not-offered",
    title="hand work that the shop does not do after the machine",
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
  leg a { clip start toe 20 x 20 }
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
