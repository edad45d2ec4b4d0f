"""The angle of an end is more than the saw, or the shear, can be swung.

What it checks: how far the cut of each end must be swung on the side where the leg lies, against
the range of the profile; and that a cut swung on one side at a time has no angle on both legs. It
is counted positive where the cut lies farther the way the bar travels at the toe, so that one
angle asks for another swing at the leading and at the trailing end; both ends are tried first.

Why: the cut would come out at another angle.

What to do: choose another machine, or list mitres as second work in the profile.

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
    "name": "Line 2",
    "angles": {},
    "cut_off": {
      "kind": "saw",
      "kerf_mm": 5,
      "angles": {
        "left": {"least_deg": -45, "most_deg": 45},
        "right": {"least_deg": -45, "most_deg": 45}
      }
    }
  }
}
"""

RULE: Final = Rule(
    name="cut-angle-out-of-range",
    title="an end's angle is more than the saw can be swung",
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
  mitre far 45deg from square, long at toe of leg a
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
  mitre far 46deg from square, long at toe of leg a   # <--
}
""",
        ),
    ),
)
