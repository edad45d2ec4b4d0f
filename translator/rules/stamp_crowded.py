"""A stamp lies too near to a hole or an end for the marker.

What it checks: from the letters to each hole, slot and opening of the leg and to both ends,
against what the profile asks for. The width of a letter is the profile's, 0.6 of its height
unless it says otherwise. A stamp that may move is not looked at.

Why: the wheel strikes into the hole and the letter is not there.

What to do: strike it by hand, or let the stamp move.

Reference: the machine's own profile; width of a letter: common practice, no source
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
    "stations": [
      {
        "name": "D1",
        "side": "both",
        "process": "drill",
        "tools": [{"number": "D4", "shape": "round", "diameter_mm": 22}]
      }
    ],
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
    name="stamp-crowded",
    title="a stamp is too near to a hole or an end for the marker",
    severity=Severity.NOTE,
    scope="machine",
    reference="the machine's own profile; width of a letter: common practice, no source",
    check=check,
    passing=(
        Example(
            machine=_MACHINE,
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { hole 22 gauge 50 at 200   stamp mark at 216 from heel 45 height 10 }
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
  leg a { hole 22 gauge 50 at 200   stamp mark at 215.99 from heel 45 height 10 }   # <--
}
""",
        ),
    ),
)
