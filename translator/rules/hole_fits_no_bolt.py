"""A hole is the hole of no bolt that is known here.

What it checks: plain through holes and slots from 6 mm to 45 mm wide for which no bolt and no
other purpose is stated, against the standard, customary and oversize holes of the code, each
taken as near as 0.05 mm.

Why: a slip in the size looks like any other size, and no limit of a bolt can be checked.

What to do: name the bolt (`holes 23mm bolt M20`), or say `rod` or `vent` where no bolt goes
through.

Reference: us: AISC 360 Tables J3.3 and J3.3M; eu: EN 1090-2 Table 11 and ISO 273 (in part from
memory)
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bolts import least_width, may_take_bolt
from translator.rules._facts import Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.bolts import INCH_BOLTS, METRIC_BOLTS, read_bolt
from translator.tables.holes import ROUNDING_MM

SMALLEST_MM: Final = 6.0
LARGEST_MM: Final = 45.0

_BOLTS_MM: Final = tuple(read_bolt(name).diameter.mm for name in INCH_BOLTS + METRIC_BOLTS)


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole and slot from whose size no bolt follows."""
    for leg, feature in facts.drilled:
        if feature.id in facts.bolts or not may_take_bolt(feature):
            continue
        width = least_width(feature)
        # One that is as wide as a bolt is told as such (hole-is-bolt-size).
        is_bolt = any(abs(bolt - width) <= ROUNDING_MM for bolt in _BOLTS_MM)
        if SMALLEST_MM <= width <= LARGEST_MM and not is_bolt:
            yield Violation(
                message=f"{named(feature)} is {facts.length(width)} wide, the hole of no bolt"
                " known here",
                element=path_of(leg, feature),
                value=width,
            )


RULE: Final = Rule(
    name="hole-fits-no-bolt",
    title="a hole is the hole of no known bolt",
    severity=Severity.NOTE,
    scope="part",
    reference="us: AISC 360 Tables J3.3 and J3.3M; eu: EN 1090-2 Table 11 and ISO 273 (in part from"
    " memory)",
    check=check,
    passing=(
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 600
  leg a {
    holes 22 gauge 50 at 60, 130
    holes 14 gauge 50 at 200               # M12 with 2 mm
    holes 21.5 gauge 50 at 270             # M20 of a tower
    holes 19.5 vent gauge 50 at 340
    holes 50 gauge 50 at 450
  }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 600
  leg a {
    holes 19.5 gauge 50 at 60              # <--
    slots 23.2 x 40 along leg gauge 50 at 200   # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
)
