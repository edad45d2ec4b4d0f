"""An end is cut at an angle, and the shear only cuts square.

What it checks: the angle of each end on each leg, where the profile's shear names no angles.

Why: the shear would cut the end square.

What to do: saw the piece; or list mitres as second work in the profile, if the shop saws them
afterwards.

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
  "machine": {"name": "Line 1", "angles": {}, "cut_off": {"kind": "shear", "cut": "single"}}
}
"""

RULE: Final = Rule(
    name="mitre-on-square-shear",
    title="an end is mitred, the shear only cuts square",
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
  section L90x90x10
  length 400
  mitre far 15deg from square, long at toe of leg a   # <--
}
""",
        ),
    ),
)
