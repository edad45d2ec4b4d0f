"""A stamp is struck by hand: nothing on the machine marks it.

What it checks: for each stamp, whether the machine has a marker on the side where its leg lies,
and one that can write across the bar where the stamp does.

Why: a piece without its mark is lost in the yard.

What to do: strike it by hand, or move the stamp to the other leg.

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
  "machine": {"name": "Line 1", "angles": {}, "marker": {"side": "left", "heights_mm": [10]}}
}
"""

RULE: Final = Rule(
    name="stamp-without-marker",
    title="a stamp is struck by hand",
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
  leg a { stamp mark at 200 from heel 40 height 10 }
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
  leg a { stamp mark at 200 from heel 40 height 10 }
  leg b { stamp mark at 200 from heel 40 height 10 }   # <--
}
""",
        ),
    ),
)
